package intake

import (
	"slices"
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

// draftCell is one filled canonical cell of a draft.
type draftCell struct {
	text string
	from int16 // column of the list + 1; 0 = none
	no   uint8 // of the canonical column
}

// draft is a signal on its way: its filled canonical cells, with the column each came from. A row
// fills a dozen of them, so they are kept as a short list.
type draft struct {
	cells []draftCell

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
	kind       string // once the draft is a signal
	posCol     int
	revised    string // row revision
	raw        string // the row's cells, to tell whether two rows say the same
	dropped    bool
	ours       bool // a row of a canonical list, taken as it is
	noRange    bool // the row's range is that of another signal of the row
	faults     []string
}

func (d *draft) set(column, text string, col int) {
	if text != "" {
		d.put(columnNo[column], text, int16(col+1))
	}
}

func (d *draft) put(no int, text string, from int16) {
	for i := range d.cells {
		if int(d.cells[i].no) == no {
			d.cells[i].text, d.cells[i].from = text, from
			return
		}
	}
	d.cells = append(d.cells, draftCell{text, from, uint8(no)})
}

func (d *draft) get(column string) string { return d.cell(columnNo[column]) }

func (d *draft) cell(no int) string {
	for i := range d.cells {
		if int(d.cells[i].no) == no {
			return d.cells[i].text
		}
	}
	return ""
}

// fromOf is the column of the list, from 0, that a canonical cell came from; -1 where it has none.
func (d *draft) fromOf(column string) int {
	no := columnNo[column]
	for i := range d.cells {
		if int(d.cells[i].no) == no {
			return int(d.cells[i].from) - 1
		}
	}
	return -1
}

// clone copies a draft for another signal of the same row.
func (d *draft) clone() *draft {
	c := *d
	c.cells = append(make([]draftCell, 0, len(d.cells)+2), d.cells...)
	c.notes, c.holds = slices.Clone(d.notes), slices.Clone(d.holds)
	return &c
}

// sameCells reports whether two drafts say the same in every column.
func (d *draft) sameCells(o *draft) bool {
	for no := range canonicalCount {
		if d.cell(no) != o.cell(no) {
			return false
		}
	}
	return true
}

// newDraft begins a draft. Its cells are gathered in a place that the next row's take again; keep
// moves them.
func (r *reader) newDraft(sheet, row int) *draft {
	return &draft{cells: r.scratch[:0], sheet: sheet, row: row, tagCol: -1, posCol: -1}
}

// keep takes a finished draft over, with its cells in a block that many share.
func (r *reader) keep(d *draft) {
	if len(r.scratch) < len(d.cells) {
		r.scratch = make([]draftCell, 2*len(d.cells))
	}
	if len(r.block)+len(d.cells) > cap(r.block) {
		r.block = make([]draftCell, 0, 4096)
	}
	n := len(r.block)
	r.block = append(r.block, d.cells...)
	d.cells = r.block[n:len(r.block):len(r.block)]
	r.drafts = append(r.drafts, d)
}

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
		if c := d.fromOf(column); c >= 0 {
			col = c
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
	var from [canonicalCount]int16
	for _, c := range d.cells {
		from[c.no] = c.from
	}
	at := project.At{File: r.book.File, Sheet: r.book.Sheets[d.sheet].Name, Row: d.row + 1, Columns: r.letters[from]}
	if at.Columns != nil && at.Columns["tag"] != "" {
		return at
	}
	at.Columns = map[string]string{}
	defer func() { r.letters[from] = at.Columns }()
	for i, c := range project.Columns() {
		if from[i] > 0 {
			at.Columns[c.Name] = strings.TrimSuffix(address(0, int(from[i])-1), "1")
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
