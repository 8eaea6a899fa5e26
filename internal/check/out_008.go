package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "OUT-008", Title: "Outputs without a stated safe state",
	Why:     "What an output does when station or network fails is each signal's own question: off is not always safe.",
	Example: "A cooling pump whose list row leaves safe_state empty; write 1 if it must go on running.",
	Source:  "common-practice#substitute-value", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			var tags []string
			for _, id := range f.Placed {
				if s := f.Signals[id]; f.Seats[id].Station == st && s != nil && s.Kind.Output() && s.SafeState == "" {
					tags = append(tags, s.Tag)
				}
			}
			if len(tags) == 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%d outputs of %s have no safe state in the list: %s.", len(tags), st.ID, few(tags)),
				Figures: figures("outputs", float64(len(tags)), "1"),
				Remedy:  finding.Remedy{Text: "Fill the column safe_state: 0, 1, hold, or a value."},
			}, true
		})
	},
})
