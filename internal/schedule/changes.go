package schedule

import (
	"slices"
	"strings"

	q "railwright/internal/quantity"
)

// watched are the tables that are held against the accepted design, with the columns by which a row is
// known again. Columns that only follow from others (print forms, drums, the order of pulling) are left
// out.
var watched = []struct {
	key  string
	id   []string
	skip []string
}{
	{key: "stations", id: []string{"id"}},
	{key: "slots", id: []string{"station_id", "slot"}, skip: []string{"station"}},
	{key: "supply_groups", id: []string{"id"}},
	{key: "supplies", id: []string{"id"}},
	{key: "feeders", id: []string{"id"}},
	{key: "protections", id: []string{"id"}},
	{key: "cables", id: []string{"id"}, skip: []string{"from_point", "to_point", "tags", "drum", "cut", "pull_order", "gland", "spare_cores"}},
	{key: "wires", id: []string{"id"}, skip: []string{"mark", "from_point", "to_point", "cable_id", "ferrule_mm2", "ferrule_colour", "sleeve_mm", "strip_mm"}},
	{key: "junction_boxes", id: []string{"id"}},
	{key: "network_cables", id: []string{"cable"}},
	{key: "network_addresses", id: []string{"station"}},
	{key: "parts", id: []string{"class", "code"}, skip: []string{"currency", "spare_sum"}},
	{key: "labour", id: []string{"task", "for", "constant"}},
	{key: "cost", id: []string{"item"}},
	{key: "unplaced", id: []string{"signal_id", "tag"}},
}

// changes fills the last of the tables: what is new, gone or otherwise than in the accepted design, one
// row a cell. Signals come first, by where they sit.
func (b *builder) changes(tables *[]Table) {
	out := &(*tables)[len(*tables)-1]
	out.Paper = []string{"of", "id", "change", "column", "before", "now"}
	if b.Previous == nil {
		return
	}
	in := b.Input
	in.Design, in.Previous, in.Wire = b.Previous, nil, ""
	old := &builder{Input: in, index: newIndex(b.Previous, in.Hardware)}
	old.cut()
	before := old.ofDesign()
	out.compare("signal", old.seats(), b.seats(), []string{"id"}, nil)
	for _, w := range watched {
		now, was := named(*tables, w.key), named(before, w.key)
		out.compare(w.key, was, now, w.id, w.skip)
	}
}

func named(tables []Table, key string) Table {
	return tables[slices.IndexFunc(tables, func(t Table) bool { return t.Key == key })]
}

// seats is where each placed signal sits, and the hash of its row, as a table that can be compared.
func (b *builder) seats() Table {
	t := Table{Key: "seats", Heads: []string{"id", "tag", "station", "slot", "module", "channel", "address", "terminals", "supply_group", "cable", "row"}}
	rows := map[string]string{}
	for _, r := range b.Design.Issued {
		rows[r.Signal] = r.SHA256
	}
	for _, s := range b.every {
		if s.channel.Signal == nil {
			continue
		}
		id, cable := s.channel.SignalID, ""
		if c := b.fields[id]; c != nil {
			cable = c.ID
		}
		t.add(text(id), text(*s.channel.Signal), text(s.station.ID), whole(s.slot.Slot), text(s.slot.Module), whole(s.channel.Channel), text(s.channel.Address),
			text(terminalText(s.channel.Terminals)), text(s.slot.SupplyGroup), text(cable), text(rows[id]))
	}
	return t
}

// compare adds a row for each cell in which two tables differ.
func (t *Table) compare(of string, was, now Table, id, skip []string) {
	key := columnsOf(now, id)
	keyOf := func(row []Cell) string {
		parts := make([]string, len(key))
		for i, k := range key {
			parts[i] = printed(row[k])
		}
		return strings.Join(parts, " ")
	}
	old := map[string][]Cell{}
	for _, row := range body(was) {
		old[keyOf(row)] = row
	}
	kept := map[string]bool{}
	for _, row := range body(now) {
		k := keyOf(row)
		kept[k] = true
		before, ok := old[k]
		if !ok {
			t.add(text(of), text(k), text("added"), Cell{}, Cell{}, Cell{})
			continue
		}
		for i, head := range now.Heads {
			if row[i] == before[i] || slices.Contains(key, i) || slices.Contains(skip, head) {
				continue
			}
			a, z := text(printed(before[i])), text(printed(row[i]))
			if head == "row" { // hashes say nothing to people
				a, z = Cell{}, Cell{}
			}
			t.add(text(of), text(k), text("changed"), text(head), a, z)
		}
	}
	for _, row := range body(was) {
		if k := keyOf(row); !kept[k] {
			t.add(text(of), text(k), text("removed"), Cell{}, Cell{}, Cell{})
		}
	}
}

func columnsOf(t Table, heads []string) []int {
	out := make([]int, len(heads))
	for i, h := range heads {
		out[i] = slices.Index(t.Heads, h)
	}
	return out
}

// body is a table's rows without the totals.
func body(t Table) [][]Cell {
	if t.Total {
		return t.Rows[:len(t.Rows)-1]
	}
	return t.Rows
}

// printed is a cell as text.
func printed(c Cell) string {
	switch c.Kind {
	case Text:
		return c.Text
	case Number:
		return q.Short(c.Number)
	case YesNo:
		if c.Number == 1 {
			return "yes"
		}
		return "no"
	default:
		return ""
	}
}
