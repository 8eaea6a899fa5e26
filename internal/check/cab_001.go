package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "CAB-001", Title: "Field cable longer than allowed",
	Why:     "Beyond a kind's length the signal is no longer what the device sent: volts are lost, edges blur, noise comes in.",
	Example: "A thermocouple 400 m from its station where the basis allows 250 m; allow a candidate place nearer to it.",
	Source:  "common-practice#cable-length", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, c := range f.Design.Cables {
			if c.Use != "field" {
				continue
			}
			for _, id := range c.Signals {
				s := f.Signals[id]
				if s == nil {
					continue
				}
				limit := f.Project.Basis.MaxCable[s.Kind].Metres()
				if limit <= 0 || c.LengthM <= limit {
					continue
				}
				out = append(out, finding.Finding{
					Severity: finding.Error, Subject: "cable:" + c.ID,
					Message:     fmt.Sprintf("%s is %.1f m long, %.1f m allowed for %s (%s).", c.ID, c.LengthM, limit, s.Kind, s.Tag),
					Figures:     figures("length_m", c.LengthM, "m", "max_length_m", limit, "m"),
					Remedy:      finding.Remedy{Text: "Serve it from a nearer place, or raise the length in the basis with a reason."},
					Calculation: "cable:" + c.ID + ".laid",
				})
				break
			}
		}
		return out
	},
})
