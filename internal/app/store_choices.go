package app

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"railwright/internal/store/merge"
)

// blocks is a choices.toml as a table: one row a [[choice]], one column a key, the cells as they are
// written in TOML.
type blocks struct {
	head  string
	table merge.Table
}

var keyLine = regexp.MustCompile(`^([a-z_]+)\s*=\s*(\S.*?)\s*$`)

// readBlocks reads a choices.toml in the form that the tool writes: a head, then [[choice]] tables of one
// line a key. ok is false for any other, which is not joined row by row.
func readBlocks(data []byte) (b blocks, ok bool) {
	if data == nil {
		return b, true
	}
	var rows []map[string]string
	for _, l := range strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n") {
		t := strings.TrimSpace(l)
		m := keyLine.FindStringSubmatch(t)
		switch {
		case t == "[[choice]]":
			rows = append(rows, map[string]string{})
		case len(rows) == 0:
			if t != "" && !strings.HasPrefix(t, "#") && (m == nil || m[1] != "format") {
				return b, false
			}
			b.head += l + "\n"
		case t == "":
		case m == nil || strings.HasPrefix(m[2], `"""`) || strings.HasPrefix(m[2], "'''") || rows[len(rows)-1][m[1]] != "":
			return b, false
		default:
			rows[len(rows)-1][m[1]] = m[2]
			if !slices.Contains(b.table.Columns, m[1]) {
				b.table.Columns = append(b.table.Columns, m[1])
			}
		}
	}
	b.head = strings.TrimRight(b.head, "\n") + "\n"
	for _, r := range rows {
		row := merge.Row{ID: strings.ReplaceAll(r["subject"]+" "+r["property"], `"`, "")}
		if r["strength"] == `"forbidden"` { // of these there may be several
			row.ID += " not " + strings.ReplaceAll(r["value"], `"`, "")
		}
		for _, c := range b.table.Columns {
			row.Cells = append(row.Cells, r[c])
		}
		b.table.Rows = append(b.table.Rows, row)
	}
	return b, true
}

// encode writes the blocks in the form that the tool writes.
func (b blocks) encode() []byte {
	var s strings.Builder
	s.WriteString(b.head)
	for _, r := range b.table.Rows {
		s.WriteString("\n[[choice]]\n")
		for i, c := range b.table.Columns {
			if r.Cells[i] != "" {
				fmt.Fprintf(&s, "%s = %s\n", c, r.Cells[i])
			}
		}
	}
	return []byte(s.String())
}
