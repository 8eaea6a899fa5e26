package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "AMB-001", Title: "Part beyond its ambient temperature",
	Why:     "Each part states the air in which it works; a place that is warmer than that needs another part or another place.",
	Example: "A module for 50 degC at a place of 55 degC; a new plan takes another one or another place.",
	Source:  "arithmetic", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			high, _, _, _ := f.Ambient(st.Place)
			check := func(code string, most float64) (finding.Finding, bool) {
				if high <= most {
					return finding.Finding{}, false
				}
				return finding.Finding{
					Severity: finding.Error, Message: fmt.Sprintf("%s: it may be %s degC at %s; %s is made for %s degC at most.", st.ID, num(high, 1), st.Place, code, num(most, 1)),
					Figures: figures("ambient_max_c", high, "degC", "most_c", most, "degC"),
					Remedy:  finding.Remedy{Text: "Release the fixed part, cool the place, or put the station elsewhere."},
				}, true
			}
			if c, ok := f.List.Coupler(st.Coupler); ok {
				if x, bad := check(c.Code, float64(c.AmbientMax)); bad {
					return x, true
				}
			}
			for _, sl := range st.Slots {
				if m, ok := f.List.Module(sl.Module); ok {
					if x, bad := check(m.Code, float64(m.AmbientMax)); bad {
						return x, true
					}
				}
			}
			return finding.Finding{}, false
		})
	},
})
