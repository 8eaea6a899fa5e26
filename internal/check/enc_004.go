package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ENC-004", Title: "Sun on an outdoor enclosure",
	Why:     "The sun on its front can warm an enclosure more than all its parts do.",
	Example: "An outdoor station that reaches 50 degC in the shade and 66 degC in the sun; give it a roof.",
	Source:  "common-practice#solar-gain", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			sunny, ok := f.Figure("station:" + st.ID + ".inside_in_sun")
			limit, ok2 := f.Figure("station:" + st.ID + ".inside_limit")
			gain, _ := f.Figure("station:" + st.ID + ".sun")
			if !ok || !ok2 || sunny <= limit {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("the sun adds up to %.0f W to %s: %.1f degC inside, %s degC allowed by its parts (%.1f degC in the shade).", gain, st.ID, sunny, num(limit, 1), st.InsideMaxC),
				Figures: figures("in_sun_c", sunny, "degC", "limit_c", limit, "degC", "sun_w", gain, "W"), Calculation: "station:" + st.ID + ".inside_in_sun",
				Remedy: finding.Remedy{Text: "Give it a roof or a place in the shade; or state what the sun does to it (basis.climate)."},
			}, true
		})
	},
})
