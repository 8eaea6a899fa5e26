package check

import (
	"fmt"

	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "OUT-001", Title: "Load below its least voltage",
	Why:     "A solenoid that gets too little voltage pulls in slowly or not at all, and only when everything else is on.",
	Example: "A valve of 250 mA behind 110 m of 0.75 mm2 with 21.6 V needed; take 1.5 mm2.",
	Source:  "iec-61131-2#supply", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			u, ok := figureOf(f, s, "device")
			if s.Kind != project.DO || !ok {
				return finding.Finding{}, false
			}
			least, of := leastAtLoad(s, at)
			if least == 0 || u >= least-1e-6 {
				return finding.Finding{}, false
			}
			severity := finding.Warning // the device may do with less
			if s.MinVoltage.Set {
				severity = finding.Error
			}
			i := s.Current.Value
			if !s.Current.Set {
				i = f.Project.Basis.DefaultCurrent[string(s.Kind)+" "+s.Form]
			}
			loop, _ := loopOf(at.Type, laid(at))
			x := finding.Finding{
				Severity: severity, Message: fmt.Sprintf("%s gets %.2f V over %.0f m of %s mm2 at %s mA, %s V %s.", s.Tag, u, laid(at), num(at.Cable.AreaMM2, 2), num(i.Milliamps(), 1), num(least, 2), of),
				Figures: figures("at_load_v", u, "V", "needed_v", least, "V"), Calculation: calc(s, "device"),
				Remedy: finding.Remedy{Text: fmt.Sprintf("Take a load that draws less or needs no more than %.1f V, a relay near it, or a nearer place.", u)},
			}
			if c, r := larger(f, at, func(r float64) bool { return u+amps(i)*(loop-r) >= least }); c != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s mm2 (%s): %.2f V.", num(float64(c.Area), 2), c.Code, u+amps(i)*(loop-r)), Change: []finding.Change{useCable(s, c)}}
			}
			return x, true
		})
	},
})

// leastAtLoad is the least voltage at a load: its own, or the lowest mean of equipment for 24 or 48 V
// DC. Loads on mains, and intrinsically safe ones, have none but their own.
func leastAtLoad(s *project.Signal, at Seat) (least float64, of string) {
	switch {
	case s.MinVoltage.Set:
		return float64(s.MinVoltage.Value), "needed"
	case s.ExLevel != "":
		return 0, ""
	case figure.Voltage(at.Group) == "24vdc":
		return lowestMean, "needed by equipment for 24 V"
	case figure.Voltage(at.Group) == "48vdc":
		return 2 * lowestMean, "needed by equipment for 48 V"
	}
	return 0, ""
}
