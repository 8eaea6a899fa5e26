package check

import (
	"fmt"
	"math"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "DIN-004", Title: "Long mains line holds its input at 1",
	Why:     "In a long cable the live core feeds the signal core through their capacitance; an open switch may then still read 1.",
	Example: "A 230 V input at the end of 350 m; switch 24 V instead, or put a resistor across the input.",
	Source:  "arithmetic#divider", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			u, ok := figureOf(f, s, "coupled")
			off := float64(at.Set.ThresholdOff)
			if !ok || u <= off {
				return finding.Finding{}, false
			}
			longest := 0.0
			if r := f.Design.Calculations[calc(s, "coupled")]; r.Inputs != nil {
				w := 2 * math.Pi * r.Inputs["frequency"].Value * r.Inputs["c"].Value * 1e-12 * r.Inputs["input"].Value
				longest = off / math.Sqrt(r.Inputs["supply"].Value*r.Inputs["supply"].Value-off*off) / w
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("with its switch open, %.0f m of cable leave %s %.0f V at its input; %s V are still a 0 (module %s).", laid(at), s.Tag, u, num(off, 0), at.Module.Code),
				Figures: figures("at_input_v", u, "V", "threshold_off_v", off, "V", "longest_m", longest, "m"), Calculation: calc(s, "coupled"),
				Remedy: finding.Remedy{
					Text:   fmt.Sprintf("Switch 24 V DC instead (form contact), serve it within %.0f m, or have a resistor or RC unit across the input chosen.", longest),
					Change: []finding.Change{{Subject: "signal:" + s.ID, Property: "form", Value: "contact"}},
				},
			}, true
		})
	},
})
