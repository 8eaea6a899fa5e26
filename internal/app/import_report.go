package app

import (
	"errors"
	"os"
	"path/filepath"
	"slices"

	"railwright/internal/finding"
	"railwright/internal/intake"
)

// ImportReport is an import for machines: how the list was understood, what it changes, what was
// written.
type ImportReport struct {
	Format   string           `json:"format"` // "railwright-import/1"
	File     string           `json:"file"`
	Into     string           `json:"into"`
	Source   string           `json:"source"`
	Before   bool             `json:"imported_before"`
	Issued   bool             `json:"issued_list"`
	Rows     int              `json:"rows"`
	Signals  int              `json:"signals"`
	LeftOut  int              `json:"left_out"`
	Rejected []ImportRejected `json:"rejected"`
	Columns  []ImportColumn   `json:"columns"`

	Same      int            `json:"same"`
	Stay      int            `json:"not_in_list"`
	Changes   []ImportChange `json:"changes"`
	Questions int            `json:"questions"`
	Positions int            `json:"positions"`
	NewPlaces []string       `json:"new_places"`

	Counts   map[string]int `json:"counts"`
	Findings finding.List   `json:"findings"`
	Written  []string       `json:"written"` // empty: nothing was written
}

// ImportRejected is a row that gave no signal because of a fault.
type ImportRejected struct {
	Sheet string   `json:"sheet"`
	Row   int      `json:"row"`
	Cells []string `json:"cells"`
	Why   []string `json:"why"`
}

// ImportColumn says how a column of the list was read.
type ImportColumn struct {
	Sheet      string  `json:"sheet"`
	Column     string  `json:"column"`
	Heading    string  `json:"heading"`
	ReadAs     string  `json:"read_as"` // canonical column or role; "" = not used
	Confidence float64 `json:"confidence"`
	From       string  `json:"from"`
}

// ImportChange is one signal that the list changes.
type ImportChange struct {
	Change   string             `json:"change"` // added, changed, removed, renamed
	ID       string             `json:"id"`
	Tag      string             `json:"tag"`
	NewTag   string             `json:"new_tag"`
	Sheet    string             `json:"sheet"`
	Row      int                `json:"row"`      // of the list, 0 = none
	Revision string             `json:"revision"` // of the row, as the list has it
	Question bool               `json:"question"` // a person has to decide
	Taken    bool               `json:"taken"`
	Likeness float64            `json:"likeness"` // of a rename
	Cells    []ImportCellChange `json:"cells"`
}

// ImportCellChange is one cell that changes.
type ImportCellChange struct {
	Column   string `json:"column"`
	Project  string `json:"project"`
	List     string `json:"list"`
	Before   string `json:"before"` // what the list said last
	Conflict bool   `json:"conflict"`
	Taken    bool   `json:"taken"`
}

// Report returns the import as it stands.
func (m *Import) Report() *ImportReport {
	r := &ImportReport{
		Format: "railwright-import/1", File: m.File, Into: m.Into, Source: m.Source, Before: m.Before, Issued: m.Result.Ours,
		Rows: m.Result.Rows, Signals: m.Signals, LeftOut: m.Result.LeftOut, Rejected: []ImportRejected{}, Columns: []ImportColumn{},
		Same: m.Preview.Same, Stay: m.Stay, Changes: []ImportChange{}, Questions: len(m.Questions()), Positions: m.Positions,
		NewPlaces: slices.Clone(m.NewPlaces), Findings: m.Findings, Written: slices.Clone(m.Written),
		Counts: map[string]int{
			string(finding.Error): m.Findings.Count(finding.Error), string(finding.Warning): m.Findings.Count(finding.Warning), string(finding.Info): m.Findings.Count(finding.Info),
		},
	}
	for _, x := range m.Result.Rejected {
		r.Rejected = append(r.Rejected, ImportRejected(x))
	}
	for _, c := range m.Result.Columns {
		r.Columns = append(r.Columns, ImportColumn{c.Sheet, c.Column, c.Heading, c.Meaning, c.Confidence, c.How})
	}
	for i := range m.Preview.Changes {
		r.Changes = append(r.Changes, m.change(i))
	}
	return r
}

func (m *Import) change(i int) ImportChange {
	c := &m.Preview.Changes[i]
	out := ImportChange{Change: string(c.Kind), ID: c.ID, Tag: c.Tag, NewTag: c.NewTag, Question: m.Asks(i), Taken: c.Take, Likeness: c.Likeness, Cells: []ImportCellChange{}, Revision: m.Revision(c)}
	if j := c.Incoming(); j >= 0 {
		at := m.Result.Signals[j].At
		out.Sheet, out.Row = at.Sheet, at.Row
	}
	for _, x := range c.Cells {
		out.Cells = append(out.Cells, ImportCellChange{x.Column, x.Old, x.New, x.Base, x.Conflict, x.Take})
	}
	return out
}

// Revision is the row revision that the list gives a changed signal, "" where it gives none.
func (m *Import) Revision(c *intake.Change) string {
	if c.Incoming() < 0 {
		return ""
	}
	return m.Result.Revision(c.Incoming())
}

// WriteFile writes a file whole: beside its place first, then renamed.
func WriteFile(path string, data []byte) error {
	temp, err := os.CreateTemp(filepath.Dir(path), ".writing-*")
	if err != nil {
		return outFault(path, err)
	}
	defer os.Remove(temp.Name()) // no effect once it is renamed
	_, err = temp.Write(data)
	if err = errors.Join(err, temp.Chmod(0o644), temp.Sync(), temp.Close()); err != nil {
		return outFault(path, err)
	}
	if err := os.Rename(temp.Name(), path); err != nil {
		return outFault(path, err)
	}
	return nil
}
