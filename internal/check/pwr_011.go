package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
)

var _ = add(Rule{
	Code: "PWR-011", Title: "Conductor does not survive a fault until it is cut off",
	Why:     "Until its device has tripped a conductor takes up all the heat of the fault: t <= k2 S2 / I2. A slow fuse before a thin wire lets it burn.",
	Example: "0.5 mm2 behind a fuse that takes 5 s at 65 A; take 1.5 mm2 or a quicker device.",
	Source:  "iec-60364-4-43#434.5.2", Mend: ByBasis,
	Run: func(f *Facts) finding.List {
		out := feeders(f, func(fd *design.Feeder, d *hardware.Protection) (finding.Finding, bool) {
			area := 0.0
			for _, c := range f.Design.Cables {
				if c.ID == fd.Cable {
					area = c.AreaMM2
				}
			}
			return adiabatic(f, "feeder:"+fd.ID, "feeder "+fd.ID, d, area)
		})
		return append(out, groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			d, ok := f.List.Protection(g.Protection)
			if !ok {
				return finding.Finding{}, false
			}
			return adiabatic(f, "group:"+g.ID, fmt.Sprintf("the infeed of group %d of %s", g.Group, st.ID), d, g.InfeedMM2)
		})...)
	},
})

// adiabatic holds a conductor against the fault that its device cuts off most slowly.
func adiabatic(f *Facts, id, what string, d *hardware.Protection, area float64) (finding.Finding, bool) {
	need, ok := f.Figure(id + ".survives")
	if !ok || area <= 0 || area >= need {
		return finding.Finding{}, false
	}
	in := f.Design.Calculations[id+".survives"].Inputs
	i, t := in["current"].Value, in["time"].Value
	return finding.Finding{
		Severity: finding.Error, Message: fmt.Sprintf("%s (%s mm2) bears %.0f A for less than the %s s that %s may take; %.2f mm2 needed.", what, num(area, 2), i, num(t, 2), d.Code, need),
		Figures: figures("fault_a", i, "A", "time_s", t, "s", "needed_mm2", need, "mm2"), Calculation: id + ".survives",
		Remedy: finding.Remedy{Text: fmt.Sprintf("Take %.2f mm2 or more, or a quicker device.", need)},
	}, true
}
