package figure

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

// View is a design, what it was made from, and lookups over both.
type View struct {
	Design  *design.Design
	Project *project.Project
	List    *hardware.List

	Signals map[string]*project.Signal // by id
	Places  map[string]*project.Place  // by id
	Seats   map[string]Seat            // where each placed signal sits, by id
	Placed  []string                   // ids of the placed signals, ascending

	Circuits map[string]*design.Circuit // by signal id; empty before circuit.Figures
}

// Seat is where a signal sits.
type Seat struct {
	Station *design.Station
	Slot    *design.Slot
	Channel *design.Channel
	Module  *hardware.Module
	Set     *hardware.ChannelSet
	Group   *design.SupplyGroup
	Cable   *design.Cable   // field cable; nil where there is none
	Type    *hardware.Cable // its type; nil where there is none
}

// Look builds the lookups over a design.
func Look(d *design.Design, p *project.Project, list *hardware.List) *View {
	v := &View{
		Design: d, Project: p, List: list,
		Signals: make(map[string]*project.Signal, len(p.Signals)),
		Places:  make(map[string]*project.Place, len(p.Places)),
		Seats:   make(map[string]Seat, len(p.Signals)),

		Circuits: make(map[string]*design.Circuit, len(d.Circuits)),
	}
	for i := range d.Circuits {
		v.Circuits[d.Circuits[i].Signal] = &d.Circuits[i]
	}
	for i := range p.Signals {
		v.Signals[p.Signals[i].ID] = &p.Signals[i]
	}
	for i := range p.Places {
		v.Places[p.Places[i].ID] = &p.Places[i]
	}
	cableOf := map[string]*design.Cable{}
	for i := range d.Cables {
		if d.Cables[i].Use == "field" {
			for _, s := range d.Cables[i].Signals {
				cableOf[s] = &d.Cables[i]
			}
		}
	}
	for i := range d.Stations {
		v.sit(&d.Stations[i], cableOf)
	}
	for id := range v.Seats {
		v.Placed = append(v.Placed, id)
	}
	slices.Sort(v.Placed)
	return v
}

func (v *View) sit(st *design.Station, cableOf map[string]*design.Cable) {
	groups := map[string]*design.SupplyGroup{}
	for i := range st.SupplyGroups {
		groups[st.SupplyGroups[i].ID] = &st.SupplyGroups[i]
	}
	for i := range st.Slots {
		sl := &st.Slots[i]
		m, ok := v.List.Module(sl.Module)
		if !ok {
			continue
		}
		n := 0
		for si := range m.Channels {
			for range m.Channels[si].Count {
				if n >= len(sl.Channels) {
					break
				}
				c := &sl.Channels[n]
				n++
				if c.Signal == nil {
					continue
				}
				s := Seat{Station: st, Slot: sl, Channel: c, Module: m, Set: &m.Channels[si], Group: groups[sl.SupplyGroup], Cable: cableOf[c.SignalID]}
				if s.Cable != nil {
					s.Type, _ = v.List.Cable(s.Cable.Type)
				}
				v.Seats[c.SignalID] = s
			}
		}
	}
}

// Figure returns the result of a calculation of the design; false where there is none.
func (v *View) Figure(id string) (float64, bool) {
	r, ok := v.Design.Calculations[id]
	return r.Result.Value, ok
}

// Voltage returns the voltage kind of a supply group: "24vdc", "48vdc", "120vac", "230vac".
func Voltage(g *design.SupplyGroup) string {
	if g == nil {
		return ""
	}
	kind, _, _ := strings.Cut(g.Class, " ")
	return kind
}

// DC reports whether a supply group carries direct voltage.
func DC(g *design.SupplyGroup) bool { return strings.HasSuffix(Voltage(g), "vdc") }

// SupplyOf returns the supply class of a group: "normal", "ups" or "safety:NAME".
func SupplyOf(g *design.SupplyGroup) string {
	if g == nil {
		return ""
	}
	words := strings.Fields(g.Class)
	if len(words) < 2 {
		return ""
	}
	return words[1]
}

// Feed returns the supply class of the units and feeders behind a group: "ups", or "normal" for
// everything else.
func Feed(g *design.SupplyGroup) string {
	if SupplyOf(g) == "ups" {
		return "ups"
	}
	return "normal"
}

// ReactionID names the record of a seat's reaction time: one for each module type and kind in a station.
func ReactionID(s Seat) string {
	return fmt.Sprintf("station:%s.reaction.%s.%s", s.Station.ID, s.Module.Code, s.Set.Kind)
}
