package schedule

import (
	"railwright/internal/design"
	"railwright/internal/project"
	"railwright/internal/words"
)

// All returns every schedule of a design, always the same ones in the same order, also where one
// has no rows. The project is the one that the design was made from; it gives the columns of the
// issued signal list that a design does not repeat.
func All(d *design.Design, p *project.Project) []Table {
	ix := newIndex(d)
	return []Table{
		overview(d),
		signals(d, p, ix),
		stations(d),
		slots(d),
		channels(d, ix),
		terminals(d, ix),
		addresses(d),
		groups(d),
		supplies(d),
		feeders(d),
		protections(d),
		cables(d),
		wires(d, ix),
		boxes(d),
		segments(d),
		nodes(d),
		parts(d),
		partsFor(d),
		labour(d),
		cost(d),
		findings(d),
		unplaced(d),
	}
}

func table(key string, heads ...string) Table {
	return Table{Key: key, Title: words.Text("schedule." + key), Heads: heads}
}

// spot is where a signal ended up.
type spot struct {
	station *design.Station
	slot    *design.Slot
	channel *design.Channel
}

// index finds things of one design by id.
type index struct {
	spots  map[string]spot             // signal id
	cables map[string]*design.Cable    // cable id
	fields map[string]*design.Cable    // signal id -> its field cable
	lands  map[string][]*design.Wire   // terminal endpoint -> wires
	tags   map[string]string           // signal id -> tag
	lost   map[string]*design.Unplaced // signal id
	regs   map[string]*design.Register // signal id
}

func newIndex(d *design.Design) *index {
	ix := &index{
		spots: map[string]spot{}, cables: map[string]*design.Cable{}, fields: map[string]*design.Cable{},
		lands: map[string][]*design.Wire{}, tags: map[string]string{}, lost: map[string]*design.Unplaced{}, regs: map[string]*design.Register{},
	}
	for i := range d.Stations {
		st := &d.Stations[i]
		for j := range st.Slots {
			sl := &st.Slots[j]
			for k := range sl.Channels {
				if ch := &sl.Channels[k]; ch.Signal != nil {
					ix.spots[ch.SignalID] = spot{st, sl, ch}
					ix.tags[ch.SignalID] = *ch.Signal
				}
			}
		}
	}
	for i := range d.Cables {
		c := &d.Cables[i]
		ix.cables[c.ID] = c
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
	}
	for i := range d.Unplaced {
		ix.lost[d.Unplaced[i].Signal] = &d.Unplaced[i]
	}
	for i := range d.Network.Registers {
		ix.regs[d.Network.Registers[i].Signal] = &d.Network.Registers[i]
	}
	return ix
}

// eachChannel calls f for every channel in the order of stations, slots and channels.
func eachChannel(d *design.Design, f func(s spot)) {
	for i := range d.Stations {
		st := &d.Stations[i]
		for j := range st.Slots {
			sl := &st.Slots[j]
			for k := range sl.Channels {
				f(spot{st, sl, &sl.Channels[k]})
			}
		}
	}
}
