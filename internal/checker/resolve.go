package checker

import (
	"strings"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// station is a station of design.json with its codes looked up; what is unknown stays nil.
type station struct {
	*docStation
	subject string
	place   project.Place
	env     environment
	con     *hardware.Construction
	coupler *hardware.Coupler
	slots   []*slot
	groups  []*group
}

type slot struct {
	*docSlot
	module   *hardware.Module
	base     *hardware.Base
	channels []*channel // one for each that the module has, as far as design.json lists them
}

// channel is one printed channel: its set, its index in the set, and who uses it.
type channel struct {
	*docChannel
	set    *hardware.ChannelSet
	index  int
	signal *signal // nil: spare or unknown
}

// group is a supply group with what stands in it.
type group struct {
	*docGroup
	subject string
	slots   []*slot // those that name it
	key     string  // of its signals; "" if it has none
	volt    string
	load    int64
	bus     int64 // limit of the infeed point, uA; 0 = not stated
	coupler bool  // fed at the coupler
	ups     bool
}

type spot struct {
	st *station
	sl *slot
	ch *channel
}

// resolve looks every code up, once, and reports those that do not exist.
func (r *run) resolve() {
	r.station, r.at, r.errors = map[string]*station{}, map[string][]spot{}, map[string]bool{}
	for i := range r.d.Stations {
		st := r.newStation(&r.d.Stations[i])
		r.stations = append(r.stations, st)
		r.station[st.ID] = st
	}
	for _, st := range r.stations {
		for i := range st.Slots {
			st.slots = append(st.slots, r.newSlot(st, &st.Slots[i]))
		}
		for i := range st.Groups {
			st.groups = append(st.groups, newGroup(st, &st.Groups[i]))
		}
		for _, g := range st.groups {
			r.fill(st, g)
		}
	}
	for _, f := range r.d.Findings {
		if f.Severity == "error" {
			r.errors[f.Subject] = true
		}
	}
}

func (r *run) newStation(d *docStation) *station {
	st := &station{docStation: d, subject: "station:" + d.ID, con: r.parts.construction[d.Construction], coupler: r.parts.coupler[d.Coupler]}
	pl, ok := r.places[d.Place]
	if !ok {
		r.bad("REF", st.subject, "a place of the project", "place %q", d.Place)
	}
	st.place, st.env = pl, r.environment(pl)
	if st.con == nil {
		r.bad("REF", st.subject, "a construction of the list", "construction %q", d.Construction)
	}
	if st.coupler == nil {
		r.bad("REF", st.subject, "a coupler of the list", "coupler %q", d.Coupler)
	}
	return st
}

func (r *run) newSlot(st *station, d *docSlot) *slot {
	sl := &slot{docSlot: d, module: r.parts.module[d.Module], base: r.parts.base[d.Base]}
	if sl.module == nil {
		r.bad("REF", st.subject, "a module of the list", "slot %d module %q", d.Slot, d.Module)
		return sl
	}
	if d.Base != "" && sl.base == nil {
		r.bad("REF", st.subject, "a base of the list", "slot %d base %q", d.Slot, d.Base)
	}
	n := 0
	for s := range sl.module.Channels {
		set := &sl.module.Channels[s]
		for i := range set.Count {
			if n < len(d.Channels) {
				r.newChannel(st, sl, &d.Channels[n], set, i)
			}
			n++
		}
	}
	if n != len(d.Channels) {
		r.bad("ONCE", st.subject, "every channel of the module listed once", "slot %d lists %d channels of %d", d.Slot, len(d.Channels), n)
	}
	return sl
}

func (r *run) newChannel(st *station, sl *slot, d *docChannel, set *hardware.ChannelSet, i int) {
	ch := &channel{docChannel: d, set: set, index: i}
	sl.channels = append(sl.channels, ch)
	if want := printed(set, i); d.Channel != want || d.Kind != string(set.Kind) {
		r.bad("ONCE", st.subject, "channels as printed, in order", "slot %d channel %s %d where %s %d stands", sl.Slot, d.Kind, d.Channel, set.Kind, want)
	}
	if d.SignalID != "" {
		ch.signal = r.sig[d.SignalID]
		r.at[d.SignalID] = append(r.at[d.SignalID], spot{st, sl, ch})
	}
}

func printed(set *hardware.ChannelSet, i int) int {
	step := set.Step
	if step == 0 {
		step = 1
	}
	return set.First + i*step
}

func newGroup(st *station, d *docGroup) *group {
	g := &group{docGroup: d, subject: "group:" + d.ID}
	for _, sl := range st.slots {
		if sl.Group == d.ID {
			g.slots = append(g.slots, sl)
		}
	}
	return g
}

// fill adds up what the group's modules and signals draw, and finds its infeed point's limit.
func (r *run) fill(st *station, g *group) {
	g.coupler = g.InfeedAt == "coupler"
	for _, sl := range g.slots {
		if sl.module == nil {
			continue
		}
		if g.volt == "" {
			g.volt = sl.module.SupplyKind
		}
		g.load += int64(sl.module.Supply)
		for _, ch := range sl.channels {
			if ch.signal == nil {
				continue
			}
			g.load += load(ch.signal, ch.set)
			if g.key == "" {
				g.key, g.ups = r.groupKey(ch.signal), ch.signal.supply == "ups"
			}
		}
	}
	if g.key == "" {
		g.ups = classOf(g.Class) == "ups"
	}
	if st.con == nil {
		return
	}
	if g.coupler {
		g.bus = int64(st.con.CouplerLimit)
		return
	}
	if len(g.slots) == 0 || g.slots[0].module == nil {
		return
	}
	switch first := g.slots[0]; {
	case st.con.Opening == hardware.ByBase && first.base != nil:
		g.bus = int64(first.base.BusLimit)
	case st.con.Opening != hardware.ByBase:
		g.bus = int64(first.module.BusLimit)
	}
}

// classOf is the supply class of a group whose class is stated as such or as the whole group key.
func classOf(class string) string {
	if words := strings.Fields(class); len(words) >= 3 {
		return words[1]
	}
	return class
}

// used are the channels with a signal of the list.
func (sl *slot) used() []*channel {
	var out []*channel
	for _, ch := range sl.channels {
		if ch.signal != nil {
			out = append(out, ch)
		}
	}
	return out
}
