package check

import (
	"fmt"

	"railwright/internal/calc/loop"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "LOP-002", Title: "Loop short of volts",
	Why:     "A two-wire transmitter that does not get its voltage at 22 mA cannot signal a failure, and near the top of its range it reads too low.",
	Example: "A transmitter for 16 V behind a barrier of 300 ohm on a module that offers 19 V; take a larger conductor, a transmitter for 12 V, or no barrier.",
	Source:  "namur-ne-43#failure-current", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			u, ok := figureOf(f, s, "transmitter")
			least, severity, of := float64(f.Project.Basis.Circuit.TransmitterMin), finding.Warning, "taken as its least by the basis"
			if s.MinVoltage.Set {
				least, severity, of = float64(s.MinVoltage.Value), finding.Error, "needed"
			}
			if !ok || u >= least {
				return finding.Finding{}, false
			}
			loopOhm, _ := loopOf(at.Type, laid(at))
			return finding.Finding{
				Severity: severity, Message: fmt.Sprintf("%s leaves its transmitter %.2f V at 22 mA, %s V %s (input %s ohm, both cores %.1f ohm, in series %s ohm).",
					s.Tag, u, num(least, 2), of, num(float64(at.Set.Impedance), 1), loopOhm, num(float64(s.Load.Value), 1)),
				Figures: figures("at_transmitter_v", u, "V", "needed_v", least, "V", "missing_v", least-u, "V"),
				Remedy:  moreVolts(f, s, at, u, least, loopOhm), Calculation: calc(s, "transmitter"),
			}, true
		})
	},
})

// moreVolts says what would give a two-wire transmitter its voltage: a larger conductor, a module that
// offers more, or less in series.
func moreVolts(f *Facts, s *project.Signal, at Seat, u, least, loopOhm float64) finding.Remedy {
	const i = float64(loop.FaultCurrent)
	if c, r := larger(f, at, func(r float64) bool { return u+i*(loopOhm-r) >= least }); c != nil {
		return finding.Remedy{Text: fmt.Sprintf("Use %s mm2 (%s): %.2f V.", num(float64(c.Area), 2), c.Code, u+i*(loopOhm-r)), Change: []finding.Change{useCable(s, c)}}
	}
	if series := float64(s.Load.Value); series > 0 {
		without := u + i*series
		if without >= least {
			return finding.Remedy{Text: fmt.Sprintf("At most %.0f ohm may lie in series (%s ohm stated): without it the transmitter gets %.1f V.", (without-least)/i, num(series, 1), without)}
		}
		return finding.Remedy{Text: fmt.Sprintf("Without what lies in series the transmitter gets %.1f V: leave it out (use an isolated or intrinsically safe module instead of a barrier) and take a transmitter that works from there on.", without)}
	}
	return finding.Remedy{Text: fmt.Sprintf("Take a transmitter that works from %.1f V on, a module that offers %.1f V more, or a supply of its own for the device.", u, least-u)}
}
