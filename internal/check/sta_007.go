package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "STA-007", Title: "Fewer free slots than the basis asks for",
	Why:     "A free slot takes the module that nobody foresaw; without one a single signal of a new kind costs a station.",
	Example: "A frozen station whose last slot was used; accept it, or raise max_slots at its place.",
	Source:  "common-practice#spare", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			con, ok := f.List.Construction(st.Construction)
			c, ok2 := f.List.Coupler(st.Coupler)
			if !ok || !ok2 {
				return finding.Finding{}, false
			}
			most := min(con.MaxSlots, c.MaxSlots)
			if p := f.Places[st.Place]; p != nil && p.MaxSlots > 0 {
				most = min(most, p.MaxSlots)
			}
			free := most - len(st.Slots)
			if asked := f.Project.Basis.FreeSlots; free >= asked || free < 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s has %d of %d slots free; the basis asks for %d.", st.ID, free, most, f.Project.Basis.FreeSlots),
				Figures: figures("free_slots", float64(free), "1", "asked", float64(f.Project.Basis.FreeSlots), "1"),
				Remedy:  finding.Remedy{Text: "Accept it, or plan a second station at the place."},
			}, true
		})
	},
})
