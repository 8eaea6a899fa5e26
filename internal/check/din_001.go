package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "DIN-001", Title: "Input may not read 1",
	Why:     "Between the voltages for 0 and 1 an input may read either. Supply, switch and cable must leave it the voltage for 1.",
	Example: "A 2-wire switch that keeps 8 V on a type 1 input (15 V) behind 300 m of 0.5 mm2; take a type 3 input (11 V).",
	Source:  "iec-61131-2#table-7", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			u, ok := figureOf(f, s, "on")
			least := threshold(f, s)
			if !ok || u >= least {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("a closed switch leaves %s %.2f V at its input, %s V needed for a 1 (module %s).", s.Tag, u, num(least, 1), at.Module.Code),
				Figures: figures("at_input_v", u, "V", "threshold_on_v", least, "V"), Calculation: calc(s, "on"),
				Remedy: finding.Remedy{Text: fmt.Sprintf("Take an input that reads 1 from %.1f V on, or a switch that keeps %.1f V less.", u, least-u)},
			}
			if m := better(f, s, at, func(set *chanSet) bool { return set.ThresholdOn > 0 && float64(set.ThresholdOn) <= u }); m != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s, which reads 1 from a lower voltage on.", m.Code), Change: []finding.Change{useModule(s, m)}}
			}
			return x, true
		})
	},
})

// threshold is the voltage from which the signal's input surely reads 1.
func threshold(f *Facts, s *project.Signal) float64 {
	if c := f.Circuits[s.ID]; c != nil {
		return c.NeededV
	}
	return 0
}
