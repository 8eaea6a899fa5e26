package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SUP-002", Title: "Supply units short in the warm enclosure",
	Why:     "Units give less above 50 or 60 degC, and the air that counts is that inside the enclosure, not the room's.",
	Example: "A unit of 10 A in an enclosure at 62 degC gives 7 A for a load of 8 A; the plan takes a larger enclosure where the list has one that does.",
	Source:  "common-practice#linear-derating", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, s := range f.Design.Supplies {
			each, ok := f.Figure("supply:" + s.ID + ".output_inside")
			units, _ := f.Figure("supply:" + s.ID + ".units")
			gives := each * max(1, units)
			if !ok || gives >= s.NeedMA {
				continue
			}
			x := finding.Finding{
				Severity: finding.Warning, Subject: "supply:" + s.ID, Calculation: "supply:" + s.ID + ".output_inside",
				Message: fmt.Sprintf("in the air inside its enclosure the %s supply of %s gives %.0f mA; its load is %.0f mA, %.0f mA with the margin.", s.Class, s.Station, gives, s.LoadMA, s.NeedMA),
				Figures: figures("gives_ma", gives, "mA", "load_ma", s.LoadMA, "mA", "need_ma", s.NeedMA, "mA"),
				Remedy:  finding.Remedy{Text: "Take a larger or ventilated enclosure, or larger units."},
			}
			if gives < s.LoadMA {
				x.Severity = finding.Error
			}
			out = append(out, x)
		}
		return out
	},
})
