package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SIG-001", Title: "Signal without a channel",
	Why:     "A signal that no station serves is missing from every drawing, list and program that follows.",
	Example: "An analogue input 0-10 V in a construction whose list has no voltage input; add such a module to hardware.toml or change the form.",
	Source:  "arithmetic", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, u := range f.Design.Unplaced {
			if u.Proof == "row" {
				continue // its faulty cell has a finding of its own
			}
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "signal:" + u.Signal,
				Message: fmt.Sprintf("%s has no channel: %s.", u.Tag, u.Why),
				Remedy:  finding.Remedy{Text: unplacedRemedy[u.Proof]},
			})
		}
		return out
	},
})

var unplacedRemedy = map[string]string{
	"none":       "Add hardware that takes it, or relax the limit or choice that is named.",
	"set":        "These signals do not fit together: allow more stations at a candidate place, raise a limit, or release a choice.",
	"not proven": "No place was found within the search budget: plan again with more steps, allow more stations, or release a choice.",
}
