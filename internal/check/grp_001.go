package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "GRP-001", Title: "Supply group overloaded",
	Why:     "All loads of a group may be on at once; beyond the limit its protective device trips or its supply bus burns.",
	Example: "Twelve valves of 0.8 A on one group of 8 A; begin a second group, which a new plan does by itself.",
	Source:  "common-practice#coincidence-1", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			for _, g := range st.SupplyGroups {
				if g.LoadMA <= g.LimitMA {
					continue
				}
				out = append(out, finding.Finding{
					Severity: finding.Error, Subject: "group:" + g.ID,
					Message:     fmt.Sprintf("group %d of %s draws %.0f mA, %.0f mA allowed.", g.Group, st.ID, g.LoadMA, g.LimitMA),
					Figures:     figures("load_ma", g.LoadMA, "mA", "limit_ma", g.LimitMA, "mA"),
					Remedy:      finding.Remedy{Text: "Release the fixed channels of this group so that the plan can begin another, or raise group.max_current_a in the basis if the hardware allows it."},
					Calculation: "group:" + g.ID + ".load",
				})
			}
		}
		return out
	},
})
