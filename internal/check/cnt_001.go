package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "CNT-001", Title: "Pulses too fast for their line",
	Why:     "The cable's capacitance is charged through source and input; where the edges last longer than half a period, pulses are lost.",
	Example: "10 kHz over 200 m into an input of 3 kohm; take a push-pull or RS-422 encoder or a nearer station.",
	Source:  "common-practice#half-period-for-the-slower-edge", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			fastest, ok := figureOf(f, s, "f_max")
			if !ok || !s.Frequency.Set || float64(s.Frequency.Value) <= fastest {
				return finding.Finding{}, false
			}
			rise, _ := figureOf(f, s, "rise")
			fall, _ := figureOf(f, s, "fall")
			text := "Take a sensor with a push-pull output or RS-422, or a nearer place."
			if edge, filter := max(rise, fall), float64(at.Set.Filter)*1e6; edge > 0 && laid(at) > 0 {
				if spare := 1e6/(2*float64(s.Frequency.Value)) - filter; spare > 0 {
					text = fmt.Sprintf("Serve it within %.0f m of this cable, or take a sensor with a push-pull output or RS-422.", laid(at)*spare/edge)
				}
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s sends up to %s Hz; %.0f m of cable and the input of module %s pass %.0f Hz (edges of %.0f and %.0f us).",
					s.Tag, num(float64(s.Frequency.Value), 1), laid(at), at.Module.Code, fastest, rise, fall),
				Figures: figures("frequency_hz", float64(s.Frequency.Value), "Hz", "max_frequency_hz", fastest, "Hz"),
				Remedy:  finding.Remedy{Text: text}, Calculation: calc(s, "f_max"),
			}, true
		})
	},
})
