package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// ChangeKind says what happens to a signal.
type ChangeKind string

// The kinds of changes.
const (
	Added   ChangeKind = "added"
	Changed ChangeKind = "changed" // one or more cells; a new tag of a signal with the same id is one of them
	Removed ChangeKind = "removed"
	Renamed ChangeKind = "renamed" // asked: a new signal that is like one that is gone
)

// CellChange is one cell that changes.
type CellChange struct {
	Column   string
	Old      string // in the project now
	New      string // in the incoming list
	Base     string // in the list imported before; "" without one
	Conflict bool   // both sides changed it, differently
	Take     bool   // the incoming value is to be taken
}

// Change is one signal that changes. Take says whether Apply makes the change; Compare sets what is
// safe, a person decides the rest.
type Change struct {
	Kind     ChangeKind
	ID       string // of the project's signal; of the new one where it is added
	Tag      string
	NewTag   string // of the incoming signal, for a rename
	Cells    []CellChange
	Likeness float64 // of a rename that is asked, 0 to 1
	Take     bool

	incoming int  // in the incoming list, -1 for none
	safe     bool // of a rename: without it, the list may take the signal out
}

// Settle answers the question of a rename: whether change i, of kind Renamed, is the same signal
// under a new name. If it is not, the old signal is treated as gone and the new one as added.
func (p *Preview) Settle(i int, same bool) {
	c := &p.Changes[i]
	c.Take = same
	for n := range p.Changes {
		if o := &p.Changes[n]; o.Kind == Removed && o.ID == c.ID {
			o.Take = !same && c.safe
		}
	}
}

// Preview is what an incoming list would change, signal by signal: changed and removed ones in the
// project's order, then added ones in the list's order.
type Preview struct {
	Changes  []Change
	Same     int // signals without a change
	Findings finding.List

	incoming []project.Signal
	match    []int    // of incoming: index in the project, -1
	mineIDs  []string // the project's ids, in its order
}

// Count returns how many changes are of a kind.
func (p *Preview) Count(k ChangeKind) int {
	n := 0
	for _, c := range p.Changes {
		if c.Kind == k {
			n++
		}
	}
	return n
}

// Compare compares an incoming list with the project's. base is what the same source said when it
// was imported before, nil where that is not known. With a base the comparison is three-way: only
// what the source has changed since is a change, and what both sides changed differently is a
// conflict, which keeps the project's value unless a person takes the other one. Without a base,
// signals that the incoming list lacks are not taken out by themselves, and an empty cell of a
// foreign list changes nothing.
//
// Signals are matched by id, then by tag, then by likeness of tag and description; the last is only
// asked (Kind Renamed, Take false). The signals must come from Read or from the project.
func Compare(base, mine, incoming []project.Signal) *Preview {
	if base == nil {
		return CompareWith(nil, mine, incoming)
	}
	return CompareWith(PastOf(base), mine, incoming)
}

// CompareWith is Compare with a past that is kept as cells; nil is none.
func CompareWith(base *Past, mine, incoming []project.Signal) *Preview {
	c := comparison{base: base, mine: mine, incoming: incoming, match: make([]int, len(incoming)), taken: make([]int, len(mine))}
	c.pair()
	c.partners()
	mine, incoming = c.mine, c.incoming
	p := &Preview{incoming: incoming, match: c.match, mineIDs: make([]string, len(mine))}
	for i := range mine {
		p.mineIDs[i] = mine[i].ID
	}
	p.Changes = make([]Change, 0, max(16, len(incoming)-len(mine)))
	for i := range mine {
		j := c.taken[i]
		if j < 0 {
			if c.gone(i) {
				p.Changes = append(p.Changes, Change{Kind: Removed, ID: mine[i].ID, Tag: mine[i].Tag, incoming: -1, Take: c.untouched(i)})
			} else {
				p.Same++
			}
			continue
		}
		cells := c.compareCells(c.base.of(&mine[i], &incoming[j]), &mine[i], &incoming[j])
		if len(cells) == 0 {
			p.Same++
			continue
		}
		p.Changes = append(p.Changes, Change{Kind: Changed, ID: mine[i].ID, Tag: mine[i].Tag, NewTag: incoming[j].Tag, Cells: cells, incoming: j, Take: true})
	}
	asked := c.likely(p)
	for j := range incoming {
		if c.match[j] >= 0 {
			continue
		}
		p.Changes = append(p.Changes, Change{Kind: Added, ID: incoming[j].ID, Tag: incoming[j].Tag, incoming: j, Take: true})
	}
	p.Changes = append(p.Changes, asked...)
	p.report()
	return p
}

// comparison pairs the signals of two lists.
type comparison struct {
	base           *Past
	mine, incoming []project.Signal
	match          []int // of incoming: index in mine, -1
	taken          []int // of mine: index in incoming, -1
}

func (c *comparison) pair() {
	for i := range c.taken {
		c.taken[i] = -1
	}
	for j := range c.match {
		c.match[j] = -1
	}
	join := func(key func(s *project.Signal) string, mineKey func(s *project.Signal) string) {
		at := map[string]int{}
		for i := range c.mine {
			if k := mineKey(&c.mine[i]); k != "" && c.taken[i] < 0 {
				at[k] = i
			}
		}
		for j := range c.incoming {
			k := key(&c.incoming[j])
			if i, ok := at[k]; ok && k != "" && c.match[j] < 0 && c.taken[i] < 0 {
				c.match[j], c.taken[i] = i, j
			}
		}
	}
	id := func(s *project.Signal) string { return s.ID }
	stated := func(s *project.Signal) string { // an id that stands in the list, not one made from the tag
		if s.At.Columns["id"] != "" || s.ID != s.Tag {
			return s.ID
		}
		return ""
	}
	tag := func(s *project.Signal) string { return s.Tag }
	folded := func(s *project.Signal) string { return strings.ReplaceAll(fold(s.Tag), " ", "") }
	join(stated, id)
	join(tag, tag)
	join(tag, id) // a department that still uses the tag a signal once had
	c.uniquely(folded)
	c.uniquely(func(s *project.Signal) string { // still without a tag: the provisional one is made of a row number
		if !provisional(s.Tag) || s.Description == "" {
			return ""
		}
		return strings.Join([]string{fold(s.Description), string(s.Kind), s.Place, s.Equipment}, "|")
	})
}

// provisional reports whether a tag is one that the reader gave a signal without one.
func provisional(tag string) bool { return strings.HasPrefix(tag, "OPEN-") }

// partners brings redundant_with of both lists, and of the base, into one form: ids of the project,
// both ways.
func (c *comparison) partners() {
	if !partnered(c.mine) && !partnered(c.incoming) && !c.base.partnered() {
		return
	}
	ids := map[string]string{} // "t"+tag and "i"+id to the project's id
	for i := range c.mine {
		ids["t"+c.mine[i].Tag], ids["i"+c.mine[i].ID] = c.mine[i].ID, c.mine[i].ID
	}
	c.mine = closePartners(c.mine, ids)
	own := map[string]string{}
	for j := range c.incoming {
		id := c.incoming[j].ID
		if c.match[j] >= 0 {
			id = c.mine[c.match[j]].ID
		}
		own["t"+c.incoming[j].Tag], own["i"+c.incoming[j].ID] = id, id
	}
	for k, id := range ids {
		if own[k] == "" {
			own[k] = id
		}
	}
	c.incoming = closePartners(c.incoming, own)
	c.base = c.base.closed(own)
}

func partnered(list []project.Signal) bool {
	for i := range list {
		if len(list[i].RedundantWith) > 0 {
			return true
		}
	}
	return false
}

// uniquely pairs by a key that is the same for one signal on each side only: "PT 101" and "PT-101".
func (c *comparison) uniquely(key func(s *project.Signal) string) {
	if !slices.Contains(c.taken, -1) || !slices.Contains(c.match, -1) {
		return
	}
	count := map[string]int{}
	at := map[string]int{}
	for i := range c.mine {
		if c.taken[i] < 0 {
			count[key(&c.mine[i])]++
			at[key(&c.mine[i])] = i
		}
	}
	seen := map[string]int{}
	for j := range c.incoming {
		if c.match[j] < 0 {
			seen[key(&c.incoming[j])]++
		}
	}
	for j := range c.incoming {
		k := key(&c.incoming[j])
		if c.match[j] < 0 && k != "" && count[k] == 1 && seen[k] == 1 {
			c.match[j], c.taken[at[k]] = at[k], j
		}
	}
}

// gone reports whether the absence of a signal of the project means anything: it stood in the base,
// or there is no base.
func (c *comparison) gone(i int) bool { return c.base == nil || c.base.of(&c.mine[i], &c.mine[i]) >= 0 }

// untouched reports whether the project still has what the source once said, so that the source may
// take it out.
func (c *comparison) untouched(i int) bool {
	b := c.base.of(&c.mine[i], &c.mine[i])
	if b < 0 {
		return false
	}
	for n, col := range project.Columns() {
		if said := c.base.cell(b, n); col.Name != "id" && said != "" && said != col.Format(&c.mine[i]) {
			return false
		}
	}
	return true
}

// compareCells compares the cells that the incoming list speaks of.
func (c *comparison) compareCells(base int, mine, incoming *project.Signal) []CellChange {
	var out []CellChange
	for n, col := range project.Columns() {
		if col.Name == "id" {
			continue
		}
		m, t := col.Format(mine), col.Format(incoming)
		if m == t {
			continue
		}
		b := ""
		if base >= 0 {
			b = c.base.cell(base, n)
		}
		spoken := incoming.At.Columns[col.Name] != "" || incoming.At.Row == 0
		switch {
		case col.Name == "tag" && provisional(m) && provisional(t):
			continue // the row has moved
		case t == "" && col.Required: // what every signal must have is not taken away
			continue
		case !spoken && (base < 0 || b == "" || t != ""):
			continue // assumed by the reader or not part of that list
		case base >= 0 && t == b:
			continue // the source has not changed it; the project has
		}
		ch := CellChange{Column: col.Name, Old: m, New: t, Base: b, Take: true}
		if base >= 0 && m != b {
			ch.Conflict, ch.Take = true, false
		}
		out = append(out, ch)
	}
	return out
}

// Apply makes the changes that are to be taken and returns the new list: the project's signals in
// their order, then the added ones. ids never change and are never reused.
func (p *Preview) Apply(mine []project.Signal) []project.Signal {
	byID := map[string]*Change{}
	gone := map[string]bool{}
	skip := map[int]bool{}
	for i := range p.Changes {
		c := &p.Changes[i]
		switch {
		case !c.Take:
		case c.Kind == Removed:
			gone[c.ID] = true
		case c.Kind == Renamed:
			skip[c.incoming] = true
			byID[c.ID] = c
		case c.Kind == Changed:
			byID[c.ID] = c
		}
	}
	for id, c := range byID {
		if c.Kind == Renamed {
			delete(gone, id)
		}
	}
	used := map[string]struct{}{}
	var out []project.Signal
	for _, s := range mine {
		used[s.ID] = struct{}{}
		c := byID[s.ID]
		if c == nil {
			if !gone[s.ID] {
				out = append(out, s)
			}
			continue
		}
		for _, cell := range c.Cells {
			if cell.Take {
				project.ColumnNamed(cell.Column).Parse(cell.New, &s)
			}
		}
		out = append(out, s)
	}
	for _, c := range p.Changes {
		if c.Kind != Added || !c.Take || skip[c.incoming] {
			continue
		}
		s := p.incoming[c.incoming]
		s.ID = p.newID(c.incoming, used)
		used[s.ID] = struct{}{}
		out = append(out, s)
	}
	return out
}

// report makes findings of what must be asked.
func (p *Preview) report() {
	for _, c := range p.Changes {
		var at finding.Where
		if c.incoming >= 0 {
			if w := p.incoming[c.incoming].At.Where("tag"); w != nil {
				at = *w
			}
		}
		switch {
		case c.Kind == Renamed:
			p.Findings = append(p.Findings, problem("IMP-080", finding.Warning, at, "signal:"+c.ID,
				fmt.Sprintf("%s is new and much like %s, which the list no longer has (likeness %.2f); it is taken as new unless you say that it is the same signal", c.NewTag, c.Tag, c.Likeness), "Say whether the signal was renamed."))
		case c.Kind == Changed:
			for _, cell := range c.Cells {
				if cell.Conflict {
					p.Findings = append(p.Findings, problem("IMP-081", finding.Warning, at, "signal:"+c.ID,
						fmt.Sprintf("%s of %s was %s when imported, is %s in the project and %s in the list; the project's value is kept unless you take the list's", cell.Column, c.Tag, quoted(cell.Base), quoted(cell.Old), quoted(cell.New)), "Choose one."))
				}
			}
		}
	}
	p.Findings.Sort()
}

// likely finds new signals that are like ones that are gone, best pairs first.
func (c *comparison) likely(p *Preview) []Change {
	var olds []int
	for i := range p.Changes {
		if p.Changes[i].Kind == Removed {
			olds = append(olds, i)
		}
	}
	var news []int
	for j := range c.incoming {
		if c.match[j] < 0 {
			news = append(news, j)
		}
	}
	if len(olds) == 0 || len(news) == 0 || len(olds)*len(news) > 4_000_000 {
		return nil
	}
	at := map[string]int{}
	for i := range c.mine {
		at[c.mine[i].ID] = i
	}
	type pair struct {
		old, inc int
		like     float64
	}
	var pairs []pair
	for _, o := range olds {
		m := &c.mine[at[p.Changes[o].ID]]
		for _, j := range news {
			if l := likeness(m, &c.incoming[j]); l >= 0.6 {
				pairs = append(pairs, pair{o, j, l})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(b.like, a.like), cmp.Compare(a.old, b.old), cmp.Compare(a.inc, b.inc))
	})
	usedOld, usedNew := map[int]bool{}, map[int]bool{}
	var out []Change
	for _, pr := range pairs {
		if usedOld[pr.old] || usedNew[pr.inc] {
			continue
		}
		usedOld[pr.old], usedNew[pr.inc] = true, true
		safe := p.Changes[pr.old].Take
		p.Changes[pr.old].Take = false // not before the question is answered
		rm := p.Changes[pr.old]
		m := &c.mine[at[rm.ID]]
		cells := c.compareCells(c.base.of(m, m), m, &c.incoming[pr.inc])
		out = append(out, Change{Kind: Renamed, ID: rm.ID, Tag: rm.Tag, NewTag: c.incoming[pr.inc].Tag, Cells: cells, Likeness: pr.like, incoming: pr.inc, safe: safe})
	}
	return out
}

// likeness of two signals, from 0 to 1: half the tag, half the description, less where the kind
// differs.
func likeness(a, b *project.Signal) float64 {
	tag := alike(fold(a.Tag), fold(b.Tag))
	l := tag
	if a.Description != "" && b.Description != "" {
		l = 0.5*tag + 0.5*alike(fold(a.Description), fold(b.Description))
	}
	if a.Kind != b.Kind {
		l *= 0.6
	}
	return l
}

// alike is the share of letter pairs that two texts have in common (Dice's coefficient).
func alike(a, b string) float64 {
	if a == b {
		return 1
	}
	if len(a) < 2 || len(b) < 2 {
		return 0
	}
	count := map[string]int{}
	for i := 0; i+1 < len(a); i++ {
		count[a[i:i+2]]++
	}
	both := 0
	for i := 0; i+1 < len(b); i++ {
		if count[b[i:i+2]] > 0 {
			count[b[i:i+2]]--
			both++
		}
	}
	return 2 * float64(both) / float64(len(a)+len(b)-2)
}

// Rows returns a list in the canonical columns, for the issued list: headings and one row a signal.
func Rows(signals []project.Signal) (heads []string, rows [][]string) {
	cols := project.Columns()
	for _, c := range cols {
		heads = append(heads, c.Name)
	}
	for i := range signals {
		row := make([]string, len(cols))
		for n, c := range cols {
			row[n] = c.Format(&signals[i])
		}
		rows = append(rows, row)
	}
	return heads, rows
}
