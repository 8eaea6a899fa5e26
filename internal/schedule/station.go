package schedule

import (
	"strings"

	"railwright/internal/design"
	"railwright/internal/project"
)

func stations(d *design.Design) Table {
	t := table("stations", "id", "name", "place", "construction", "coupler", "slots", "groups", "channels", "used", "spare",
		"rail_mm", "logic_current_ma", "logic_limit_ma", "first_input_byte", "input_bytes", "first_output_byte", "output_bytes",
		"heat_w", "end_piece", "enclosure")
	t.Paper = []string{"id", "name", "place", "coupler", "slots", "groups", "channels", "used", "spare", "rail_mm", "first_input_byte", "input_bytes", "first_output_byte", "output_bytes", "heat_w", "enclosure"}
	for _, s := range d.Stations {
		all, used := use(s)
		t.add(text(s.ID), text(s.Name), text(s.Place), text(s.Construction), text(s.Coupler), whole(len(s.Slots)), whole(len(s.SupplyGroups)),
			whole(all), whole(used), whole(all-used), number(float64(s.RailMM)), number(s.LogicCurrentMA), number(s.LogicLimitMA),
			whole(s.FirstInByte), whole(s.InputBytes), whole(s.FirstOutByte), whole(s.OutputBytes), number(s.HeatW), text(s.EndPiece), text(s.Enclosure))
	}
	return t
}

// use counts the channels of a station and those that carry a signal.
func use(s design.Station) (all, used int) {
	for _, sl := range s.Slots {
		for _, c := range sl.Channels {
			all++
			if c.Signal != nil {
				used++
			}
		}
	}
	return all, used
}

func slots(d *design.Design) Table {
	t := table("slots", "station", "slot", "module", "base", "infeed", "supply_group", "channels", "used", "spare",
		"input_byte", "input_bytes", "output_byte", "output_bytes", "station_id")
	t.By, t.Paper = "station_id", []string{"slot", "module", "base", "infeed", "supply_group", "channels", "used", "spare", "input_byte", "input_bytes", "output_byte", "output_bytes"}
	for _, s := range d.Stations {
		for _, sl := range s.Slots {
			all, used := use(design.Station{Slots: []design.Slot{sl}})
			t.add(text(s.Name), whole(sl.Slot), text(sl.Module), text(sl.Base), yes(sl.Infeed), text(sl.SupplyGroup),
				whole(all), whole(used), whole(all-used),
				bytes(sl.InputByte, sl.InputBytes), whole(sl.InputBytes), bytes(sl.OutputByte, sl.OutputBytes), whole(sl.OutputBytes), text(s.ID))
		}
	}
	return t
}

// bytes is a first byte, empty where there are none.
func bytes(first, n int) Cell {
	if n == 0 {
		return Cell{}
	}
	return whole(first)
}

func tagOf(c *design.Channel) string {
	if c.Signal == nil {
		return ""
	}
	return *c.Signal
}

func channels(ix *index) Table {
	t := table("channels", "station", "slot", "module", "channel", "kind", "tag", "signal_id", "address", "terminals", "supply_group", "cable", "station_id")
	t.By, t.Paper = "station_id", []string{"slot", "module", "channel", "kind", "tag", "address", "terminals", "supply_group", "cable"}
	for _, s := range ix.every {
		cable := ""
		if c := ix.fields[s.channel.SignalID]; c != nil && s.channel.Signal != nil {
			cable = c.Name
		}
		t.add(text(s.station.Name), whole(s.slot.Slot), text(s.slot.Module), whole(s.channel.Channel), text(s.channel.Kind), text(tagOf(s.channel)),
			text(s.channel.SignalID), text(s.channel.Address), text(terminalText(s.channel.Terminals)), text(s.slot.SupplyGroup), text(cable), text(s.station.ID))
	}
	return t
}

// addresses is the list for the programmer: one row a channel, in the order of the stations.
func (b *builder) addresses() Table {
	t := table("addresses", "address", "tag", "signal_id", "kind", "station", "slot", "channel", "modbus_table", "modbus_number", "modbus_words",
		"description", "form", "range_low", "range_high", "unit", "safe_state", "station_id")
	t.Paper = []string{"address", "tag", "description", "kind", "station_id", "slot", "channel", "range_low", "range_high", "unit", "modbus_table", "modbus_number"}
	stated := map[string]*project.Signal{}
	for i := range b.Project.Signals {
		stated[b.Project.Signals[i].ID] = &b.Project.Signals[i]
	}
	for _, s := range b.every {
		row := []Cell{
			text(s.channel.Address), text(tagOf(s.channel)), text(s.channel.SignalID), text(s.channel.Kind),
			text(s.station.Name), whole(s.slot.Slot), whole(s.channel.Channel),
		}
		if r := b.regs[s.channel.SignalID]; r != nil && s.channel.Signal != nil {
			row = append(row, text(r.Table), whole(r.Number), whole(r.Words))
		} else {
			row = append(row, Cell{}, Cell{}, Cell{})
		}
		if x := stated[s.channel.SignalID]; x != nil && s.channel.Signal != nil {
			row = append(row, text(x.Description), text(x.Form), optional(x.RangeLow), optional(x.RangeHigh), text(x.Unit), text(x.SafeState))
		} else {
			row = append(row, make([]Cell, 6)...)
		}
		t.add(append(row, text(s.station.ID))...)
	}
	return t
}

func groups(d *design.Design) Table {
	t := table("supply_groups", "id", "station", "group", "infeed_at", "first_slot", "last_slot", "class", "load_ma", "limit_ma", "protection",
		"infeed_mm2", "voltage_min_v", "reason")
	for _, s := range d.Stations {
		for _, g := range s.SupplyGroups {
			t.add(text(g.ID), text(s.Name), whole(g.Group), infeed(g.InfeedAt), whole(g.FirstSlot), whole(g.LastSlot), text(g.Class),
				number(g.LoadMA), number(g.LimitMA), text(g.Protection), number(g.InfeedMM2), number(g.VoltageMinV), text(g.Reason))
		}
	}
	return t
}

func infeed(at any) Cell {
	switch v := at.(type) {
	case int:
		return whole(v)
	case string:
		return text(v)
	default:
		return Cell{}
	}
}

func boxes(d *design.Design) Table {
	t := table("junction_boxes", "id", "name", "place", "type", "terminals")
	for _, b := range d.JunctionBoxes {
		t.add(text(b.ID), text(b.Name), text(b.Place), text(b.Type), text(strings.Join(b.Terminals, " ")))
	}
	return t
}
