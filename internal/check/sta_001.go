package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "STA-001", Title: "Logic supply overloaded",
	Why:     "Modules beyond what the coupler can feed drop out, often only when the cabinet is warm.",
	Example: "Thirty modules of 90 mA behind a coupler of 2 A; a new plan takes a larger coupler or a second station.",
	Source:  "arithmetic", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			if st.LogicCurrentMA <= st.LogicLimitMA {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "station:" + st.ID,
				Message:     fmt.Sprintf("the modules of %s draw %.0f mA from the logic supply, %.0f mA allowed by coupler %s.", st.ID, st.LogicCurrentMA, st.LogicLimitMA, st.Coupler),
				Figures:     figures("logic_current_ma", st.LogicCurrentMA, "mA", "logic_limit_ma", st.LogicLimitMA, "mA"),
				Remedy:      finding.Remedy{Text: "Release the fixed coupler or slots, or allow a second station at the place."},
				Calculation: "station:" + st.ID + ".logic",
			})
		}
		return out
	},
})
