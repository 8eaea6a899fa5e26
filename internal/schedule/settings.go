package schedule

import (
	"strings"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// settings is what is set up for each channel, used and spare ones.
func (b *builder) settings() Table {
	t := table("settings", "station", "slot", "module", "channel", "kind", "tag", "signal_id", "use", "form", "wires", "sensor", "loop", "hart",
		"filter_ms", "wire_break", "contact", "range_low", "range_high", "unit", "raw_low", "raw_high", "raw_step_k", "alarm_low", "alarm_high",
		"safe_state", "substitute", "supply_class", "address", "station_id")
	t.By, t.Paper = "station_id", []string{
		"slot", "channel", "tag", "form", "wires", "sensor", "hart", "filter_ms", "wire_break", "contact", "range_low", "range_high", "unit",
		"raw_low", "raw_high", "safe_state", "address",
	}
	stated := map[string]*project.Signal{}
	for i := range b.Project.Signals {
		stated[b.Project.Signals[i].ID] = &b.Project.Signals[i]
	}
	for _, s := range b.every {
		row := []Cell{
			text(s.station.Name), whole(s.slot.Slot), text(s.slot.Module), whole(s.channel.Channel), text(s.channel.Kind),
			text(tagOf(s.channel)), text(s.channel.SignalID),
		}
		var x *project.Signal
		if s.channel.Signal != nil {
			x = stated[s.channel.SignalID]
		}
		if x == nil {
			rest := make([]Cell, len(t.Heads)-len(row))
			rest[0], rest[len(rest)-2], rest[len(rest)-1] = text("spare"), text(s.channel.Address), text(s.station.ID)
			if s.channel.Signal != nil {
				rest[0] = text("used")
			}
			t.add(append(row, rest...)...)
			continue
		}
		t.add(append(append(row, setting(x, s.set)...), text(s.channel.Address), text(s.station.ID))...)
	}
	return t
}

// setting are the columns from use to supply_class of a channel that carries the signal.
func setting(x *project.Signal, set *hardware.ChannelSet) []Cell {
	hart, filter, breaks, substitute, step := Cell{}, Cell{}, Cell{}, Cell{}, Cell{}
	loop, low, high := "", Cell{}, Cell{}
	if x.HART {
		hart = yes(true)
	}
	if set != nil {
		filter, step = positive(round(float64(set.Filter)*1000, 1000)), positive(set.RawStep)
		loop = strings.Join(set.Loop, " ")
		if x.Kind.Analogue() {
			breaks = yes(set.WireBreak)
		}
		if x.Kind.Output() {
			substitute = yes(set.Substitute)
		}
		if set.RawHigh != 0 && (x.Kind == project.AI || x.Kind == project.AO) {
			from := set.RawLow
			if x.Form == "10v-bipolar" {
				from = -set.RawHigh
			}
			low, high = number(float64(from)), number(float64(set.RawHigh))
		}
	}
	return []Cell{
		text("used"), text(x.Form), wiresOf(*x), text(x.Sensor), text(loopOf(x, loop)), hart, filter, breaks, text(x.Contact),
		optional(x.RangeLow), optional(x.RangeHigh), text(x.Unit), low, high, step, optional(x.AlarmLow), optional(x.AlarmHigh),
		text(x.SafeState), substitute, text(x.SupplyClass),
	}
}

// loopOf says who feeds a current loop: the device, or the module.
func loopOf(x *project.Signal, set string) string {
	switch {
	case x.Kind != project.AI || !x.CurrentLoop():
		return ""
	case x.Active == "active":
		return "device feeds"
	case strings.Contains(set, "feeds"):
		return "module feeds"
	}
	return ""
}

// stationSettings is what is set up for each station.
func (b *builder) stationSettings() Table {
	t := table("station_settings", "station_id", "name", "coupler", "profile", "node_name", "address", "node", "update_ms", "watchdog_min_ms",
		"first_input_byte", "input_bytes", "first_output_byte", "output_bytes", "modules")
	for i := range b.Design.Stations {
		st := &b.Design.Stations[i]
		n := b.node(st.ID)
		watchdog := Cell{}
		if b.Hardware != nil {
			if c, ok := b.Hardware.Coupler(st.Coupler); ok {
				watchdog = positive(round(float64(c.Watchdog)*1000, 1000))
			}
		}
		t.add(text(st.ID), text(st.Name), text(st.Coupler), text(b.Design.Network.Profile), text(n.Name), text(n.Address), whole(n.Node),
			positive(st.UpdateMS), watchdog, whole(st.FirstInByte), whole(st.InputBytes), whole(st.FirstOutByte), whole(st.OutputBytes), whole(len(st.Slots)))
	}
	return t
}
