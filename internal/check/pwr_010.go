package check

import (
	"fmt"

	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "PWR-010", Title: "Sensor below its least voltage",
	Why:     "A computed mean is held against 20.4 V (24 V - 15 %; 40.8 V of 48 V), or against the device's own least voltage: what is fed from the group loses the field cable's volts on top.",
	Example: "An encoder of 150 mA that needs 22 V at the end of 160 m of 0.75 mm2; take 1.5 mm2.",
	Source:  "iec-61131-2#supply", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			u, ok := figureOf(f, s, "device")
			if !ok || s.Kind == project.DO {
				return finding.Finding{}, false
			}
			least, of, severity := lowestMean, "needed by equipment for 24 V", finding.Warning
			if figure.Voltage(at.Group) == "48vdc" {
				least, of = leastMean("48vdc"), "needed by equipment for 48 V"
			}
			if s.MinVoltage.Set {
				least, of, severity = float64(s.MinVoltage.Value), "needed", finding.Error
			}
			if u >= least-1e-6 {
				return finding.Finding{}, false
			}
			in := f.Design.Calculations[calc(s, "device")].Inputs
			i := (in["own"].Value + in["signal"].Value/2) / 1000 // what both cores carry on average
			loop, _ := loopOf(at.Type, laid(at))
			x := finding.Finding{
				Severity: severity, Message: fmt.Sprintf("%s is fed with %.2f V over %.0f m of %s mm2 at %s mA, %s V %s.", s.Tag, u, laid(at), num(at.Cable.AreaMM2, 2), num(in["own"].Value, 1), num(least, 2), of),
				Figures: figures("at_device_v", u, "V", "needed_v", least, "V"), Calculation: calc(s, "device"),
				Remedy: finding.Remedy{Text: "Give the device a supply of its own, or serve it from a nearer place."},
			}
			if c, r := larger(f, at, func(r float64) bool { return u+i*(loop-r) >= least }); c != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s mm2 (%s): %.2f V.", num(float64(c.Area), 2), c.Code, u+i*(loop-r)), Change: []finding.Change{useCable(s, c)}}
			}
			return x, true
		})
	},
})
