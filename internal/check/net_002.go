package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "NET-002", Title: "Copper network between different earths",
	Why:     "Between buildings the earths differ by volts in calm weather and by kilovolts near lightning; copper carries that into the electronics.",
	Example: "Copper Ethernet from the control room to an outdoor station; use fibre.",
	Source:  "common-practice#fibre-between-earths", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		profile, ok := f.List.Network(f.Design.Network.Profile)
		if !ok || profile.Between {
			return nil
		}
		var out finding.List
		for _, s := range f.Design.Network.Segments {
			if s.LengthM <= 30 || s.From == s.To {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Warning, Subject: "cable:" + s.Cable,
				Message: fmt.Sprintf("network cable %s (%s) runs %.1f m from %s to %s; the two ends may stand on different earths.", s.Cable, profile.Medium, s.LengthM, s.From, s.To),
				Figures: figures("length_m", s.LengthM, "m"),
				Remedy:  finding.Remedy{Text: "Use a fibre profile, or state that both ends share one bonding network."},
			})
		}
		return out
	},
})
