package drawing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

// spot is where a signal sits.
type spot struct {
	station *design.Station
	slot    *design.Slot
	channel *design.Channel
	group   *design.SupplyGroup
}

// index finds things of one design.
type index struct {
	spots    map[string]spot            // signal id
	signals  map[string]*project.Signal // id
	places   map[string]*project.Place
	cables   map[string]*design.Cable
	types    map[string]*hardware.Cable
	fields   map[string]*design.Cable // signal id -> the cable at its device
	groups   map[string]*design.SupplyGroup
	homes    map[string]*design.Station     // group id
	stations map[string]*design.Station     // id
	guards   map[string]*design.Protection  // "group:ID", "feeder:ID"
	feeders  map[string][]*design.Feeder    // station
	supplies map[string][]*design.Supply    // station
	circuits map[string]*design.Circuit     // signal id
	wires    map[string][]*design.Wire      // signal id; "" holds those of no signal
	onCable  map[string][]*design.Wire      // cable id
	infeed   map[string][]*design.Wire      // group id -> its infeed pair
	from     map[string][]*design.Wire      // starting endpoint
	boxes    map[string]*design.JunctionBox // id
	node     map[string]*design.NodeAddress // station
	regs     map[string]*design.Register    // signal id
	devices  map[string]string              // signal id -> device
}

func newIndex(in Input) *index {
	d := in.Design
	ix := &index{
		spots: map[string]spot{}, signals: map[string]*project.Signal{}, places: map[string]*project.Place{},
		cables: map[string]*design.Cable{}, types: map[string]*hardware.Cable{}, fields: map[string]*design.Cable{},
		groups: map[string]*design.SupplyGroup{}, homes: map[string]*design.Station{}, stations: map[string]*design.Station{},
		guards: map[string]*design.Protection{}, feeders: map[string][]*design.Feeder{}, supplies: map[string][]*design.Supply{},
		circuits: map[string]*design.Circuit{}, wires: map[string][]*design.Wire{}, from: map[string][]*design.Wire{}, onCable: map[string][]*design.Wire{}, infeed: map[string][]*design.Wire{},
		boxes: map[string]*design.JunctionBox{}, node: map[string]*design.NodeAddress{}, regs: map[string]*design.Register{}, devices: map[string]string{},
	}
	for i := range in.Project.Signals {
		ix.signals[in.Project.Signals[i].ID] = &in.Project.Signals[i]
	}
	for i := range in.Project.Places {
		ix.places[in.Project.Places[i].ID] = &in.Project.Places[i]
	}
	for i := range in.List.Cables {
		ix.types[in.List.Cables[i].Code] = &in.List.Cables[i]
	}
	for i := range d.Stations {
		ix.sit(&d.Stations[i])
	}
	ix.power(d)
	ix.lay(d)
	return ix
}

func (ix *index) sit(st *design.Station) {
	ix.stations[st.ID] = st
	for i := range st.SupplyGroups {
		ix.groups[st.SupplyGroups[i].ID], ix.homes[st.SupplyGroups[i].ID] = &st.SupplyGroups[i], st
	}
	for i := range st.Slots {
		sl := &st.Slots[i]
		for j := range sl.Channels {
			if c := &sl.Channels[j]; c.Signal != nil {
				ix.spots[c.SignalID] = spot{st, sl, c, ix.groups[sl.SupplyGroup]}
			}
		}
	}
}

func (ix *index) power(d *design.Design) {
	for i := range d.Protections {
		ix.guards[d.Protections[i].Protects] = &d.Protections[i]
	}
	for i := range d.Feeders {
		ix.feeders[d.Feeders[i].Station] = append(ix.feeders[d.Feeders[i].Station], &d.Feeders[i])
	}
	for i := range d.Supplies {
		ix.supplies[d.Supplies[i].Station] = append(ix.supplies[d.Supplies[i].Station], &d.Supplies[i])
	}
	for i := range d.Circuits {
		ix.circuits[d.Circuits[i].Signal] = &d.Circuits[i]
	}
	for i := range d.Network.Addresses {
		ix.node[d.Network.Addresses[i].Station] = &d.Network.Addresses[i]
	}
	for i := range d.Network.Registers {
		ix.regs[d.Network.Registers[i].Signal] = &d.Network.Registers[i]
	}
}

func (ix *index) lay(d *design.Design) {
	for i := range d.JunctionBoxes {
		ix.boxes[d.JunctionBoxes[i].ID] = &d.JunctionBoxes[i]
	}
	for i := range d.Cables {
		c := &d.Cables[i]
		ix.cables[c.ID] = c
		if device, ok := strings.CutPrefix(c.From, "device:"); ok {
			for _, s := range c.Signals {
				ix.fields[s], ix.devices[s] = c, device
			}
		}
	}
	for i := range d.Wires {
		w := &d.Wires[i]
		ix.wires[w.Signal] = append(ix.wires[w.Signal], w)
		ix.from[w.From] = append(ix.from[w.From], w)
		if w.Cable != "" {
			ix.onCable[w.Cable] = append(ix.onCable[w.Cable], w)
		}
	}
	ix.infeeds(d)
	for id := range ix.spots {
		if ix.devices[id] == "" {
			ix.devices[id] = id
			if s := ix.signals[id]; s != nil && s.Device != "" {
				ix.devices[id] = s.Device
			}
		}
	}
}

// infeeds finds the wires that land on each group's infeed point.
func (ix *index) infeeds(d *design.Design) {
	at := map[string]string{} // "station/where" -> group
	for i := range d.Stations {
		st := &d.Stations[i]
		for k := range st.SupplyGroups {
			at[st.ID+"/"+fmt.Sprint(st.SupplyGroups[k].InfeedAt)] = st.SupplyGroups[k].ID
		}
	}
	for i := range d.Wires {
		w := &d.Wires[i]
		if w.Signal != "" || !strings.HasPrefix(w.To, "station:") {
			continue
		}
		e := endOf(w.To)
		if g := at[e.owner+"/"+e.slot]; g != "" {
			ix.infeed[g] = append(ix.infeed[g], w)
		}
	}
}

// screened reports whether a cable's type has a screen.
func (ix *index) screened(c *design.Cable) bool {
	t := ix.types[c.Type]
	return t != nil && t.Screened
}

// placeName is the name of a place, or its id.
func (ix *index) placeName(id string) string {
	if p := ix.places[id]; p != nil && p.Name != "" {
		return p.Name
	}
	return id
}

// supplyOf returns the supply unit behind a DC group: of its feed and, where the list knows, its voltage.
func (b *book) supplyOf(st *design.Station, g *design.SupplyGroup) *design.Supply {
	volts, class := classOf(g)
	feed := "normal"
	if class == "ups" {
		feed = class
	}
	var first *design.Supply
	for _, s := range b.ix.supplies[st.ID] {
		if s.Class != feed {
			continue
		}
		if t, ok := b.List.Supply(s.Type); ok && strconv.Itoa(int(float64(t.Voltage)+0.5))+"vdc" == volts {
			return s
		}
		if first == nil && volts == "24vdc" {
			first = s
		}
	}
	return first
}

// feederOf returns the mains feeder behind a group.
func (b *book) feederOf(st *design.Station, g *design.SupplyGroup) *design.Feeder {
	if s := b.supplyOf(st, g); s != nil {
		for _, f := range b.ix.feeders[st.ID] {
			if f.ID == s.Feeder {
				return f
			}
		}
	}
	_, class := classOf(g)
	for _, f := range b.ix.feeders[st.ID] {
		if f.Class == class || f.Class == "normal" && class != "ups" {
			return f
		}
	}
	return nil
}

// classOf splits a group's class: the voltage kind ("24vdc") and the supply class ("normal", "safety:X").
func classOf(g *design.SupplyGroup) (volts, class string) {
	words := strings.Fields(g.Class)
	switch len(words) {
	case 0:
		return "", ""
	case 1:
		return words[0], ""
	}
	return words[0], words[1]
}

// short takes the station's name off the id of one of its parts: BST-S1-G2 in BST-S1 is G2.
func short(id, station string) string {
	if s, ok := strings.CutPrefix(id, station); ok && len(s) > 1 {
		return strings.TrimLeft(s, "-/.")
	}
	return id
}

// coreNumber orders the cores of a cable: by number, then by name.
func coreNumber(core string) int {
	if n, err := strconv.Atoi(core); err == nil {
		return n
	}
	return 1 << 30
}

// sortedKeys returns a map's keys, ascending.
func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// cutPair takes a subject apart: "device:PT-1" is a device, PT-1.
func cutPair(subject string) (kind, name string, ok bool) {
	kind, name, ok = strings.Cut(subject, ":")
	if !ok {
		return "", subject, false
	}
	return kind, name, true
}
