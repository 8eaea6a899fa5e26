package check

import (
	"fmt"

	"railwright/internal/calc/protect"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
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
			return adiabatic("feeder "+fd.ID, d, false, fd.FaultMinA, area)
		})
		return append(out, groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			d, ok := f.List.Protection(g.Protection)
			if !ok {
				return finding.Finding{}, false
			}
			return adiabatic(fmt.Sprintf("the infeed of group %d of %s", g.Group, st.ID), d, figure.DC(g), g.FaultMinA, g.InfeedMM2)
		})...)
	},
})

// adiabatic holds a conductor against the fault current that trips its device most slowly: the smallest
// one, or the device's upper edge where that is larger.
func adiabatic(what string, d *hardware.Protection, dc bool, fault, area float64) (finding.Finding, bool) {
	t, ok := within(d, dc)
	edge, _ := trips(d, dc, 0)
	i := min(fault, edge)
	if !ok || i <= 0 || area <= 0 {
		return finding.Finding{}, false
	}
	need, err := protect.AdiabaticSection(q.Current(i), t, pvc)
	if err != nil || area >= float64(need) {
		return finding.Finding{}, false
	}
	return finding.Finding{
		Severity: finding.Error, Message: fmt.Sprintf("%s (%s mm2) bears %.0f A for less than the %s s that %s may take; %.2f mm2 needed.", what, num(area, 2), i, num(float64(t), 2), d.Code, float64(need)),
		Figures: figures("fault_a", i, "A", "time_s", float64(t), "s", "needed_mm2", float64(need), "mm2"),
		Remedy:  finding.Remedy{Text: fmt.Sprintf("Take %.2f mm2 or more, or a quicker device.", float64(need))},
	}, true
}
