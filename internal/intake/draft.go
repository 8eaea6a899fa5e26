package intake

import (
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// columnNo numbers the canonical columns.
var columnNo = func() map[string]int {
	m := map[string]int{}
	for i, c := range project.Columns() {
		m[c.Name] = i
	}
	return m
}()

const canonicalCount = 48 // at least as many as there are canonical columns

// draft is a signal on its way: canonical cells as text, with the column each came from.
type draft struct {
	vals [canonicalCount]string
	from [canonicalCount]int16 // column of the list + 1; 0 = none

	sheet, row int
	tagCol     int    // column of the tag, -1 if none
	fn         string // part of the device that the row speaks of
	base       string // tag as it stands in the list
	open       bool   // the tag is a placeholder
	notes      []string
	holds      []string
	rack       string
	slot       string
	channel    string
	address    string
	station    string
	panel      string
	posCol     int
	revised    string // row revision
	raw        string // the row's cells, to tell whether two rows say the same
	dropped    bool
	ours       bool // a row of a canonical list, taken as it is
	noRange    bool // the row's range is that of another signal of the row
	faults     []string
}

func (d *draft) set(column, text string, col int) {
	if text == "" {
		return
	}
	i := columnNo[column]
	d.vals[i] = text
	d.from[i] = int16(col + 1)
}

func (d *draft) get(column string) string { return d.vals[columnNo[column]] }

// fill sets a column that is still empty.
func (d *draft) fill(column, text string, col int) {
	if d.get(column) == "" {
		d.set(column, text, col)
	}
}

func (d *draft) remark(text string) {
	if text = tidy(text); text == "" {
		return
	}
	for _, n := range d.notes {
		if n == text {
			return
		}
	}
	d.notes = append(d.notes, text)
}

func (d *draft) hold(text string) {
	for _, h := range d.holds {
		if h == text {
			return
		}
	}
	d.holds = append(d.holds, text)
}

// at is the spot of the column's cell, or of the row's first cell.
func (d *draft) at(r *reader, column string) finding.Where {
	col := d.tagCol
	if column != "" {
		if c := d.from[columnNo[column]]; c > 0 {
			col = int(c) - 1
		}
	}
	return r.at(d.sheet, address(d.row, max(col, 0)))
}

func (d *draft) subject() string {
	switch {
	case d.get("id") != "":
		return "signal:" + d.get("id")
	case d.get("tag") != "":
		return "signal:" + d.get("tag")
	}
	return "project"
}

// position returns where the row was read, for the project's messages.
func (d *draft) position(r *reader) project.At {
	at := project.At{File: r.book.File, Sheet: r.book.Sheets[d.sheet].Name, Row: d.row + 1, Columns: r.letters[d.from]}
	if at.Columns != nil && at.Columns["tag"] != "" {
		return at
	}
	at.Columns = map[string]string{}
	defer func() { r.letters[d.from] = at.Columns }()
	for i, c := range project.Columns() {
		if d.from[i] > 0 {
			at.Columns[c.Name] = strings.TrimSuffix(address(0, int(d.from[i])-1), "1")
		}
	}
	if at.Columns["tag"] == "" && d.tagCol >= 0 {
		at.Columns["tag"] = strings.TrimSuffix(address(0, d.tagCol), "1")
	}
	return at
}

// nameText makes a text fit to be a name: no commas or semicolons, not too long.
func nameText(s string) string {
	if strings.ContainsAny(s, ",;") {
		s = nameDirt.Replace(s)
	}
	s = strings.TrimSpace(s)
	if r := []rune(s); len(r) > project.MaxName {
		s = strings.TrimSpace(string(r[:project.MaxName]))
	}
	return s
}

var nameDirt = strings.NewReplacer(", ", " ", "; ", " ", ",", ".", ";", ".")
