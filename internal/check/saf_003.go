package check

import (
	"fmt"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "SAF-003", Title: "Trip that does not open on a fault",
	Why:     "Trips and permits open on fault: with a contact that closes to trip, a broken wire or a lost supply looks like all is well.",
	Example: "An emergency stop wired NO into a safety-switched group; take the NC contact.",
	Source:  "iec-60204-1#9.4.3", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if s.Kind != project.DI || !strings.HasPrefix(s.SupplyClass, "safety") || s.Contact != "NO" {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s belongs to %s and its contact is NO: a broken wire cannot be told from no demand.", s.Tag, s.SupplyClass),
				Remedy: finding.Remedy{Text: "Have the person responsible for functional safety decide; as a rule trips take an NC contact or two channels."},
			}, true
		})
	},
})
