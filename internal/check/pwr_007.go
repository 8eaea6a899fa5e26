package check

import (
	"fmt"

	"railwright/internal/calc/protect"
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
)

var _ = add(Rule{
	Code: "PWR-007", Title: "Fault at the end of a feeder does not trip its device",
	Why:     "Behind a long feeder a short draws so little that a breaker takes minutes; until then the enclosure's touch voltage stays.",
	Example: "A breaker of 80 A upper edge behind 2 km, where a short draws 40 A on the largest conductor of the list; take a nearer board. Where a larger conductor of the list does, the plan takes it.",
	Source:  "iec-60364-4-41#411.3.2", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return feeders(f, func(fd *design.Feeder, d *hardware.Protection) (finding.Finding, bool) {
			fault, ok := f.Figure("feeder:" + fd.ID + ".fault_min")
			edge, holds := trips(d, false, fault)
			if !ok || holds || edge == 0 {
				return finding.Finding{}, false
			}
			in := f.Design.Calculations["feeder:"+fd.ID+".fault_min"].Inputs
			longest := protect.FormulaLongest.Eval([]float64{in["source"].Value, edge, in["r_internal"].Value, in["r"].Value})
			text := fmt.Sprintf("With this device and cable the feeder may be %.0f m long (%.0f m laid): take a larger conductor, a nearer board, or have a residual-current device added by a competent person.", longest, in["length"].Value)
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("a short at the end of feeder %s draws %.1f A; %s surely trips only from %.1f A on.", fd.ID, fault, d.Code, edge),
				Figures: figures("fault_a", fault, "A", "trips_a", edge, "A", "longest_m", longest, "m"), Remedy: finding.Remedy{Text: text}, Calculation: "feeder:" + fd.ID + ".fault_min",
			}, true
		})
	},
})
