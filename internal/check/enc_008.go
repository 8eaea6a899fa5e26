package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "ENC-008", Title: "Enclosure without its reserve",
	Why:     "Rail that is full on the first day takes no terminal more; the reserve of the basis keeps some free.",
	Example: "A station of 900 mm with supply units and devices on 1000 mm of rail and 20 % asked; a new plan takes a larger enclosure.",
	Source:  "common-practice#enclosure-reserve", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			e, ok := f.List.Enclosure(st.Enclosure)
			if !ok {
				return finding.Finding{}, false
			}
			used := st.RailMM
			for _, s := range f.Design.Supplies {
				if u, ok := f.List.Supply(s.Type); ok && s.Station == st.ID {
					used += int64(u.Width)
				}
			}
			for _, g := range st.SupplyGroups {
				if d, ok := f.List.Protection(g.Protection); ok {
					used += int64(d.Width)
				}
			}
			asked := q.CeilDiv(used*(1000+f.Project.Basis.Reserve["enclosure"]), 1000)
			if asked <= int64(e.Rail) && st.RailMM <= int64(e.Row) {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s takes %d mm of rail, %d mm with the reserve, the station %d mm in one row; %s has %d mm in rows of %d mm.", st.ID, used, asked, st.RailMM, e.Code, int64(e.Rail), int64(e.Row)),
				Figures: figures("rail_mm", float64(used), "mm", "with_reserve_mm", float64(asked), "mm", "available_mm", float64(e.Rail), "mm"),
				Remedy:  finding.Remedy{Text: "Plan again, add a larger enclosure to hardware.toml, or lower the reserve in the basis."},
			}, true
		})
	},
})
