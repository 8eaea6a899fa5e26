package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "ENC-009", Title: "Larger enclosure chosen for the heat",
	Why:     "The cheapest enclosure that holds a station may be too small to keep it cool. The plan then takes the cheapest that does, and says so.",
	Example: "A station for which 600 x 600 mm would do sits in 1000 x 800 mm: its 31 W at 52 degC ambient would make it 62 degC warm in the smaller one.",
	Source:  "iec-tr-60890#heat-balance", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		off, choices := notUsed(f), fixedChoices(f)
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			have, ok := f.List.Enclosure(st.Enclosure)
			inside, ok2 := f.Figure("station:" + st.ID + ".inside_max")
			limit, _ := f.Figure("station:" + st.ID + ".inside_limit")
			if !ok || !ok2 || inside > limit || choices.told("station:"+st.ID, "enclosure") {
				return finding.Finding{}, false
			}
			rail, outdoor := enclosed(f, st), f.Places[st.Place] != nil && f.Places[st.Place].Outdoor
			for i := range f.List.Enclosures {
				e := &f.List.Enclosures[i]
				if off[e.Code] || e.Price >= have.Price || e.Rail < rail || int64(e.Row) < st.RailMM || outdoor && !e.Outdoor {
					continue
				}
				return finding.Finding{
					Severity: finding.Info, Message: fmt.Sprintf("%s sits in %s, though %s would hold it: its %.0f W would make it, or its supply units, too warm there; here they make %.1f degC.", st.ID, have.Code, e.Code, st.HeatW, inside),
					Figures: figures("inside_c", inside, "degC", "limit_c", limit, "degC", "heat_w", st.HeatW, "W"), Calculation: "station:" + st.ID + ".inside_max",
					Remedy: finding.Remedy{Text: "None needed; a cooler place or a fan would allow the smaller one."},
				}, true
			}
			return finding.Finding{}, false
		})
	},
})

// enclosed is the rail that a station takes in its enclosure, with the basis's reserve.
func enclosed(f *Facts, st *design.Station) q.Millimetres {
	width := st.RailMM
	for _, s := range f.Design.Supplies {
		if u, ok := f.List.Supply(s.Type); ok && s.Station == st.ID {
			width += int64(u.Width)
		}
	}
	for _, g := range st.SupplyGroups {
		if d, ok := f.List.Protection(g.Protection); ok {
			width += int64(d.Width)
		}
	}
	return q.Millimetres(q.CeilDiv(width*(1000+f.Project.Basis.Reserve["enclosure"]), 1000))
}
