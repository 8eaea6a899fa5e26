package schedule

import (
	"cmp"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// signals is the issued signal list: one row a signal, in order of tag, with where it landed.
func (b *builder) signals() Table {
	d, p, ix := b.Design, b.Project, b.index
	t := table("signals", "tag", "id", "description", "kind", "form", "contact", "active", "place", "device", "equipment",
		"range_low", "range_high", "unit", "alarm_low", "alarm_high", "wires", "sensor", "current_ma", "supply_class", "safe_state",
		"segregate", "redundant_with", "ex_level", "ex_zone", "state",
		"station", "slot", "module", "channel", "address", "terminals", "supply_group", "cable", "length_m", "hold", "remarks",
		"row_revision", "row_change", "station_id")
	t.Paper = []string{
		"tag", "description", "kind", "form", "place", "range_low", "range_high", "unit", "station_id", "slot", "channel", "address", "cable", "row_revision", "row_change", "hold",
	}
	rows := b.rowRevisions()
	known := map[string]bool{}
	for _, s := range p.Signals {
		known[s.ID] = true
		row := []Cell{
			text(s.Tag), text(s.ID), text(s.Description), text(string(s.Kind)), text(s.Form), text(s.Contact), text(s.Active),
			text(s.Place), text(s.Device), text(s.Equipment),
			optional(s.RangeLow), optional(s.RangeHigh), text(s.Unit), optional(s.AlarmLow), optional(s.AlarmHigh),
			wiresOf(s), text(s.Sensor), current(s.Current), text(s.SupplyClass), text(s.SafeState),
			text(s.Segregate), text(strings.Join(s.RedundantWith, "; ")), text(s.ExLevel), text(s.ExZone),
		}
		row = append(row, landing(s, ix)...)
		station := ""
		if at, ok := b.spots[s.ID]; ok {
			station = at.station.ID
		}
		t.add(append(row, text(rows[s.ID].revision), text(rows[s.ID].change), text(station))...)
	}
	for _, u := range d.Unplaced {
		if !known[u.Signal] {
			t.add(faulty(u, len(t.Heads))...)
		}
	}
	slices.SortStableFunc(t.Rows, func(a, b []Cell) int {
		return cmp.Or(cmp.Compare(a[0].Text, b[0].Text), cmp.Compare(a[1].Text, b[1].Text))
	})
	return t
}

// rowState is the revision of a row and what became of it since the accepted design.
type rowState struct{ revision, change string }

// rowRevisions tells for each row of the list when it was last changed, and whether it is new or changed
// since the accepted design.
func (b *builder) rowRevisions() map[string]rowState {
	before := map[string]string{}
	if b.Previous != nil {
		for _, r := range b.Previous.Issued {
			before[r.Signal] = r.SHA256
		}
	}
	out := map[string]rowState{}
	for _, r := range b.Design.Issued {
		s := rowState{revision: r.Revision}
		if sum, ok := before[r.Signal]; len(before) > 0 && !ok {
			s.change = "new"
		} else if ok && sum != r.SHA256 {
			s.change = "changed"
		}
		out[r.Signal] = s
	}
	return out
}

// holds lists the rows with something still to be confirmed; each blocks issue for construction.
func (b *builder) holds() Table {
	t := table("holds", "tag", "id", "hold", "description", "kind", "place", "device", "state", "station", "slot", "channel", "cable", "row_revision")
	rows := b.rowRevisions()
	for _, s := range b.Project.Signals {
		if s.Hold == "" {
			continue
		}
		at := landing(s, b.index)
		t.add(text(s.Tag), text(s.ID), text(s.Hold), text(s.Description), text(string(s.Kind)), text(s.Place), text(s.Device),
			at[0], at[1], at[2], at[4], at[8], text(rows[s.ID].revision))
	}
	slices.SortStableFunc(t.Rows, func(a, b []Cell) int {
		return cmp.Or(cmp.Compare(a[0].Text, b[0].Text), cmp.Compare(a[1].Text, b[1].Text))
	})
	return t
}

// faulty is the row of a signal that the list holds but that could not be read.
func faulty(u design.Unplaced, width int) []Cell {
	row := make([]Cell, width)
	row[0], row[1], row[stateColumn] = text(u.Tag), text(u.Signal), text("unplaced: "+u.Why)
	return row
}

// stateColumn is the column that says whether the signal is placed.
const stateColumn = 24

func optional(o q.Opt[float64]) Cell { return opt(o.Value, o.Set) }

func current(o q.Opt[q.Current]) Cell { return opt(q.ToMicroamps(o.Value).Milliamps(), o.Set) }

func wiresOf(s project.Signal) Cell {
	if s.Wires == 0 {
		return Cell{}
	}
	return whole(s.Wires)
}

// landing are the columns from state on: where the design put the signal.
func landing(s project.Signal, ix *index) []Cell {
	at, ok := ix.spots[s.ID]
	if !ok {
		state := "unplaced"
		if u := ix.lost[s.ID]; u != nil {
			state += ": " + u.Why
		}
		return []Cell{text(state), {}, {}, {}, {}, {}, {}, {}, {}, {}, text(s.Hold), text(s.Remarks)}
	}
	state := "placed"
	if s.Hold != "" {
		state = "hold"
	}
	cable, length := Cell{}, Cell{}
	if c := ix.fields[s.ID]; c != nil {
		cable, length = text(c.Name), number(c.LengthM)
	}
	return []Cell{
		text(state), text(at.station.Name), whole(at.slot.Slot), text(at.slot.Module), whole(at.channel.Channel),
		text(at.channel.Address), text(terminalText(at.channel.Terminals)), text(at.slot.SupplyGroup), cable, length, text(s.Hold), text(s.Remarks),
	}
}

// functionOrder is the order in which an electrician lands the conductors of one signal.
var functionOrder = []string{
	"supply+", "line", "common", "no", "a", "a-", "b", "b-", "z", "z-", "tx", "tx-", "rx", "rx-",
	"signal", "signal+", "sense+", "sense-", "signal-", "neutral", "supply-", "screen",
}

// functions returns the functions of a channel's terminals in functionOrder, unknown ones last.
func functions(terminals map[string]string) []string {
	names := make([]string, 0, len(terminals))
	for f := range terminals {
		names = append(names, f)
	}
	rank := func(f string) int {
		if i := slices.Index(functionOrder, f); i >= 0 {
			return i
		}
		return len(functionOrder)
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a, b)) })
	return names
}

// terminalText prints the terminals of a channel: "supply+ A1, signal B1".
func terminalText(terminals map[string]string) string {
	var parts []string
	for _, f := range functions(terminals) {
		parts = append(parts, f+" "+terminals[f])
	}
	return strings.Join(parts, ", ")
}
