package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ENC-006", Title: "Indoor enclosure outdoors",
	Why:     "Rain, dust and sun get into an enclosure that is not made for them.",
	Example: "An enclosure of IP55 without an outdoor mark at an outdoor place; a new plan takes one that is marked.",
	Source:  "common-practice#ip", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			p := f.Places[st.Place]
			e, ok := f.List.Enclosure(st.Enclosure)
			if p == nil || !p.Outdoor || !ok || e.Outdoor {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s stands outdoors (%s) in enclosure %s (%s), which is not made for it.", st.ID, p.Name, e.Code, e.IP),
				Remedy: finding.Remedy{Text: "Plan again, or take an enclosure that is marked outdoor."},
			}, true
		})
	},
})
