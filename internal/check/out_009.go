package check

import (
	"fmt"
	"slices"

	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/routes"
)

var _ = add(Rule{
	Code: "OUT-009", Title: "Load out of reach",
	Why:     "A load too far from every place where a station may stand gets too little voltage on any conductor of the list, so no plan can serve it.",
	Example: "A valve of 900 mA and 21.6 V that is 330 m from the nearest candidate place; allow a place nearer to it, or take a coil of 120 mA.",
	Source:  "arithmetic#ohm", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, u := range f.Design.Unplaced {
			s := f.Signals[u.Signal]
			if s == nil || u.Proof == "row" || s.Kind != project.DO || !s.MinVoltage.Set {
				continue
			}
			if x, bad := outOfReach(f, s); bad {
				out = append(out, x)
			}
		}
		return out
	},
})

// outOfReach computes the voltage at a load that was left out, from the nearest candidate place over
// the largest conductor that the list has for it.
func outOfReach(f *Facts, s *project.Signal) (finding.Finding, bool) {
	place, way := nearestCandidate(f, s.Place)
	c := largestField(f, s)
	kind := fit.VoltageKind(s)
	if place == "" || c == nil || !fit.DC(kind) {
		return finding.Finding{}, false
	}
	b := &f.Project.Basis
	source := float64(f.Project.Power.SupplyMin)
	if kind == fit.V48 {
		source *= 2
	}
	i := float64(fit.SignalCurrent(s, b).Current())
	length := project.Laid(way, b.Cable.AllowDevice, b.Cable.AllowStation).Metres()
	loop, ok := loopOf(c, length)
	least := float64(s.MinVoltage.Value)
	if u := source - i*loop; ok && i > 0 && u < least {
		reach := max(0, length*(source-least)/(i*loop))
		return finding.Finding{
			Severity: finding.Error, Subject: "signal:" + s.ID,
			Message: fmt.Sprintf("%s would get %.1f V at %s mA over %.0f m of %s mm2 from %s, the nearest place for a station; %s V needed.",
				s.Tag, u, num(i*1000, 0), length, num(float64(c.Area), 2), place, num(least, 2)),
			Figures: figures("at_load_v", u, "V", "needed_v", least, "V", "reach_m", reach, "m"),
			Remedy: finding.Remedy{Text: fmt.Sprintf("Allow a place for a station within %.0f m, take a load of %.0f mA at most, or switch it by a relay near it.",
				reach, 1000*(source-least)/loop)},
		}, true
	}
	return finding.Finding{}, false
}

// nearestCandidate is the nearest place where a station may stand, with the way to it.
func nearestCandidate(f *Facts, from string) (place string, way q.Millimetres) {
	ids := make([]string, 0, len(f.Project.Places))
	for i := range f.Project.Places {
		ids = append(ids, f.Project.Places[i].ID)
	}
	rs := make([]routes.Route, 0, len(f.Project.Routes))
	for _, r := range f.Project.Routes {
		rs = append(rs, routes.Route{ID: r.ID, A: r.From, B: r.To, LengthMM: int64(r.Length)})
	}
	slices.Sort(ids)
	graph, _ := routes.New(ids, rs)
	ways, err := graph.From(from)
	if err != nil {
		return "", 0
	}
	for _, id := range ids {
		p := f.Places[id]
		if !p.Candidate || p.Forbidden {
			continue
		}
		l, ok := ways.LengthMM(id)
		if id == from {
			l, ok = int64(p.Local), true
		}
		if ok && (place == "" || q.Millimetres(l) < way) {
			place, way = id, q.Millimetres(l)
		}
	}
	return place, way
}

// largestField is the field cable of largest conductor for a signal of its own.
func largestField(f *Facts, s *project.Signal) *hardware.Cable {
	bundles := fit.Bundles([]project.Signal{*s}, &f.Project.Basis)
	if len(bundles) == 0 {
		return nil
	}
	need := fit.Need(bundles[0], []project.Signal{*s}, &f.Project.Basis, "")
	var best *hardware.Cable
	for i := range f.List.Cables {
		c := &f.List.Cables[i]
		if c.Use == "field" && c.Family == need.Family && c.Cores >= need.Cores && (c.Screened || !need.Screened) && (best == nil || c.Area > best.Area) {
			best = c
		}
	}
	return best
}
