package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "NET-008", Title: "Terminators of a bus",
	Why:     "A bus is terminated at both ends and nowhere else; a missing or a third terminator makes it fail now and then.",
	Example: "Every RS-485 or CAN bus brings this notice with its two ends.",
	Source:  "tia-485#termination", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		p, ok := f.List.Network(f.Design.Network.Profile)
		s := f.Design.Network.Segments
		if !ok || p.Medium != "rs485" && p.Medium != "can" || len(s) == 0 {
			return nil
		}
		last := s[len(s)-1].To
		return finding.List{{
			Severity: finding.Info, Subject: "project", Message: fmt.Sprintf("the bus ends at %s and at %s.", s[0].From, last),
			Figures: figures("terminators", 2.0, "1"),
			Remedy:  finding.Remedy{Text: "Switch the terminators on there and off at every other station."},
		}}
	},
})
