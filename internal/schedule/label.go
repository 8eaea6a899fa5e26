package schedule

import (
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
	q "railwright/internal/quantity"
)

// labelsTerminals has one label for each clamping point of a channel, also where two functions share it.
func (b *builder) labelsTerminals() Table {
	t := table("labels_terminals", "station", "slot", "terminal", "text", "tag")
	t.File = true
	for _, s := range b.every {
		var done []string
		for _, p := range s.clamps() {
			if slices.Contains(done, p.label) {
				continue
			}
			done = append(done, p.label)
			t.add(text(s.station.ID), whole(s.slot.Slot), text(p.label), text(strconv.Itoa(s.slot.Slot)+":"+p.label), text(tagOf(s.channel)))
		}
	}
	return t
}

// labelsWires has one marker for each end of every landed wire: where this end lands, and where the
// other does.
func (b *builder) labelsWires() Table {
	t := table("labels_wires", "wire", "end", "text", "other_end", "cable", "mark", "tag")
	t.File = true
	for i := range b.Design.Wires {
		w := &b.Design.Wires[i]
		from, to := b.point(w.From, w.Signal), b.point(w.To, w.Signal)
		cable, m, tag := text(b.cableName(w.Cable)), text(mark(w.Core, b.typeOf(b.cables[w.Cable]))), text(b.tags[w.Signal])
		t.add(text(w.ID), text("from"), text(from), text(to), cable, m, tag)
		t.add(text(w.ID), text("to"), text(to), text(from), cable, m, tag)
	}
	return t
}

// labelsCables has two tags for each cable, one an end. The code is the text of the tag's QR code.
func (b *builder) labelsCables() Table {
	t := table("labels_cables", "cable_id", "end", "text", "from", "to", "size", "type", "code")
	t.File = true
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		size := strconv.Itoa(c.Cores)
		if c.AreaMM2 > 0 {
			size += " x " + b.size(c.AreaMM2)
		}
		for _, e := range []string{"from", "to"} {
			t.add(text(c.ID), text(e), text(c.Name), text(b.thing(c.From)), text(b.thing(c.To)), text(size), text(c.Type), text(b.code("cable:"+c.ID, "")))
		}
	}
	return t
}

// size prints an area in the way that the input asks for.
func (b *builder) size(mm2 float64) string {
	if b.Wire == AWG {
		if g := gauge(mm2); g != "" {
			return "AWG " + g
		}
	}
	return q.Short(mm2) + " mm2"
}

// code is what a QR code says: the subject by which commands and screens know the thing, its address
// and the revision of the project.
func (b *builder) code(subject, address string) string {
	parts := []string{subject}
	if address != "" {
		parts = append(parts, address)
	}
	if b.Design.Project.Revision != "" {
		parts = append(parts, "rev "+b.Design.Project.Revision)
	}
	return strings.Join(parts, " ")
}

func (b *builder) labelsModules() Table {
	t := table("labels_modules", "station", "slot", "text", "module", "supply_group", "inputs_from", "outputs_from")
	t.File = true
	for i := range b.Design.Stations {
		st := &b.Design.Stations[i]
		for _, sl := range st.Slots {
			t.add(text(st.ID), whole(sl.Slot), text(st.ID+":"+strconv.Itoa(sl.Slot)), text(sl.Module), text(sl.SupplyGroup),
				bytes(sl.InputByte, sl.InputBytes), bytes(sl.OutputByte, sl.OutputBytes))
		}
	}
	return t
}

// labelsStations are the station plates.
func (b *builder) labelsStations() Table {
	t := table("labels_stations", "station_id", "text", "name", "place", "project", "node", "address", "feeders", "voltage_v", "code")
	t.File = true
	for i := range b.Design.Stations {
		st := &b.Design.Stations[i]
		node := b.node(st.ID)
		var names []string
		volts := Cell{}
		for _, f := range b.Design.Feeders {
			if f.Station == st.ID {
				names = append(names, f.ID)
				volts = number(f.VoltageV)
			}
		}
		t.add(text(st.ID), text(st.ID), text(st.Name), text(b.place(st.Place)), text(b.Design.Project.Name), whole(node.Node), text(node.Address),
			text(strings.Join(names, ", ")), volts, text(b.code("station:"+st.ID, node.Address)))
	}
	return t
}

// node is a station's address on the network; the zero value where it has none.
func (b *builder) node(station string) design.NodeAddress {
	for _, n := range b.Design.Network.Addresses {
		if n.Station == station {
			return n
		}
	}
	return design.NodeAddress{}
}

// place prints a place: its name, else its id.
func (b *builder) place(id string) string {
	for _, p := range b.Project.Places {
		if p.ID == id && p.Name != "" {
			return p.Name
		}
	}
	return id
}
