package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "EAR-001", Title: "How 0 V stands to earth",
	Why:     "0 V is earthed at one point, so that an earth fault trips; or it is isolated and monitored, so that the first fault is seen. Anything between hides faults.",
	Example: "Every project with an isolated 24 V supply brings this notice: insulation monitors have to be bought and their alarms wired.",
	Source:  "iec-60204-1#9.4.3", Mend: ByBasis,
	Run: func(f *Facts) finding.List {
		if f.Project.Basis.Earthing != "isolated" || len(f.Design.Supplies) == 0 {
			return nil
		}
		return finding.List{{
			Severity: finding.Info, Subject: "project",
			Message: fmt.Sprintf("the 24 V supplies of %s are isolated from earth.", counted(len(f.Design.Stations), "station")),
			Remedy:  finding.Remedy{Text: "Fit an insulation monitor to each supply and bring its alarm to the controller; no other part of the circuit may be earthed."},
		}}
	},
})
