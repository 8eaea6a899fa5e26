package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "CND-001", Title: "Conductor does not fit its terminal",
	Why:     "A terminal clamps from a smallest to a largest conductor; outside of that a wire falls out or does not go in.",
	Example: "4 mm2 fixed by hand on a module whose terminals take 2.5 mm2; land it on a terminal block and go on with 1.5 mm2.",
	Source:  "iec-61439-1#annex-A", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if at.Cable == nil || at.Cable.AreaMM2 <= 0 {
				return finding.Finding{}, false
			}
			area := at.Cable.AreaMM2
			for i := range at.Set.Terminals {
				t := &at.Set.Terminals[i]
				if _, used := at.Channel.Terminals[t.Function]; !used {
					continue
				}
				low, high := float64(t.MinArea), float64(t.MaxArea)
				if high == 0 || area >= low*(1-1e-9) && area <= high*(1+1e-9) {
					continue
				}
				return finding.Finding{
					Severity: finding.Error, Message: fmt.Sprintf("the %s mm2 of %s (%s) do not fit terminal %s of module %s, which clamps %s to %s mm2.", num(area, 2), at.Cable.ID, s.Tag, t.Function, at.Module.Code, num(low, 2), num(high, 2)),
					Figures: figures("area_mm2", area, "mm2", "min_mm2", low, "mm2", "max_mm2", high, "mm2"),
					Remedy:  finding.Remedy{Text: "Land the cable on terminal blocks and go on with a size that fits, or take a module with other terminals."},
				}, true
			}
			return finding.Finding{}, false
		})
	},
})
