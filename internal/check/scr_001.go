package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "SCR-001", Title: "Small signal without a screen",
	Why:     "Millivolts, ohms and milliamperes beside motors pick up noise; a screen landed at the station keeps it out.",
	Example: "A thermocouple whose list row says screen no; take the screen, or a transmitter at the sensor.",
	Source:  "iec-61000-5-2#cable-classes", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			plain := *s
			plain.Screen = ""
			if at.Type == nil || at.Type.Screened || !fit.Screened(&plain) {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s (%s) runs %.0f m in cable %s, which has no screen.", s.Tag, s.Kind, laid(at), at.Type.Code),
				Figures: figures("length_m", laid(at), "m"),
				Remedy:  finding.Remedy{Text: "Take a screened cable (column screen), its screen landed at the station.", Change: []finding.Change{{Subject: "signal:" + s.ID, Property: "screen", Value: "yes"}}},
			}, true
		})
	},
})
