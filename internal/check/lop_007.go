package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// mostLost is the share of a voltage signal that may be lost on its way: the error of an ordinary
// module, so that the cable does not outweigh it.
const mostLost = 0.1 // %

var _ = add(Rule{
	Code: "LOP-007", Title: "Voltage signal loses on its way",
	Why:     "Cable and input form a divider; with an input of low resistance a long cable makes the reading too low.",
	Example: "0-10 V over 300 m into an input of 10 kohm loses 0.2 %; take an input of 100 kohm or a current signal.",
	Source:  "common-practice#voltage-signals", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			lost, ok := figureOf(f, s, "error")
			if !ok || lost <= mostLost {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s loses %.2f %% of its signal: input %s ohm, both cores %.1f ohm.", s.Tag, lost, num(float64(at.Set.Impedance), 0), lost/100*float64(at.Set.Impedance)),
				Figures: figures("lost_percent", lost, "%", "allowed_percent", mostLost, "%"), Calculation: calc(s, "error"),
				Remedy: finding.Remedy{Text: "Take a module with a larger input resistance, or a current signal."},
			}
			if c, _ := larger(f, at, func(loop float64) bool { return 100*loop/(loop+float64(at.Set.Impedance)) <= mostLost }); c != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s mm2 (%s), or a module with a larger input resistance.", num(float64(c.Area), 2), c.Code), Change: []finding.Change{useCable(s, c)}}
			}
			return x, true
		})
	},
})
