package plan

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/project"
)

// issued notes at which revision each row of the list was last changed: a row that states the same as
// at the design accepted before keeps its revision, any other takes the project's.
func issued(p *project.Project, previous *design.Design) []design.IssuedRow {
	before := map[string]design.IssuedRow{}
	if previous != nil {
		for _, r := range previous.Issued {
			before[r.Signal] = r
		}
	}
	rows := make([]design.IssuedRow, len(p.Signals))
	for i := range p.Signals {
		s := &p.Signals[i]
		rows[i] = design.IssuedRow{Signal: s.ID, Revision: p.Revision, SHA256: rowSum(s)}
		if old, ok := before[s.ID]; ok && old.SHA256 == rows[i].SHA256 {
			rows[i].Revision = old.Revision
		}
	}
	slices.SortFunc(rows, func(a, b design.IssuedRow) int { return strings.Compare(a.Signal, b.Signal) })
	return rows
}

// rowSum is the hash of what a row states. Empty columns are left out, so that a column which a later
// version adds does not make every row a changed one.
func rowSum(s *project.Signal) string {
	h := sha256.New()
	for _, c := range project.Columns() {
		if cell := c.Format(s); cell != "" {
			h.Write([]byte(c.Name + "\x00" + cell + "\x00"))
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}
