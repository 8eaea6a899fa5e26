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
	Code: "RTD-001", Title: "Leads of a resistance thermometer read as temperature",
	Why:     "With two wires the cable's own resistance is measured too: 2 ohm are about 5 K on a Pt100. With three wires the difference of two cores is left.",
	Example: "A 2-wire Pt100 at the end of 235 m reads 30 K too hot; take four wires or a transmitter at the sensor.",
	Source:  "arithmetic#lead-resistance", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			off, ok := figureOf(f, s, "lead_error")
			most := float64(f.Project.Basis.Circuit.RTDError)
			own := tolerance(s)
			if !ok || off <= own && off <= most {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s (%s, %d wires) reads %.2f K too hot because of %.0f m of cable; its own class %s tolerance is %.2f K.", s.Tag, s.Sensor, fit.Wires(s), off, laid(at), classOf(s), own),
				Figures: figures("error_k", off, "K", "tolerance_k", own, "K", "allowed_k", most, "K"), Calculation: calc(s, "lead_error"),
				Remedy: finding.Remedy{Text: "Take it off as a fixed offset when it is checked out, or take more wires."},
			}
			if off > most {
				x.Severity = finding.Error
				x.Message = fmt.Sprintf("%s (%s, %d wires) reads %.2f K too hot because of %.0f m of cable; the basis allows %s K.", s.Tag, s.Sensor, fit.Wires(s), off, laid(at), num(most, 2))
			}
			if w := fit.Wires(s); w < 4 {
				x.Remedy.Text = fmt.Sprintf("Use four wires: no error is left. Or put a transmitter at the sensor, or serve it within %.1f m.", laid(at)*math.Max(own, most)/off)
				x.Remedy.Change = []finding.Change{{Subject: "signal:" + s.ID, Property: "wires", Value: "4"}}
			}
			return x, true
		})
	},
})

// classOf is the tolerance class of a resistance thermometer: the stated one, or B.
func classOf(s *project.Signal) string {
	if _, _, ok := sensor.RTDBand(sensor.RTDClass(s.Tolerance)); ok {
		return s.Tolerance
	}
	return "B"
}

// tolerance is what its class allows a thermometer where its range is weakest, as the leads' error is taken.
func tolerance(s *project.Signal) float64 {
	at := 0.0
	if rtd, err := sensor.ParseRTD(s.Sensor); err == nil {
		low, high := fit.TemperatureRange(s)
		if t, _, err := rtd.Weakest(low, high); err == nil {
			at = float64(t)
		}
	}
	base, slope, _ := sensor.RTDBand(sensor.RTDClass(classOf(s)))
	return sensor.FormulaRTDTolerance.Eval([]float64{base, slope, at})
}
