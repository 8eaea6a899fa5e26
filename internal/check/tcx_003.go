package check

import (
	"fmt"
	"math"

	"railwright/internal/calc/sensor"
	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "TCX-003", Title: "Cold junction outweighs the thermocouple",
	Why:     "The module measures the temperature of its own terminals and adds it; what it measures wrong there is wrong in the reading, more so where the type is weak at the hot end.",
	Example: "A cold junction good to 3 K on a type R thermocouple; take a module with a better one, or a transmitter in the head.",
	Source:  "iec-60584-1#class-2", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			off, ok := figureOf(f, s, "cold_junction")
			own := math.Max(2.5, 0.0075*math.Abs(weakestTC(s))) // class 2 of the base-metal types
			if !ok || off <= own {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("the cold junction of module %s makes %s read up to %.1f K wrong; a class 2 thermocouple is good to %.1f K.", at.Module.Code, s.Tag, off, own),
				Figures: figures("error_k", off, "K", "class_2_k", own, "K"), Calculation: calc(s, "cold_junction"),
				Remedy: finding.Remedy{Text: "Keep the terminals out of draughts, take a module with a better cold junction, or a transmitter in the head."},
			}, true
		})
	},
})

// weakestTC is the temperature of a thermocouple's range at which one kelvin is worth least; 0 where nobody
// knows.
func weakestTC(s *project.Signal) float64 {
	low, high := fit.TemperatureRange(s)
	t, _, err := sensor.Thermocouple(s.Sensor).Weakest(low, high)
	if err != nil {
		return 0
	}
	return float64(t)
}
