package merge

// Difference is one row that changed.
type Difference struct {
	ID      string
	Added   bool
	Removed bool
	Changes []Change // cells that changed; of an added row those that are filled, of a removed one none
}

// Diff returns what changed from one table to the next: removed and changed rows in the order of the
// first, then the added ones in the order of the second. The order of rows does not count.
func Diff(from, to Table) []Difference {
	a, b := indexOf(from), indexOf(to)
	columns := joinOrder(from.Columns, to.Columns, to.Columns)
	var out []Difference
	for _, k := range a.order {
		now, ok := b.cells[k]
		d := Difference{ID: k.name(), Removed: !ok}
		if ok {
			d.Changes = changes(columns, a.cells[k], now)
		}
		if !ok || len(d.Changes) > 0 {
			out = append(out, d)
		}
	}
	for _, k := range b.order {
		if _, ok := a.cells[k]; !ok {
			out = append(out, Difference{ID: k.name(), Added: true, Changes: changes(columns, nil, b.cells[k])})
		}
	}
	return out
}

func changes(columns []string, from, to map[string]string) []Change {
	var out []Change
	for _, c := range columns {
		if from[c] != to[c] {
			out = append(out, Change{c, from[c], to[c]})
		}
	}
	return out
}
