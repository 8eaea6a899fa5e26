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
			in := f.Design.Calculations[calc(s, "error")].Inputs
			input, of, instead := in["input"].Value, "input", "a module with a larger input resistance, or a current signal"
			if s.Kind == project.AO {
				of, instead = "device", "a device with a larger input resistance, or a current output"
			}
			x := finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s loses %.2f %% of its signal: %s %s ohm, both cores %.1f ohm.", s.Tag, lost, of, num(input, 0), in["cable"].Value),
				Figures: figures("lost_percent", lost, "%", "allowed_percent", mostLost, "%"), Calculation: calc(s, "error"),
				Remedy: finding.Remedy{Text: "Take " + instead + "."},
			}
			if c, _ := larger(f, at, func(loop float64) bool { return 100*loop/(loop+input) <= mostLost }); c != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s mm2 (%s), or %s.", num(float64(c.Area), 2), c.Code, instead), Change: []finding.Change{useCable(s, c)}}
			}
			return x, true
		})
	},
})
