package check

import (
	"fmt"

	"railwright/internal/calc/loop"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "POL-001", Title: "Switches 0 V while 0 V is earthed",
	Why:     "One earth fault on the signal core makes a 1 although nothing has switched, or keeps an output on; a single earth fault must neither start a machine nor keep it from stopping.",
	Example: "An NPN sensor on a supply with earthed 0 V; take a PNP sensor, or isolate the supply and monitor its insulation.",
	Source:  "iec-60204-1#9.4.3", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			earthed := f.Project.Basis.Earthing != "isolated"
			if s.Form != "npn" || !loop.EarthFaultReadsOne(earthed, loop.SwitchesMinus) {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s switches to 0 V (NPN) and the basis earths 0 V: an earth fault on its core reads as a 1.", s.Tag),
				Remedy: finding.Remedy{
					Text:   "Take a PNP sensor, or isolate the 24 V supply and monitor its insulation (basis earthing = \"isolated\").",
					Change: []finding.Change{{Subject: "signal:" + s.ID, Property: "form", Value: "pnp"}},
				},
			}, true
		})
	},
})
