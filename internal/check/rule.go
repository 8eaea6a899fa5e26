package check

import (
	"cmp"
	"slices"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

// Mend says who may remedy a finding of the rule.
type Mend string

// Who may mend.
const (
	ByPlan   Mend = "the plan"                // the next plan makes the choice by itself unless told otherwise
	ByChoice Mend = "a person's choice"       // a hand choice or an edit of the list
	ByBasis  Mend = "the design basis"        // an assumption of the basis
	ByExpert Mend = "only a competent person" // safety-related: never mended or waived by the tool
)

// Rule is one check.
type Rule struct {
	Code    string // permanent, "GRP-001"
	Title   string
	Why     string // what goes wrong where the rule is broken
	Example string // a case on which it fires, and how it is mended
	Source  string // cite reference
	Mend    Mend
	Run     func(f *Facts) finding.List
}

// Facts is what rules read: the design, what it was made from, and lookups.
type Facts struct {
	Design  *design.Design
	Project *project.Project
	List    *hardware.List

	Signals map[string]*project.Signal // by id
	Places  map[string]*project.Place  // by id
	Seats   map[string]Seat            // where each placed signal sits, by id
}

// Seat is where a signal sits.
type Seat struct {
	Station *design.Station
	Slot    *design.Slot
	Channel *design.Channel
	Module  *hardware.Module
	Set     *hardware.ChannelSet
	Group   *design.SupplyGroup
	Cable   *design.Cable // field cable; nil where there is none
}

// Gather builds the lookups over a design.
func Gather(d *design.Design, p *project.Project, list *hardware.List) *Facts {
	f := &Facts{
		Design: d, Project: p, List: list,
		Signals: make(map[string]*project.Signal, len(p.Signals)),
		Places:  make(map[string]*project.Place, len(p.Places)),
		Seats:   make(map[string]Seat, len(p.Signals)),
	}
	for i := range p.Signals {
		f.Signals[p.Signals[i].ID] = &p.Signals[i]
	}
	for i := range p.Places {
		f.Places[p.Places[i].ID] = &p.Places[i]
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
		f.seat(&d.Stations[i], cableOf)
	}
	return f
}

func (f *Facts) seat(st *design.Station, cableOf map[string]*design.Cable) {
	groups := map[string]*design.SupplyGroup{}
	for i := range st.SupplyGroups {
		groups[st.SupplyGroups[i].ID] = &st.SupplyGroups[i]
	}
	for i := range st.Slots {
		sl := &st.Slots[i]
		m, ok := f.List.Module(sl.Module)
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
				if c.Signal != nil {
					f.Seats[c.SignalID] = Seat{st, sl, c, m, &m.Channels[si], groups[sl.SupplyGroup], cableOf[c.SignalID]}
				}
			}
		}
	}
}

// Run applies every rule and returns the findings in their order.
func Run(f *Facts) finding.List {
	var all finding.List
	for _, r := range All() {
		for _, x := range r.Run(f) {
			x.Rule = r.Code
			if x.Source == "" {
				x.Source = r.Source
			}
			all = append(all, x)
		}
	}
	all.Sort()
	return all
}

// All returns the rules in order of code.
func All() []Rule {
	all := slices.Clone(registered)
	slices.SortFunc(all, func(a, b Rule) int { return cmp.Compare(a.Code, b.Code) })
	return all
}

// registered is filled by the rule files, one add each.
var registered []Rule

func add(r Rule) Rule {
	registered = append(registered, r)
	return r
}

// figures makes the figures of a finding from name, value, unit triples.
func figures(parts ...any) map[string]finding.Figure {
	out := map[string]finding.Figure{}
	for i := 0; i+2 < len(parts); i += 3 {
		out[parts[i].(string)] = finding.Figure{Value: parts[i+1].(float64), Unit: parts[i+2].(string)}
	}
	return out
}
