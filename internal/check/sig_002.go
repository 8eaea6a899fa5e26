package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SIG-002", Title: "Signal on hold",
	Why:     "What rests on a value still to be confirmed may have to be built twice; a hold blocks issue for construction.",
	Example: "A valve with the remark that its coil current is not confirmed; confirm it and empty the hold column.",
	Source:  "common-practice", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for i := range f.Project.Signals {
			s := &f.Project.Signals[i]
			if s.Hold == "" {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Warning, Subject: "signal:" + s.ID,
				Message: fmt.Sprintf("%s is on hold: %s.", s.Tag, s.Hold),
				Remedy: finding.Remedy{
					Text:   "Confirm the value and empty the hold; until then nothing that rests on it is issued for construction.",
					Change: []finding.Change{{Subject: "signal:" + s.ID, Property: "hold", Value: ""}},
				},
			})
		}
		return out
	},
})
