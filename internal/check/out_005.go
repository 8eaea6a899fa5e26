package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// yearsWanted is how long a relay contact should last between two exchanges of its module.
const yearsWanted = 10

var _ = add(Rule{
	Code: "OUT-005", Title: "Relay contact wears out",
	Why:     "A contact makes some hundred thousand operations at its rated load; a cycling output uses them up in months.",
	Example: "A relay that switches every ten seconds (0.1 Hz) lives 12 days at 100 000 operations; take a transistor output.",
	Source:  "common-practice#relay-life", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			years, ok := figureOf(f, s, "life")
			if !ok || years >= yearsWanted {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("the contact of %s makes %d operations at its rated load: %s at %s Hz.", s.Tag, at.Set.Operations, lasting(years), num(float64(s.Frequency.Value), 4)),
				Figures: figures("life_years", years, "a", "wanted_years", float64(yearsWanted), "a"), Calculation: calc(s, "life"),
				Remedy: finding.Remedy{Text: "Take a transistor output (form 24v), or a contactor that the relay drives seldom."},
			}, true
		})
	},
})

func lasting(years float64) string {
	if years < 0.3 {
		return fmt.Sprintf("%.0f days", years*365.25)
	}
	return fmt.Sprintf("%.1f years", years)
}
