package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SUP-001", Title: "Supply units overloaded",
	Why:     "The load with its margin must stay within what the units give at the place's ambient temperature; beyond it they limit or switch off.",
	Example: "A feed of 11 A on a unit that gives 10 A at 45 degC; a new plan takes two units or a larger one.",
	Source:  "common-practice#supply-margin", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		var out finding.List
		seen := map[string]bool{}
		for _, s := range f.Design.Supplies {
			key := s.Station + " " + s.Class + " " + s.Type
			if s.NeedMA <= s.LimitMA || seen[key] {
				continue
			}
			seen[key] = true
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "supply:" + s.ID,
				Message: fmt.Sprintf("the %s supply of %s must give %.0f mA with its margin, %.0f mA available from %d x %s.", s.Class, s.Station, s.NeedMA, s.LimitMA, s.Units, s.Type),
				Figures: figures("load_ma", s.LoadMA, "mA", "need_ma", s.NeedMA, "mA", "limit_ma", s.LimitMA, "mA"), Calculation: "supply:" + s.ID + ".need",
				Remedy: finding.Remedy{Text: "Plan again: it takes more or larger units; or lower the margin in the basis."},
			})
		}
		return out
	},
})
