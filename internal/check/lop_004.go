package check

import (
	"fmt"

	"railwright/internal/calc/loop"
	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "LOP-004", Title: "HART loop too slow",
	Why:     "Resistance and capacitance of a long cable smear the two tones of the digital signal: 65 us is the most that the physical layer allows.",
	Example: "1500 m of cable with 300 pF/m in a loop of 300 ohm; take a cable with less capacitance or a nearer station.",
	Source:  "hart-fsk#rc", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			rc, ok := figureOf(f, s, "hart_rc")
			const most = float64(loop.HARTMaxRC) * 1e6
			if !ok || rc <= most {
				return finding.Finding{}, false
			}
			text := "Take a cable with less capacitance, or serve it from a nearer place."
			r, _ := figureOf(f, s, "hart_r")
			c := at.Type.Capacitance
			if c == 0 {
				c = loop.CablePerMetre
			}
			device := f.Design.Calculations[calc(s, "hart_rc")].Inputs["devices"].Value / 1e9
			if l, err := loop.HARTLength(q.Resistance(r), q.Capacitance(device), c); err == nil {
				if l < 1 {
					text = "No length of this cable is short enough for such a device: take one with less capacitance, or do without HART."
				} else {
					text = fmt.Sprintf("At most %.0f m of this cable (%.0f m laid): take one with less capacitance, or a nearer place.", float64(l), laid(at))
				}
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("the loop of %s has a time constant of %.0f us, %.0f us allowed for HART.", s.Tag, rc, most),
				Figures: figures("rc_us", rc, "us", "max_us", most, "us"), Remedy: finding.Remedy{Text: text}, Calculation: calc(s, "hart_rc"),
			}, true
		})
	},
})
