package check

import (
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
)

var _ = add(Rule{
	Code: "PWR-006", Title: "Feeder not protected against overload",
	Why:     "A feeder's device must trip before its conductors are too warm where they lie: Ib <= In <= Iz and I2 <= 1.45 Iz.",
	Example: "A breaker of 16 A before 1.5 mm2 among eight loaded cables at 45 degC; take 4 mm2.",
	Source:  "iec-60364-4-43#433.1", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		area := map[string]float64{}
		for _, c := range f.Design.Cables {
			area[c.ID] = c.AreaMM2
		}
		return feeders(f, func(fd *design.Feeder, d *hardware.Protection) (finding.Finding, bool) {
			iz, ok := f.Figure("feeder:" + fd.ID + ".ampacity")
			if !ok {
				return finding.Finding{}, false
			}
			return overload(f, "feeder:"+fd.ID, "feeder "+fd.ID, fd.CurrentA, amps(d.Rating.Current()), iz, "basis.supply", "feeder_area_mm2", area[fd.Cable])
		})
	},
})
