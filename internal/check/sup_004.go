package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SUP-004", Title: "A supply unit may not fail",
	Why:     "The basis asks that so many units of each feed may fail without loss (n+1). The others must then carry the feed, and the outputs must be decoupled: else the short of one unit pulls the others down.",
	Example: "Two units of 10 A for a feed of 12 A, of which one may fail; the plan takes three, of a type that is decoupled.",
	Source:  "common-practice#n-plus-1", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		spare := f.Project.Basis.Supply.Spare
		var out finding.List
		seen := map[string]bool{}
		for _, s := range f.Design.Supplies {
			u, ok := f.List.Supply(s.Type)
			key := s.Station + " " + s.Class + " " + s.Type
			if spare == 0 || !ok || seen[key] {
				continue
			}
			seen[key] = true
			needed, _ := f.Figure("supply:" + s.ID + ".units")
			short := int(needed) + int(spare) - s.Units
			if short <= 0 && u.Decoupled {
				continue
			}
			why := fmt.Sprintf("%d x %s, and %d more must stand there", s.Units, s.Type, short)
			if short <= 0 {
				why = fmt.Sprintf("%d x %s, whose outputs are not decoupled", s.Units, s.Type)
			}
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "supply:" + s.ID, Calculation: "supply:" + s.ID + ".units",
				Message: fmt.Sprintf("of the %s feed of %s %d units may fail: it has %s.", s.Class, s.Station, spare, why),
				Figures: figures("units", float64(s.Units), "1", "needed", needed, "1", "may_fail", float64(spare), "1"),
				Remedy:  finding.Remedy{Text: "Plan again, with decoupled units in the hardware list; or ask for no spare unit."},
			})
		}
		return out
	},
})
