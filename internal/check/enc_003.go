package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ENC-003", Title: "Condensation in an outdoor enclosure",
	Why:     "On a clear night the walls are colder than the air inside; what condenses on the boards corrodes them. A few watts keep the inside dry.",
	Example: "An outdoor station at -15 degC and 80 % humidity wants 30 W of heat.",
	Source:  "wmo-8#magnus", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			dry, ok := f.Figure("station:" + st.ID + ".dry")
			if !ok || st.HeaterW <= 0 || st.InsideMinC >= dry {
				return finding.Finding{}, false
			}
			_, low, _, _ := f.Ambient(st.Place)
			c := &f.Project.Basis.Climate
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("at %s degC and %s %% humidity the inside of %s must be %.1f degC to keep below %s %%; idle it reaches %.1f degC.",
					num(low, 1), num(float64(c.Humidity)/10, 0), st.ID, dry, num(float64(c.Dry)/10, 0), st.InsideMinC),
				Figures: figures("inside_min_c", st.InsideMinC, "degC", "dry_from_c", dry, "degC", "heater_w", st.HeaterW, "W"), Calculation: "station:" + st.ID + ".heater",
				Remedy: finding.Remedy{Text: fmt.Sprintf("Fit a heater of %.0f W with a hygrostat, and a drain or breather plug.", st.HeaterW)},
			}, true
		})
	},
})
