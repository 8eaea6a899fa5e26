package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
)

var _ = add(Rule{
	Code: "PWR-008", Title: "Inrush of supply units may trip the feeder",
	Why:     "Units that are switched on together charge their capacitors at once; above the lower edge of its trip band the breaker may go, always when the mains come back.",
	Example: "Two units of 25 A inrush behind a breaker B6 (18 A); take a C10 (50 A) or units with limited inrush.",
	Source:  "common-practice#inrush-below-lower-edge", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return feeders(f, func(fd *design.Feeder, d *hardware.Protection) (finding.Finding, bool) {
			inrush, ok := f.Figure("feeder:" + fd.ID + ".inrush")
			holds, ok2 := f.Figure("feeder:" + fd.ID + ".holds")
			if !ok || !ok2 || inrush <= holds*(1+1e-9) {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("the supply units behind feeder %s take %.0f A when switched on; %s holds up to %.0f A.", fd.ID, inrush, d.Code, holds),
				Figures: figures("inrush_a", inrush, "A", "holds_a", holds, "A"), Calculation: "feeder:" + fd.ID + ".inrush",
				Remedy: finding.Remedy{Text: "Add a device to hardware.toml that holds it (curve C, a larger rating), units with less inrush, or an inrush limiter."},
			}, true
		})
	},
})
