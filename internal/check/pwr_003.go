package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/hardware"
)

var _ = add(Rule{
	Code: "PWR-003", Title: "Protective device that a fault does not trip",
	Why:     "The smallest fault current must reach the upper edge of the trip band. A supply that limits its current may never trip a thermal-magnetic breaker: the whole station collapses instead, or a wire glows.",
	Example: "A breaker C6 (90 A for DC) behind a supply unit that gives 15 A; the plan takes an electronic device of 6 A, which trips at 9 A, unless a choice fixes the breaker.",
	Source:  "iec-60898-2#instantaneous", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			d, ok := f.List.Protection(g.Protection)
			fault, ok2 := f.Figure("group:" + g.ID + ".fault_min")
			if !ok || !ok2 {
				return finding.Finding{}, false
			}
			edge, holds := trips(d, figure.DC(g), fault)
			if holds || edge == 0 {
				return finding.Finding{}, false
			}
			why := "the conductors allow no more"
			if limited(f, g, fault) {
				why = "its supply units limit their current"
			}
			x := finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("a short in group %d of %s draws %.1f A (%s); %s surely trips only from %.1f A on.", g.Group, st.ID, fault, why, d.Code, edge),
				Figures: figures("fault_a", fault, "A", "trips_a", edge, "A"), Calculation: "group:" + g.ID + ".fault_min",
				Remedy: finding.Remedy{Text: "Take an electronic device, or supply units that give more into a short."},
			}
			if p := tripping(f, st, g, fault); p != nil {
				x.Remedy = offer(st, g, p)
			}
			return x, true
		})
	},
})

// limited reports whether the fault current of a group is what its supply units give at most.
func limited(f *Facts, g *design.SupplyGroup, fault float64) bool {
	limit, ok := f.Design.Calculations["group:"+g.ID+".fault_min"].Inputs["limit"]
	return ok && fault >= limit.Value-1e-9
}

// offer is the remedy that puts another device before a group.
func offer(st *design.Station, g *design.SupplyGroup, p *hardware.Protection) finding.Remedy {
	edge, _ := trips(p, figure.DC(g), 0)
	return finding.Remedy{
		Text:   fmt.Sprintf("Use %s: it trips from %.1f A on.", p.Code, edge),
		Change: []finding.Change{{Subject: "station:" + st.ID, Property: fmt.Sprintf("protection.%d", slotOf(g)), Value: p.Code}},
	}
}
