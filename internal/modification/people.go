package modification

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/project"
	"railwright/internal/words"
)

// people knows of each signal what those must know who allow an outage.
type people struct {
	signals map[string]*project.Signal
}

func peopleOf(in Input) *people {
	p := &people{signals: map[string]*project.Signal{}}
	for _, proj := range []*project.Project{in.NewProject, in.OldProject} {
		if proj == nil {
			continue
		}
		for i := range proj.Signals {
			p.signals[proj.Signals[i].ID] = &proj.Signals[i]
		}
	}
	return p
}

// outage says what an outage of a unit means.
func (b *builder) outage(unit string) Outage {
	o := Outage{Number: len(b.m.Outages) + 1, Unit: unit, Signals: b.site.off([]string{unit})}
	together := b.site.off(b.offNow)
	for _, id := range o.Signals {
		s := b.people.signals[id]
		if s == nil {
			continue
		}
		if s.Kind == project.DO || s.Kind == project.AO {
			state := s.SafeState
			if state == "" {
				state = words.Text("modification.no_safe_state")
			}
			o.Trips = append(o.Trips, fmt.Sprintf("%s: %s", b.tag(id), state))
		}
		for _, partner := range s.RedundantWith {
			if id < partner && slices.Contains(together, partner) {
				o.Partners = append(o.Partners, b.tag(id)+" + "+b.tag(partner))
			}
		}
	}
	o.Permissions = b.permissions(o.Signals)
	return o
}

// permissions lists who must allow an outage: operations always, others by what is out.
func (b *builder) permissions(ids []string) []string {
	out := []string{words.Text("modification.permit_operations")}
	add := func(text string) {
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	for _, id := range ids {
		s := b.people.signals[id]
		if s == nil {
			continue
		}
		if strings.HasPrefix(string(s.SupplyClass), "safety") {
			add(words.Text("modification.permit_safety"))
		}
		if s.ExLevel != "" {
			add(words.Text("modification.permit_ex"))
		}
		if strings.Contains(s.Form, "230v") || strings.Contains(s.Form, "120v") {
			add(words.Text("modification.permit_mains"))
		}
	}
	return out
}

func (b *builder) isolateText(unit string) string {
	id := idOf(unit)
	switch kindOf(unit) {
	case "group":
		return words.Text("modification.isolate_group", id, b.protectionOf("group:"+id), b.site.owner(id))
	case "network":
		return words.Text("modification.isolate_network", id)
	}
	var feeds []string
	for _, f := range b.in.Old.Feeders {
		if f.Station == id {
			feeds = append(feeds, f.Protection)
		}
	}
	return words.Text("modification.isolate_station", id, strings.Join(feeds, ", "))
}

func (b *builder) restoreText(unit string) string {
	if kindOf(unit) == "network" {
		return words.Text("modification.restore_network", idOf(unit))
	}
	return words.Text("modification.restore", idOf(unit))
}

func (b *builder) protectionOf(subject string) string {
	i := slices.IndexFunc(b.in.Old.Protections, func(p design.Protection) bool { return p.Protects == subject })
	if i < 0 {
		return words.Text("modification.its_protection")
	}
	return b.in.Old.Protections[i].ID
}

func (b *builder) isolateCautions(o Outage) []string {
	out := []string{words.Text("modification.caution_off")}
	if len(o.Trips) > 0 {
		out = append(out, words.Text("modification.caution_trips", strings.Join(o.Trips, "; ")))
	}
	if len(o.Partners) > 0 {
		out = append(out, words.Text("modification.caution_partners", strings.Join(o.Partners, "; ")))
	}
	return out
}

// cautions of the work itself.
func cautions(acts []act) []string {
	var out []string
	for _, a := range acts {
		switch {
		case kindOf(a.change.Key) == feeder:
			out = append(out, words.Text("modification.caution_mains"))
		case a.kind == Fit || a.kind == TakeOut:
			out = append(out, words.Text("modification.caution_esd"))
		case a.kind == Unland && a.parked:
			out = append(out, words.Text("modification.caution_loose"))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
