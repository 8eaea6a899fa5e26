package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "OUT-006", Title: "Coils want a suppressor",
	Why:     "A coil gives back its energy when it is switched off: without a suppressor as a spark at the contact and as noise in every cable beside it.",
	Example: "Every station with switched outputs brings this notice: a diode at DC coils, an RC unit or varistor at AC coils, at the coil and not in the cabinet.",
	Source:  "common-practice#coil-suppression", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			n, bare := 0, 0
			for _, id := range f.Placed {
				if at := f.Seats[id]; at.Station == st && at.Set.Kind == project.DO {
					n++
					if !at.Set.ShortProof {
						bare++
					}
				}
			}
			if n == 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Info, Message: fmt.Sprintf("%s switches %d loads, %d of them by relays or outputs without a clamp of their own.", st.ID, n, bare),
				Figures: figures("outputs", float64(n), "1", "without_clamp", float64(bare), "1"),
				Remedy:  finding.Remedy{Text: "Fit a suppressor at every coil: diode for DC, RC unit or varistor for AC."},
			}, true
		})
	},
})
