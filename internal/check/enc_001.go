package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
)

var _ = add(Rule{
	Code: "ENC-001", Title: "Enclosure too hot",
	Why:     "Losses warm the air inside until the walls carry them off. Above the parts' limit they age fast and fail first on the hottest day.",
	Example: "60 W in an enclosure of 600 x 600 mm at 57 degC ambient: 70 degC inside, 60 allowed; the plan takes a larger one where the list has one that does, else ventilate.",
	Source:  "iec-tr-60890#heat-balance", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			inside, ok := f.Figure("station:" + st.ID + ".inside_max")
			limit, ok2 := f.Figure("station:" + st.ID + ".inside_limit")
			e, ok3 := f.List.Enclosure(st.Enclosure)
			if !ok || !ok2 || !ok3 {
				return finding.Finding{}, false
			}
			in := f.Design.Calculations["station:"+st.ID+".inside_max"].Inputs
			if e.MaxHeat > 0 && st.HeatW > float64(e.MaxHeat)/1000 {
				return finding.Finding{
					Severity: finding.Error, Message: fmt.Sprintf("%s loses %.0f W; enclosure %s may hold %s W.", st.ID, st.HeatW, e.Code, num(float64(e.MaxHeat)/1000, 0)),
					Figures: figures("heat_w", st.HeatW, "W", "max_heat_w", float64(e.MaxHeat)/1000, "W"), Calculation: "station:" + st.ID + ".heat",
					Remedy: finding.Remedy{Text: "Take a larger enclosure, or ventilate it."},
				}, true
			}
			if inside <= limit+1e-9 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s: %.0f W in enclosure %s make %.1f degC inside at %s degC ambient, %s degC allowed by its parts.", st.ID, st.HeatW, e.Code, inside, num(in["ambient"].Value, 1), num(limit, 1)),
				Figures: figures("inside_c", inside, "degC", "limit_c", limit, "degC", "heat_w", st.HeatW, "W"), Remedy: cooler(f, st, e, in["k"].Value, in["ambient"].Value, limit), Calculation: "station:" + st.ID + ".inside_max",
			}, true
		})
	},
})

// cooler says which surface, air flow or ambient would keep the parts within their limit.
func cooler(f *Facts, st *design.Station, e *hardware.Enclosure, k, ambient, limit float64) finding.Remedy {
	area, _ := f.Figure("station:" + st.ID + ".surface")
	if rise := limit - ambient; rise > 0 {
		need := st.HeatW / (k * rise)
		flow := 3.1 * st.HeatW / rise
		return finding.Remedy{Text: fmt.Sprintf("An effective surface of %.1f m2 would do (%.1f m2 now): take a larger enclosure, a fan of %.0f m3/h, or a cooler place.", need, area, flow)}
	}
	return finding.Remedy{Text: fmt.Sprintf("The place itself is as warm as the parts allow: cool it to %.0f degC, or take a cooling unit of %.0f W.", limit-st.HeatW/(k*area), st.HeatW+k*area*(ambient-limit))}
}
