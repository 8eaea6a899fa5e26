package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "TCX-002", Title: "Thermocouples on inputs that are not isolated",
	Why:     "A junction welded to its sheath is earthed at the process. On inputs with a common return two of them close a loop through earth, and its current adds to both readings.",
	Example: "Four thermocouples on one module without isolation: take insulated junctions or a module with isolated channels.",
	Source:  "common-practice#earthed-junctions", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			var tags []string
			for _, id := range f.Placed {
				if at := f.Seats[id]; at.Station == st && at.Set.Kind == project.TC && !at.Module.Isolated {
					tags = append(tags, f.Signals[id].Tag)
				}
			}
			if len(tags) == 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Info, Message: fmt.Sprintf("%d thermocouples of %s sit on inputs that are not isolated from each other: %s.", len(tags), st.ID, few(tags)),
				Figures: figures("thermocouples", float64(len(tags)), "1"),
				Remedy:  finding.Remedy{Text: "Take thermocouples with insulated junctions, or a module with isolated channels."},
			}, true
		})
	},
})
