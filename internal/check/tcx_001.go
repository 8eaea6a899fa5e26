package check

import (
	"fmt"
	"strings"

	"railwright/internal/calc/sensor"
	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "TCX-001", Title: "Extension cable of another type",
	Why:     "From the head to the cold junction the cable is part of the thermocouple. Copper, or the cable of another type, adds the difference of the two ends' temperatures.",
	Example: "A type K thermocouple fixed by hand to a copper signal cable reads some 20 K too low in a hot plant; release the cable.",
	Source:  "nist-its-90#intermediate-metals", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if s.Kind != project.TC || at.Type == nil || at.Type.Family == "thermocouple-"+s.Sensor {
				return finding.Finding{}, false
			}
			used := sensor.Copper
			if other, ok := strings.CutPrefix(at.Type.Family, "thermocouple-"); ok {
				used = sensor.Thermocouple(other)
			}
			x := finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s is a thermocouple of type %s on cable %s (%s).", s.Tag, s.Sensor, at.Type.Code, at.Type.Family),
				Remedy: finding.Remedy{Text: fmt.Sprintf("Use extension cable of type %s (released, the plan chooses it).", s.Sensor), Change: []finding.Change{{Subject: "signal:" + s.ID, Property: "cable", Value: ""}}},
			}
			// the head 20 K warmer than the terminals
			if off, err := sensor.ExtensionError(sensor.Thermocouple(s.Sensor), used, q.Temperature(mid(s)), 45, 25); err == nil {
				x.Message += fmt.Sprintf(" With its head 20 K warmer than the module it reads %.1f K wrong.", float64(off))
				x.Figures = figures("error_k", float64(off), "K")
			}
			return x, true
		})
	},
})

// mid is the middle of a signal's range, or 100 where it has none.
func mid(s *project.Signal) float64 {
	if s.RangeLow.Set && s.RangeHigh.Set {
		return (s.RangeLow.Value + s.RangeHigh.Value) / 2
	}
	return 100
}
