package schedule

import (
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
)

// terminals is the terminal plan of the modules: one row a terminal and function, with the wire that
// lands there.
func (b *builder) terminals() Table {
	t := table("terminals", "station", "slot", "module", "base", "terminal", "channel", "function", "tag", "cable", "core", "area_mm2", "far_end",
		"wire", "signal_id", "mark", "far_point", "ferrule_mm2", "ferrule_colour", "sleeve_mm", "strip_mm", "clamp_min_mm2", "clamp_max_mm2", "station_id")
	t.By, t.Paper = "station_id", []string{"slot", "terminal", "channel", "function", "tag", "cable", "mark", "area_mm2", "ferrule_colour", "strip_mm", "far_point"}
	for _, s := range b.every {
		points := s.clamps()
		for _, p := range points {
			f, label := p.function, p.label
			row := []Cell{
				text(s.station.Name), whole(s.slot.Slot), text(s.slot.Module), text(s.slot.Base), text(label),
				whole(s.channel.Channel), text(f), text(tagOf(s.channel)),
			}
			here := slotEnd(s.station.ID, strconv.Itoa(s.slot.Slot), label)
			landed := slices.DeleteFunc(slices.Clone(b.lands[here]), func(w *design.Wire) bool { return functionOf(w, here, points) != f })
			if len(landed) == 0 {
				landed = []*design.Wire{nil}
			}
			for _, w := range landed {
				cells := append(row[:len(row):len(row)], b.arriving(w, here)...)
				t.add(append(append(cells, takes(s, f)...), text(s.station.ID))...)
			}
		}
	}
	return t
}

func slotEnd(station, slot, terminal string) string {
	return "station:" + station + "/" + slot + "/" + terminal
}

// arriving are the columns cable, core, area_mm2, far_end, wire, signal_id, mark, far_point and those of
// the wire's end; all empty for no wire.
func (b *builder) arriving(w *design.Wire, here string) []Cell {
	if w == nil {
		return make([]Cell, 12)
	}
	far := w.From
	if far == here {
		far = w.To
	}
	c := b.cables[w.Cable]
	k := b.typeOf(c)
	return append([]Cell{
		text(b.cableName(w.Cable)), text(w.Core), number(w.AreaMM2), text(far), text(w.ID), text(w.Signal), text(mark(w.Core, k)), text(b.point(far, w.Signal)),
	}, tipOf(w.AreaMM2, stranded(c, k), b.shared(here)).cells()...)
}

// functionOf tells which function of a channel a wire serves that lands on the terminal here: two
// functions may share one clamping point. It is the function at the wire's far end if the channel has
// it there, else the first one that has this terminal.
func functionOf(w *design.Wire, here string, points []clamp) string {
	far := w.From
	if far == here {
		far = w.To
	}
	label := endOf(here, "").terminal
	if e := endOf(far, w.Signal); e.kind == "device" && slices.Contains(points, clamp{e.terminal, label}) {
		return e.terminal
	}
	if i := slices.IndexFunc(points, func(p clamp) bool { return p.label == label }); i >= 0 {
		return points[i].function
	}
	return ""
}

// shared reports whether two wires meet in one clamping point, which takes a twin ferrule. Bars have a
// clamping point for each wire.
func (b *builder) shared(endpoint string) bool {
	ws := b.lands[endpoint]
	return len(ws) == 2 && ws[0].AreaMM2 == ws[1].AreaMM2 && !strings.HasPrefix(endpoint, "supply_bar:")
}

// takes are the least and the largest conductor that a terminal takes.
func takes(s spot, function string) []Cell {
	if s.set != nil {
		if t, ok := s.set.Terminal(function); ok && t.MaxArea > 0 {
			return []Cell{number(float64(t.MinArea)), number(float64(t.MaxArea))}
		}
	}
	return make([]Cell, 2)
}

// infeedTerminals is the plan of the infeed points, protective devices and supply bars: one row for
// each wire that lands on one.
func (b *builder) infeedTerminals() Table {
	t := table("infeed_terminals", "station", "supply_group", "at", "slot", "terminal", "cable", "core", "area_mm2", "far_end",
		"wire", "signal_id", "mark", "far_point", "ferrule_mm2", "ferrule_colour", "sleeve_mm", "strip_mm", "station_id")
	t.By, t.Paper = "station_id", []string{"supply_group", "at", "slot", "terminal", "area_mm2", "ferrule_colour", "strip_mm", "far_point"}
	for i := range b.Design.Wires {
		w := &b.Design.Wires[i]
		for _, here := range []string{w.From, w.To} {
			if !b.ofSupply(here) {
				continue
			}
			e := endOf(here, w.Signal)
			station, group := b.owner(w)
			row := append([]Cell{text(b.named[station]), text(group), text(e.kind + ":" + e.at), text(e.slot), text(e.terminal)}, b.arriving(w, here)...)
			t.add(append(row, text(station))...)
		}
	}
	return t
}

// ofSupply reports whether an endpoint belongs to what feeds a station: an infeed point (a terminal of a
// station on no channel), a protective device, a bar or a supply unit.
func (b *builder) ofSupply(endpoint string) bool {
	switch kind, _, _ := strings.Cut(endpoint, ":"); kind {
	case "station":
		return !b.onChannel(endpoint)
	case "protection", "supply", "supply_bar":
		return true
	}
	return false
}

// onChannel reports whether an endpoint is a terminal of a channel.
func (b *builder) onChannel(endpoint string) bool {
	if b.points == nil {
		b.points = map[string]bool{}
		for _, s := range b.every {
			for _, p := range s.clamps() {
				b.points[slotEnd(s.station.ID, strconv.Itoa(s.slot.Slot), p.label)] = true
			}
		}
	}
	return b.points[endpoint]
}

// owner returns the station and the supply group of an infeed wire, whose id is that of the group and the
// pole; of other wires only the station.
func (b *builder) owner(w *design.Wire) (station, group string) {
	id := w.ID
	if i := strings.LastIndexByte(id, '/'); i > 0 {
		id = id[:i]
	}
	for _, endpoint := range []string{w.To, w.From} {
		if e := endOf(endpoint, w.Signal); e.kind == "station" {
			station = e.at
		}
	}
	if b.groupsOf == nil {
		b.groupsOf = map[string]bool{}
		for _, s := range b.Design.Stations {
			for _, g := range s.SupplyGroups {
				b.groupsOf[g.ID] = true
			}
		}
	}
	if b.groupsOf[id] {
		group = id
	}
	return station, group
}

// boxTerminals is the terminal plan of junction boxes and marshalling strips: every terminal of a box,
// free ones too, and every other point where cores meet outside stations and devices.
func (b *builder) boxTerminals() Table {
	t := table("box_terminals", "box", "name", "place", "terminal", "cable", "core", "area_mm2", "far_end",
		"wire", "signal_id", "mark", "far_point", "ferrule_mm2", "ferrule_colour", "sleeve_mm", "strip_mm", "tag")
	t.By, t.Paper = "name", []string{"terminal", "cable", "mark", "area_mm2", "ferrule_colour", "strip_mm", "tag", "far_point"}
	done := map[string]bool{}
	put := func(box, name, place, terminal, here string) {
		done[here] = true
		landed := b.lands[here]
		if len(landed) == 0 {
			landed = []*design.Wire{nil}
		}
		for _, w := range landed {
			tag := ""
			if w != nil {
				tag = b.tags[w.Signal]
			}
			row := append([]Cell{text(box), text(name), text(place), text(terminal)}, b.arriving(w, here)...)
			t.add(append(row, text(tag))...)
		}
	}
	for _, box := range b.Design.JunctionBoxes {
		for _, terminal := range box.Terminals {
			put(box.ID, box.Name, box.Place, terminal, "junction_box:"+box.ID+"/"+terminal)
		}
	}
	for i := range b.Design.Wires {
		w := &b.Design.Wires[i]
		for _, here := range []string{w.From, w.To} {
			kind, _, _ := strings.Cut(here, ":")
			if done[here] || kind == "device" || kind == "station" || b.ofSupply(here) {
				continue
			}
			e := endOf(here, w.Signal)
			put(e.kind+":"+e.at, e.at, "", e.terminal, here)
		}
	}
	return t
}
