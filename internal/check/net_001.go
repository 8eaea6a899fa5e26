package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "NET-001", Title: "Network cable longer than its profile allows",
	Why:     "A link beyond its length fails now and then, which is worse than not at all.",
	Example: "140 m of copper Ethernet between two stations; use the fibre profile or a station between.",
	Source:  "common-practice#network-length", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, s := range f.Design.Network.Segments {
			if s.LimitM <= 0 || s.LengthM <= s.LimitM {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "cable:" + s.Cable,
				Message: fmt.Sprintf("network cable %s from %s to %s is %.1f m long, %.1f m allowed.", s.Cable, s.From, s.To, s.LengthM, s.LimitM),
				Figures: figures("length_m", s.LengthM, "m", "max_length_m", s.LimitM, "m"), Calculation: figureIn(f, "cable:"+s.Cable+".laid"),
				Remedy: finding.Remedy{Text: "Choose a profile that reaches further (fibre), another topology, or a place between."},
			})
		}
		return out
	},
})
