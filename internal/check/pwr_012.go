package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "PWR-012", Title: "Device chosen for the fault current",
	Why:     "The cheapest device that carries a group may be one that a short never trips, that does not break it, or that takes the feeder with it. The plan then takes the cheapest that does its work, and says so.",
	Example: "A breaker C6 is cheaper, but a short draws 15 A and it trips from 90 A on; the plan takes an electronic device of 6 A.",
	Source:  "iec-60364-4-43#434.5.1", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		off, choices := notUsed(f), fixedChoices(f)
		return groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			have, ok := f.List.Protection(g.Protection)
			fault, ok2 := f.Figure("group:" + g.ID + ".fault_min")
			cheap, ok3 := fit.ProtectionFor(f.List, figure.Voltage(g), q.ToMicroamps(q.Current(g.LoadMA/1000)), busLimit(f, st, g), off)
			if !ok || !ok2 || !ok3 || cheap.Price >= have.Price || choices.told("station:"+st.ID, fmt.Sprintf("protection.%d", slotOf(g))) {
				return finding.Finding{}, false
			}
			edge, holds := trips(cheap, figure.DC(g), fault)
			mine, _ := trips(have, figure.DC(g), fault)
			why := fmt.Sprintf("a short draws %.1f A at least and %s surely trips from %.1f A on", fault, cheap.Code, edge)
			if holds {
				why = fmt.Sprintf("%s does not break the largest short, or is not selective to the feeder's device", cheap.Code)
			}
			return finding.Finding{
				Severity: finding.Info, Message: fmt.Sprintf("group %d of %s is behind %s, which trips from %.1f A on, though %s costs less: %s.", g.Group, st.ID, have.Code, mine, cheap.Code, why),
				Figures: figures("fault_a", fault, "A", "trips_a", mine, "A", "cheaper_trips_a", edge, "A"), Calculation: "group:" + g.ID + ".fault_min",
				Remedy: finding.Remedy{Text: "None needed; fix another device by hand if you know better."},
			}, true
		})
	},
})

// busLimit is the most that a group's infeed point takes; 0 where none is stated.
func busLimit(f *Facts, st *design.Station, g *design.SupplyGroup) q.Microamps {
	c, ok := f.List.Construction(st.Construction)
	n, slot := g.InfeedAt.(int)
	switch {
	case !ok:
		return 0
	case !slot || n < 1 || n > len(st.Slots):
		return c.CouplerLimit
	}
	if m, ok := f.List.Module(st.Slots[n-1].Module); ok && (m.Infeed || c.Opening == hardware.ByEach) {
		return m.BusLimit
	}
	b, _ := f.List.Base(st.Slots[n-1].Base)
	if b == nil {
		return 0
	}
	return b.BusLimit
}

// notUsed are the part codes that choices forbid.
func notUsed(f *Facts) map[string]bool {
	off := map[string]bool{}
	for _, d := range f.Project.Decisions() {
		if code, ok := cutPart(d.Subject); ok && d.Property == "use" && d.Value == "no" {
			off[code] = true
		}
	}
	return off
}

func cutPart(subject string) (string, bool) {
	const kind = "part:"
	if len(subject) > len(kind) && subject[:len(kind)] == kind {
		return subject[len(kind):], true
	}
	return "", false
}

// fixed are the choices that fix something, by subject and property.
type fixed map[string]bool

func fixedChoices(f *Facts) fixed {
	out := fixed{}
	for _, d := range f.Project.Decisions() {
		if d.Strength == project.Fixed {
			out[d.Subject+" "+d.Property] = true
		}
	}
	return out
}

// told reports whether a choice fixes the property of the subject.
func (x fixed) told(subject, property string) bool { return x[subject+" "+property] }
