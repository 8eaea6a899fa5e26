package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "PWR-014", Title: "Mains group of another voltage than its feeder",
	Why:     "Modules and loads for 120 V burn on 230 V, and those for 230 V never switch on 120 V. The plan has no transformers: the fault currents and voltages of such a group hold only if something gives it its own voltage.",
	Example: "An output for 120 V AC at a station whose feeder carries 230 V; set power.feeder_voltage_v, or use modules for 230 V.",
	Source:  "iec-60038#nominal", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			feeder := f.Project.Power.FeederVoltage
			own, suits := figure.Mains(figure.Voltage(g), feeder)
			if figure.DC(g) || suits {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("group %d of %s is for %s V AC, its feeder carries %s V.", g.Group, st.ID, num(float64(own), 0), num(float64(feeder), 0)),
				Figures: figures("group_v", float64(own), "V", "feeder_v", float64(feeder), "V"),
				Remedy: finding.Remedy{
					Text: fmt.Sprintf("Set power.feeder_voltage_v to what the board gives, or use modules and devices for %s V. The plan knows no transformers and no second feeder: where one feeds the group, have it designed apart from this plan.", num(float64(feeder), 0)),
				},
				Calculation: figureIn(f, "group:"+g.ID+".voltage"),
			}, true
		})
	},
})

// figureIn is the id of a calculation where the design has it, else "".
func figureIn(f *Facts, id string) string {
	if _, ok := f.Figure(id); ok {
		return id
	}
	return ""
}
