package check

import (
	"fmt"

	"railwright/internal/calc/protect"
	"railwright/internal/design"
	"railwright/internal/finding"
)

// hottestPVC is the air in degC beyond which the tables state no current for PVC insulation (IEC 60204-1
// table D.1).
const hottestPVC = 60.0

var _ = add(Rule{
	Code: "PWR-002", Title: "Infeed conductors not protected against overload",
	Why:     "A protective device must trip before its conductors are too warm: Ib <= In <= Iz and I2 <= 1.45 Iz.",
	Example: "A device of 10 A before conductors that bear 7 A, fixed by hand or beyond 60 degC where the tables end; the plan else takes 1.5 mm2.",
	Source:  "iec-60364-4-43#433.1", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		out := stations(f, func(st *design.Station) (finding.Finding, bool) { return noAmpacity(f, st) })
		return append(out, groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			d, ok := f.List.Protection(g.Protection)
			iz, ok2 := f.Figure("group:" + g.ID + ".ampacity")
			if !ok || !ok2 {
				return finding.Finding{}, false
			}
			return overload(f, "group:"+g.ID, fmt.Sprintf("the infeed of group %d of %s", g.Group, st.ID), g.LoadMA/1000, amps(d.Rating.Current()), iz, "basis.supply", "infeed_area_mm2", g.InfeedMM2)
		})...)
	},
})

// noAmpacity says why nobody knows what the infeeds of a station bear: the air inside is warmer than the
// tables go.
func noAmpacity(f *Facts, st *design.Station) (finding.Finding, bool) {
	inside, ok := f.Figure("station:" + st.ID + ".inside_max")
	if !ok || inside <= hottestPVC || len(st.SupplyGroups) == 0 {
		return finding.Finding{}, false
	}
	return finding.Finding{
		Severity: finding.Error, Message: fmt.Sprintf("the infeeds of the supply groups of %s lie in %.1f degC inside: above %.0f degC no current is stated for conductors with PVC insulation.", st.ID, inside, hottestPVC),
		Figures: figures("inside_c", inside, "degC", "most_c", hottestPVC, "degC"), Calculation: "station:" + st.ID + ".inside_max",
		Remedy: finding.Remedy{Text: "Take a larger or cooled enclosure, a cooler place, or fewer loads. Conductors for higher temperatures must be rated by a competent person from their maker's data."},
	}, true
}

// overload compares a device with its load and its conductor and says which conductor would do.
func overload(f *Facts, subject, what string, ib, in, iz float64, table, key string, area float64) (finding.Finding, bool) {
	i2, _ := f.Figure(subject + ".i2")
	limit, _ := f.Figure(subject + ".i2_max")
	const slack = 1 + 1e-9
	var fault string
	switch {
	case ib > in*slack:
		fault = fmt.Sprintf("carries %.2f A behind a device of %s A", ib, num(in, 2))
	case in > iz*slack:
		fault = fmt.Sprintf("may carry %.2f A as laid (%s mm2), its device is of %s A", iz, num(area, 2), num(in, 2))
	case i2 > limit*slack:
		fault = fmt.Sprintf("bears %.2f A for the conventional time, its device surely trips only at %.2f A", limit, i2)
	default:
		return finding.Finding{}, false
	}
	x := finding.Finding{
		Severity: finding.Error, Message: what + " " + fault + ".", Calculation: subject + ".ampacity",
		Figures: figures("ib_a", ib, "A", "in_a", in, "A", "iz_a", iz, "A", "i2_a", i2, "A", "i2_max_a", limit, "A"),
		Remedy:  finding.Remedy{Text: "Take a device of another rating, or lay fewer loaded circuits together."},
	}
	need := max(in, protect.FormulaAmpacityNeeded.Eval([]float64{in, i2 / max(in, 1e-9)}))
	if s, r, ok := conductorFor(f, subject, need); ok {
		x.Remedy = finding.Remedy{
			Text:   fmt.Sprintf("Use %s mm2 (%s of the basis): %.1f A.", num(s, 2), key, r),
			Change: []finding.Change{{Subject: "project", Property: table + "." + key, Value: num(s, 2)}},
		}
	}
	return x, true
}

// conductorFor is the smallest larger conductor that carries the current under the factors of the
// subject's own ampacity.
func conductorFor(f *Facts, subject string, need float64) (area, iz float64, ok bool) {
	r, known := f.Design.Calculations[subject+".ampacity"]
	if !known || r.Inputs["base"].Value <= 0 {
		return 0, 0, false
	}
	factor := r.Result.Value / r.Inputs["base"].Value
	method := methodOf(f, subject)
	for _, a := range sizes {
		if base := baseAmpacity(a, method); base*factor >= need && base > r.Inputs["base"].Value {
			return a, base * factor, true
		}
	}
	return 0, 0, false
}
