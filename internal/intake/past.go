package intake

import (
	"strings"

	"railwright/internal/project"
)

// Past is what a source said when it was imported before. It keeps cells and makes no signals of
// them: of a long list hardly a row is looked at closely.
type Past struct {
	n       int
	cell    func(i, column int) string // canonical text, "" = empty
	signals func() []project.Signal
	byID    map[string]int32
	byTag   map[string]int32 // where the tag is not the id
}

// PastOf is a past of signals.
func PastOf(signals []project.Signal) *Past {
	columns := project.Columns()
	p := &Past{n: len(signals), cell: func(i, column int) string { return columns[column].Format(&signals[i]) }, signals: func() []project.Signal { return signals }}
	p.index()
	return p
}

// PastRows is a past of rows that Rows wrote: heads are their headings, text gives the cell of row i
// in column c. Nothing is judged; a cell that cannot be read (somebody edited the file) is empty, and
// columns that are not canonical are passed over.
func PastRows(heads []string, n int, text func(i, c int) string) *Past {
	columns := project.Columns()
	at := make([]int, len(columns))
	for i := range at {
		at[i] = -1
	}
	for c, h := range heads {
		if i, ok := columnNo[h]; ok {
			at[i] = c
		}
	}
	raw := func(i, column int) string {
		if at[column] < 0 {
			return ""
		}
		return text(i, at[column])
	}
	p := &Past{n: n, cell: func(i, column int) string {
		t := raw(i, column)
		switch columns[column].Name {
		case "id", "tag": // every row's is looked at
			return strings.TrimSpace(t)
		}
		if t == "" {
			return ""
		}
		var s project.Signal
		columns[column].Parse(t, &s)
		return columns[column].Format(&s)
	}}
	p.signals = func() []project.Signal {
		rows := make([][]string, n)
		for i := range rows {
			rows[i] = make([]string, len(heads))
			for c := range heads {
				rows[i][c] = text(i, c)
			}
		}
		return Signals(heads, rows)
	}
	p.index()
	for i := range n {
		if raw(i, columnNo["redundant_with"]) != "" {
			return PastOf(p.signals()) // names of partners are resolved for all together
		}
	}
	return p
}

// id is the id of row i: that in the row, else its tag.
func (p *Past) id(i int) string {
	if id := p.cell(i, columnNo["id"]); id != "" {
		return id
	}
	return p.cell(i, columnNo["tag"])
}

func (p *Past) index() {
	p.byID, p.byTag = make(map[string]int32, p.n), map[string]int32{}
	for i := range p.n {
		id, tag := p.id(i), p.cell(i, columnNo["tag"])
		if id == "" {
			continue
		}
		p.byID[id] = int32(i)
		if tag != id {
			p.byTag[tag] = int32(i)
		}
	}
}

// Find returns the row of a signal by id, -1 where the source had none.
func (p *Past) Find(id string) int {
	if p == nil {
		return -1
	}
	if i, ok := p.byID[id]; ok {
		return int(i)
	}
	return -1
}

func (p *Past) findTag(tag string) int {
	if i, ok := p.byTag[tag]; ok {
		return int(i)
	}
	if i, ok := p.byID[tag]; ok && p.cell(int(i), columnNo["tag"]) == tag {
		return int(i)
	}
	return -1
}

// of returns the row that speaks of a signal of the project, which the incoming list may call by
// another tag; -1 where none does.
func (p *Past) of(mine, incoming *project.Signal) int {
	if p == nil {
		return -1
	}
	if i := p.Find(mine.ID); i >= 0 {
		return i
	}
	if i := p.findTag(incoming.Tag); i >= 0 {
		return i
	}
	return p.findTag(mine.Tag)
}

// closed is the past with the names of partners as own resolves them.
func (p *Past) closed(own map[string]string) *Past {
	if p == nil {
		return nil
	}
	list := p.signals()
	return PastOf(closePartners(list, own))
}

// partnered reports whether a row names partners.
func (p *Past) partnered() bool {
	if p == nil {
		return false
	}
	for i := range p.n {
		if p.cell(i, columnNo["redundant_with"]) != "" {
			return true
		}
	}
	return false
}
