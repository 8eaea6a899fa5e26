package schedule

import (
	"strings"

	"railwright/internal/design"
	"railwright/internal/hardware"
)

// spot is where a signal ended up.
type spot struct {
	station *design.Station
	slot    *design.Slot
	channel *design.Channel
	set     *hardware.ChannelSet // nil where the hardware list does not know the module
	n       int                  // the channel's place in the set, from 0
}

// clamp is one clamping point of a channel and what it is for.
type clamp struct{ function, label string }

// clamps lists the clamping points of a channel: those that its signal uses, in the order in which an
// electrician lands them, then the others that the hardware list knows.
func (s spot) clamps() []clamp {
	var out []clamp
	known := map[string]bool{}
	for _, f := range functions(s.channel.Terminals) {
		out = append(out, clamp{f, s.channel.Terminals[f]})
		known[s.channel.Terminals[f]] = true
	}
	if s.set == nil {
		return out
	}
	rest := map[string]string{}
	for _, t := range s.set.Terminals {
		rest[t.Function] = s.set.Label(t, s.n)
	}
	for _, f := range functions(rest) {
		if label := rest[f]; !known[label] {
			known[label] = true
			out = append(out, clamp{f, label})
		}
	}
	return out
}

// index finds things of one design by id.
type index struct {
	spots  map[string]spot             // signal id
	cables map[string]*design.Cable    // cable id
	types  map[string]*hardware.Cable  // cable type code -> data; the cables of the design only
	fields map[string]*design.Cable    // signal id -> its field cable
	lands  map[string][]*design.Wire   // endpoint -> wires
	tags   map[string]string           // signal id -> tag
	lost   map[string]*design.Unplaced // signal id
	regs   map[string]*design.Register // signal id
	named  map[string]string           // station id -> name
	landed map[string][]*design.Wire   // cable id -> wires
	every  []spot                      // every channel in the order of stations, slots and channels
}

func newIndex(d *design.Design, list *hardware.List) *index {
	ix := &index{
		spots: map[string]spot{}, cables: map[string]*design.Cable{}, types: map[string]*hardware.Cable{}, fields: map[string]*design.Cable{},
		lands: map[string][]*design.Wire{}, tags: map[string]string{}, lost: map[string]*design.Unplaced{}, regs: map[string]*design.Register{},
		named: map[string]string{}, landed: map[string][]*design.Wire{},
	}
	for i := range d.Stations {
		ix.seat(&d.Stations[i], list)
	}
	for i := range d.Cables {
		c := &d.Cables[i]
		ix.cables[c.ID] = c
		if list != nil {
			if e, ok := list.Cable(c.Type); ok {
				ix.types[c.Type] = e
			}
		}
		for _, s := range c.Signals {
			if c.Use == "field" || ix.fields[s] == nil {
				ix.fields[s] = c
			}
		}
	}
	for i := range d.Wires {
		w := &d.Wires[i]
		ix.lands[w.From] = append(ix.lands[w.From], w)
		ix.lands[w.To] = append(ix.lands[w.To], w)
		ix.landed[w.Cable] = append(ix.landed[w.Cable], w)
	}
	for i := range d.Unplaced {
		ix.lost[d.Unplaced[i].Signal] = &d.Unplaced[i]
	}
	for i := range d.Network.Registers {
		ix.regs[d.Network.Registers[i].Signal] = &d.Network.Registers[i]
	}
	return ix
}

func (ix *index) seat(st *design.Station, list *hardware.List) {
	ix.named[st.ID] = st.Name
	for j := range st.Slots {
		sl := &st.Slots[j]
		var m *hardware.Module
		if list != nil {
			m, _ = list.Module(sl.Module)
		}
		for k := range sl.Channels {
			set, n := setOf(m, k)
			at := spot{st, sl, &sl.Channels[k], set, n}
			ix.every = append(ix.every, at)
			if at.channel.Signal != nil {
				ix.spots[at.channel.SignalID] = at
				ix.tags[at.channel.SignalID] = *at.channel.Signal
			}
		}
	}
}

// setOf is the run of like channels to which a module's channel (counted from 0 over all runs) belongs,
// and its place there.
func setOf(m *hardware.Module, channel int) (*hardware.ChannelSet, int) {
	if m == nil {
		return nil, 0
	}
	for i := range m.Channels {
		if channel < m.Channels[i].Count {
			return &m.Channels[i], channel
		}
		channel -= m.Channels[i].Count
	}
	return nil, 0
}

// typeOf is the data of a cable's type; nil where they are not known.
func (ix *index) typeOf(c *design.Cable) *hardware.Cable {
	if c == nil {
		return nil
	}
	return ix.types[c.Type]
}

func (ix *index) cableName(id string) string {
	if c := ix.cables[id]; c != nil {
		return c.Name
	}
	return id
}

// end is one end of a wire, taken apart.
type end struct {
	kind     string // "device", "station", "junction_box", "supply_bar", "protection", ...
	at       string // name or id of the thing
	slot     string // stations: slot number or "coupler"
	terminal string // devices: function of the conductor
}

// endOf takes an endpoint apart. Terminals hold no "/", so it is read from the right; the id of the
// signal stands between device and function where the wire carries one.
func endOf(endpoint, signal string) end {
	kind, rest, _ := strings.Cut(endpoint, ":")
	e := end{kind: kind, at: rest}
	cut := func() string {
		i := strings.LastIndexByte(e.at, '/')
		if i < 0 {
			return ""
		}
		last := e.at[i+1:]
		e.at = e.at[:i]
		return last
	}
	switch kind {
	case "place", "controller", "board":
		return e
	}
	e.terminal = cut()
	switch kind {
	case "station":
		e.slot = cut()
	case "device":
		if signal != "" {
			e.at = strings.TrimSuffix(e.at, "/"+signal)
		}
	}
	return e
}

// point prints an endpoint for people: "S1 : 3 : A1". Stations go by their id, which is what is printed
// on them and short enough for a marker.
func (ix *index) point(endpoint, signal string) string {
	e := endOf(endpoint, signal)
	at := e.at
	switch e.kind {
	case "controller":
		at = "controller"
	case "device":
		if tag := ix.tags[signal]; tag != "" && tag != e.at {
			at += " (" + tag + ")"
		}
	}
	for _, s := range []string{e.slot, e.terminal} {
		if s != "" {
			at += " : " + s
		}
	}
	return at
}

// thing prints one end of a cable for people.
func (ix *index) thing(subject string) string {
	kind, id, _ := strings.Cut(subject, ":")
	if id == "" {
		return kind
	}
	return id
}
