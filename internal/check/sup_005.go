package check

import (
	"fmt"

	"railwright/internal/calc/supply"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SUP-005", Title: "Battery too small, or none",
	Why:     "What is in supply class ups must go on for the time that the basis asks for when the mains is gone. The batteries of the class's own units must bridge it, or whoever owns the UPS board must vouch for it.",
	Example: "A feed of 60 W on a battery of 1.3 Ah: 17 minutes at the end of its life, 30 asked; take 2.4 Ah.",
	Source:  "common-practice#peukert", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		wanted := float64(f.Project.Basis.Supply.Minutes)
		var out finding.List
		seen := map[string]bool{}
		for _, s := range f.Design.Supplies {
			key := s.Station + " " + s.Type
			if s.Class != "ups" || wanted == 0 || seen[key] {
				continue
			}
			seen[key] = true
			has, ok := f.Figure("supply:" + s.ID + ".battery")
			x := finding.Finding{Subject: "supply:" + s.ID, Figures: figures("minutes", has, "min", "wanted_min", wanted, "min")}
			switch {
			case !ok:
				x.Severity = finding.Info
				x.Message = fmt.Sprintf("the ups supply of %s has no battery of its own; its board must bridge %s minutes.", s.Station, num(wanted, 0))
				x.Remedy.Text = "Have it confirmed for the board, or take units with a battery."
			case has < wanted:
				x.Severity, x.Calculation = finding.Error, "supply:"+s.ID+".battery"
				x.Message = fmt.Sprintf("the batteries of the ups supply of %s last %.0f minutes at its load, %s asked.", s.Station, has, num(wanted, 0))
				x.Remedy.Text = fmt.Sprintf("Take a battery of %.1f Ah or more.", batteryFor(f, s.ID, wanted))
			default:
				continue
			}
			out = append(out, x)
		}
		return out
	},
})

// batteryFor is the capacity that lasts for the minutes, from the figures of the calculation.
func batteryFor(f *Facts, id string, minutes float64) float64 {
	in := f.Design.Calculations["supply:"+id+".battery"].Inputs
	return supply.FormulaBatteryCapacity.Eval([]float64{in["power"].Value, in["voltage"].Value, in["efficiency"].Value, in["hours"].Value, minutes, in["peukert"].Value, in["usable"].Value})
}
