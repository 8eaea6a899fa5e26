package merge

import (
	"slices"
	"strconv"
)

// Table is rows by id. Columns that a table does not have count as empty.
type Table struct {
	Columns []string
	Rows    []Row
}

// Row is one row: its id, which no edit changes, and one text for each column.
type Row struct {
	ID    string
	Cells []string
}

// Side is one of the two sides.
type Side int

// The sides.
const (
	Neither Side = iota
	Mine
	Theirs
)

// Other returns the other side.
func (s Side) Other() Side {
	switch s {
	case Mine:
		return Theirs
	case Theirs:
		return Mine
	}
	return Neither
}

// Conflict is a place that both sides touched. Where Removed is a side, that side took the row out and
// the other changed the cells in Changes; Column is "" then.
type Conflict struct {
	ID, Column         string
	Base, Mine, Theirs string
	Removed            Side
	Changes            []Change
}

// Change is one cell that one side changed.
type Change struct{ Column, From, To string }

// Decide says which side is right in a conflict; Neither leaves it open.
type Decide func(Conflict) Side

// Tables joins mine and theirs, which were both made from base. Every conflict is returned in the order
// of theirs and then mine; those that decide leaves open stand in the table as theirs has them, a row
// that theirs took out stays out. A nil decide leaves all open, and open counts them. Rows keep the
// order of the side that changed it, and of theirs where both did.
//
// Rows with one id twice are told apart by their order.
func Tables(base, mine, theirs Table, decide Decide) (out Table, all []Conflict, open int) {
	j := joiner{base: indexOf(base), mine: indexOf(mine), theirs: indexOf(theirs), decide: decide}
	j.columns = joinOrder(base.Columns, mine.Columns, theirs.Columns)
	out.Columns = j.columns
	for _, key := range joinOrder(j.base.order, j.mine.order, j.theirs.order) {
		if cells, ok := j.row(key); ok {
			out.Rows = append(out.Rows, Row{ID: key.id, Cells: cells})
		}
	}
	out.dropColumns(base, mine, theirs)
	return out, j.conflicts, j.open
}

// key names a row: its id, and which of the rows with that id it is.
type key struct {
	id string
	n  int
}

type index struct {
	order []key
	cells map[key]map[string]string
}

func indexOf(t Table) index {
	x := index{cells: map[key]map[string]string{}}
	seen := map[string]int{}
	for _, r := range t.Rows {
		k := key{r.ID, seen[r.ID]}
		seen[r.ID]++
		cells := map[string]string{}
		for i, c := range t.Columns {
			if i < len(r.Cells) && r.Cells[i] != "" {
				cells[c] = r.Cells[i]
			}
		}
		x.order = append(x.order, k)
		x.cells[k] = cells
	}
	return x
}

type joiner struct {
	base, mine, theirs index
	columns            []string
	decide             Decide
	conflicts          []Conflict
	open               int
}

// row joins one row; false where it is in none of the results.
func (j *joiner) row(k key) ([]string, bool) {
	b, inBase := j.base.cells[k]
	m, inMine := j.mine.cells[k]
	t, inTheirs := j.theirs.cells[k]
	switch {
	case inMine && inTheirs:
		return j.cells(k, b, m, t), true
	case !inBase && inMine:
		return j.listed(m), true
	case !inBase:
		return j.listed(t), true
	case inMine:
		return j.removed(k, b, m, Theirs)
	case inTheirs:
		return j.removed(k, b, t, Mine)
	}
	return nil, false
}

// cells joins a row that both sides have; of one that both added, the cells of base are empty.
func (j *joiner) cells(k key, b, m, t map[string]string) []string {
	out := make([]string, len(j.columns))
	for i, c := range j.columns {
		switch {
		case m[c] == t[c] || t[c] == b[c]:
			out[i] = m[c]
		case m[c] == b[c]:
			out[i] = t[c]
		default:
			out[i] = t[c]
			if j.conflict(Conflict{ID: k.name(), Column: c, Base: b[c], Mine: m[c], Theirs: t[c]}) == Mine {
				out[i] = m[c]
			}
		}
	}
	return out
}

// removed joins a row that one side took out; now is what the other made of it.
func (j *joiner) removed(k key, b, now map[string]string, by Side) ([]string, bool) {
	changed := changes(j.columns, b, now)
	if len(changed) == 0 {
		return nil, false
	}
	right := j.conflict(Conflict{ID: k.name(), Removed: by, Changes: changed})
	if right == Neither {
		right = Theirs
	}
	if right == by {
		return nil, false
	}
	return j.listed(now), true
}

func (j *joiner) conflict(c Conflict) Side {
	right := Neither
	if j.decide != nil {
		right = j.decide(c)
	}
	j.conflicts = append(j.conflicts, c)
	if right == Neither {
		j.open++
	}
	return right
}

func (j *joiner) listed(cells map[string]string) []string {
	out := make([]string, len(j.columns))
	for i, c := range j.columns {
		out[i] = cells[c]
	}
	return out
}

func (k key) name() string {
	if k.n == 0 {
		return k.id
	}
	return k.id + " (" + strconv.Itoa(k.n+1) + ")"
}

// dropColumns takes out the columns that a side took out, unless a cell of theirs is filled.
func (t *Table) dropColumns(base, mine, theirs Table) {
	for i := len(t.Columns) - 1; i >= 0; i-- {
		c := t.Columns[i]
		gone := slices.Contains(base.Columns, c) && !(slices.Contains(mine.Columns, c) && slices.Contains(theirs.Columns, c))
		if !gone || slices.ContainsFunc(t.Rows, func(r Row) bool { return r.Cells[i] != "" }) {
			continue
		}
		t.Columns = slices.Delete(slices.Clone(t.Columns), i, i+1)
		for r := range t.Rows {
			t.Rows[r].Cells = slices.Delete(t.Rows[r].Cells, i, i+1)
		}
	}
}

// joinOrder returns all items: in the order of theirs, or of mine where only mine changed it, with the
// items that only the other side has behind their predecessors there.
func joinOrder[K comparable](base, mine, theirs []K) []K {
	lead, other := theirs, mine
	if slices.Equal(common(theirs, base), common(base, theirs)) {
		lead, other = mine, theirs
	}
	in := map[K]bool{}
	for _, k := range lead {
		in[k] = true
	}
	behind := map[K][]K{} // what comes behind an item of lead
	var first []K
	var last *K
	for i, k := range other {
		switch {
		case in[k]:
			last = &other[i]
		case last == nil:
			first = append(first, k)
		default:
			behind[*last] = append(behind[*last], k)
		}
	}
	out := slices.Clone(first)
	for _, k := range lead {
		out = append(append(out, k), behind[k]...)
	}
	have := map[K]bool{}
	for _, k := range out {
		have[k] = true
	}
	for _, k := range base { // items that both sides took out take part, for the caller to drop
		if !have[k] {
			out = append(out, k)
		}
	}
	return out
}

// common returns the items of a that b has too, in the order of a.
func common[K comparable](a, b []K) []K {
	in := map[K]bool{}
	for _, k := range b {
		in[k] = true
	}
	var out []K
	for _, k := range a {
		if in[k] {
			out = append(out, k)
		}
	}
	return out
}
