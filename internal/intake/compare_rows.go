package intake

import (
	"iter"
	"slices"
	"strconv"

	"railwright/internal/project"
)

// Signals reads back what Rows wrote: every cell into its column, nothing assumed, nothing judged.
// It is for what a source said before; a cell that cannot be read (somebody edited the file) is empty.
// Columns that are not canonical are passed over.
func Signals(heads []string, rows [][]string) []project.Signal {
	cols := make([]*project.Column, len(heads))
	for i, h := range heads {
		cols[i] = project.ColumnNamed(h)
	}
	out := make([]project.Signal, 0, len(rows))
	for _, row := range rows {
		var s project.Signal
		for i, c := range cols {
			if c != nil && i < len(row) && row[i] != "" {
				c.Parse(row[i], &s)
			}
		}
		if s.ID == "" {
			s.ID = s.Tag
		}
		if s.ID != "" {
			out = append(out, s)
		}
	}
	return out
}

// Stated returns signal i as far as the list states it: columns that the reader of a canonical list
// filled in by itself (form, active, sensor, supply_class) are empty again.
func (r *Result) Stated(i int) project.Signal {
	s := r.Signals[i]
	if i < len(r.assumed) {
		for n, f := range assumable {
			if r.assumed[i]&(1<<n) != 0 {
				*f.at(&s) = ""
			}
		}
	}
	return s
}

// Revision returns the row revision that the list gives signal i, "" where it gives none.
func (r *Result) Revision(i int) string { return r.revised[r.Signals[i].ID] }

// assumable are the columns that the canonical reader fills in where they are empty.
var assumable = []struct {
	column string
	at     func(*project.Signal) *string
}{
	{"form", func(s *project.Signal) *string { return &s.Form }},
	{"active", func(s *project.Signal) *string { return &s.Active }},
	{"sensor", func(s *project.Signal) *string { return &s.Sensor }},
	{"supply_class", func(s *project.Signal) *string { return &s.SupplyClass }},
}

// FinalIDs gives for each signal of the incoming list the id that it has in the project once the
// changes are made, "" where it is not taken over. Decisions of the list follow it.
func (p *Preview) FinalIDs() []string {
	out := make([]string, len(p.incoming))
	for j := range p.incoming {
		if p.match[j] >= 0 {
			out[j] = p.mineIDs[p.match[j]]
		}
	}
	used := make(map[string]struct{}, len(p.mineIDs)+p.Count(Added))
	for _, id := range p.mineIDs {
		used[id] = struct{}{}
	}
	skip := p.renamed()
	for j, id := range skip {
		out[j] = id
	}
	for i := range p.Changes {
		c := &p.Changes[i]
		if c.Kind != Added || !c.Take {
			continue
		}
		if _, is := skip[c.incoming]; is {
			continue
		}
		id := p.newID(c.incoming, used)
		used[id] = struct{}{}
		out[c.incoming] = id
	}
	return out
}

// newID is the id of an added signal: its own, unless another signal has it.
func (p *Preview) newID(incoming int, used map[string]struct{}) string {
	s := &p.incoming[incoming]
	base := s.ID
	if base == "" {
		base = s.Tag
	}
	id := base
	for n := 2; has(used, id); n++ {
		id = base + "~" + strconv.Itoa(n)
	}
	return id
}

// renamed maps incoming signals to the ids of those they are taken for.
func (p *Preview) renamed() map[int]string {
	out := map[int]string{}
	for _, c := range p.Changes {
		if c.Kind == Renamed && c.Take {
			out[c.incoming] = c.ID
		}
	}
	return out
}

func has(set map[string]struct{}, id string) bool {
	_, ok := set[id]
	return ok
}

// IDs maps the ids of the incoming list to those in the project after Apply or ApplyRows; incoming
// signals that are not taken over are missing.
func (p *Preview) IDs() map[string]string {
	out := map[string]string{}
	for j, id := range p.FinalIDs() {
		if id != "" {
			out[p.incoming[j].ID] = id
		}
	}
	return out
}

// Incoming returns the place of a change's signal in the incoming list, -1 where it has none.
func (c *Change) Incoming() int { return c.incoming }

// ApplyRows makes the changes that are to be taken in rows of canonical cells (as project.Columns
// has them) and leaves every other cell as it stands: empty cells stay empty even where an
// assumption fills them, and rows that are faulty stay where they are. A faulty row whose tag or id
// is that of an added signal is replaced by it. Each row of the result has its id.
// stated gives an incoming signal without what was assumed for it; see Result.Stated.
func (p *Preview) ApplyRows(rows [][]string, stated func(i int) project.Signal) [][]string {
	var out [][]string
	p.EachRow(slices.Values(rows), stated, func(row []string) { out = append(out, slices.Clone(row)) })
	return out
}

// EachRow is ApplyRows one row after the other; a row is used again for the next one.
func (p *Preview) EachRow(rows iter.Seq[[]string], stated func(i int) project.Signal, yield func(row []string)) {
	idAt, tagAt := columnNo["id"], columnNo["tag"]
	width := len(project.Columns())
	mine := make(map[string]struct{}, len(p.mineIDs))
	for _, id := range p.mineIDs {
		mine[id] = struct{}{}
	}
	changed, gone := p.byID()
	fresh := p.fresh(stated)
	var named map[string]int // fresh rows by id and tag, where the project has faulty rows
	used := map[int]bool{}
	buf := make([]string, width)
	for old := range rows {
		id := cellOf(old, idAt)
		if id == "" {
			id = cellOf(old, tagAt)
		}
		if gone[id] {
			continue
		}
		clear(buf[copy(buf, old):])
		row := buf
		if len(old) > width {
			row = slices.Clone(old)
		}
		if !has(mine, id) { // a faulty row: the list may have mended it
			if named == nil {
				named = fresh.byName()
			}
			n, ok := named[id]
			if !ok {
				n, ok = named[cellOf(old, tagAt)]
			}
			if ok {
				if used[n] {
					continue
				}
				used[n] = true
				fresh.fill(n, buf)
				row = buf
			}
		} else if row[idAt] == "" {
			row[idAt] = id
		}
		if c := changed[id]; c != nil && has(mine, id) {
			s := stated(c.incoming)
			for _, cell := range c.Cells {
				if cell.Take {
					row[columnNo[cell.Column]] = p.cellValue(&s, cell)
				}
			}
		}
		yield(row)
	}
	for n := range fresh.at {
		if !used[n] {
			fresh.fill(n, buf)
			yield(buf)
		}
	}
}

// freshRows are the rows of the signals that are added.
type freshRows struct {
	p      *Preview
	stated func(i int) project.Signal
	at     []int // in the incoming list
	ids    []string
}

func (p *Preview) fresh(stated func(i int) project.Signal) *freshRows {
	f := &freshRows{p: p, stated: stated, ids: p.FinalIDs()}
	skip := p.renamed()
	for i := range p.Changes {
		c := &p.Changes[i]
		if c.Kind != Added || !c.Take {
			continue
		}
		if _, is := skip[c.incoming]; !is {
			f.at = append(f.at, c.incoming)
		}
	}
	return f
}

// fill writes row n into buf.
func (f *freshRows) fill(n int, buf []string) {
	s := f.stated(f.at[n])
	s.ID = f.ids[f.at[n]]
	s.RedundantWith = f.p.incoming[f.at[n]].RedundantWith
	for i, col := range project.Columns() {
		buf[i] = col.Format(&s)
	}
}

func (f *freshRows) byName() map[string]int {
	named := map[string]int{}
	for n, j := range f.at {
		named[f.ids[j]], named[f.p.incoming[j].Tag] = n, n
	}
	return named
}

// cellValue is what a changed cell is to hold: what the list states, which may be nothing where the
// reader assumed something.
func (p *Preview) cellValue(stated *project.Signal, cell CellChange) string {
	for _, a := range assumable {
		if a.column == cell.Column && *a.at(stated) == "" {
			return ""
		}
	}
	return cell.New
}

func cellOf(row []string, i int) string {
	if i < len(row) {
		return row[i]
	}
	return ""
}

// byID collects what happens to the project's signals.
func (p *Preview) byID() (changed map[string]*Change, gone map[string]bool) {
	changed, gone = map[string]*Change{}, map[string]bool{}
	for i := range p.Changes {
		c := &p.Changes[i]
		switch {
		case !c.Take:
		case c.Kind == Removed:
			gone[c.ID] = true
		case c.Kind == Renamed || c.Kind == Changed:
			changed[c.ID] = c
		}
	}
	for id, c := range changed {
		if c.Kind == Renamed {
			delete(gone, id)
		}
	}
	return changed, gone
}

// closePartners turns the names in redundant_with into the ids that the signals have in the project,
// and closes the relation, so that it compares with a project's. It copies the list where it must.
func closePartners(list []project.Signal, ids map[string]string) []project.Signal {
	any := false
	for i := range list {
		any = any || len(list[i].RedundantWith) > 0
	}
	if !any {
		return list
	}
	out := slices.Clone(list)
	at := map[string]int{}
	own := make([]string, len(out))
	for i := range out {
		own[i] = out[i].ID
		if id := ids["i"+out[i].ID]; id != "" {
			own[i] = id
		}
		at[own[i]] = i
	}
	resolve := func(name string) string {
		for _, k := range []string{"t" + name, "i" + name} {
			if id := ids[k]; id != "" {
				return id
			}
		}
		return name
	}
	pairs := make([][]string, len(out))
	for i := range out {
		for _, name := range out[i].RedundantWith {
			id := resolve(name)
			pairs[i] = append(pairs[i], id)
			if j, ok := at[id]; ok && j != i {
				pairs[j] = append(pairs[j], own[i])
			}
		}
	}
	for i := range out {
		slices.Sort(pairs[i])
		out[i].RedundantWith = slices.Compact(pairs[i])
	}
	return out
}
