package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "NET-003", Title: "More stations than the network takes",
	Why:     "Each profile has an end: addresses, unit loads, hops. A station beyond it is not reached.",
	Example: "Forty stations on an RS-485 bus of 31; take two buses or Ethernet.",
	Source:  "tia-485#unit-loads", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		p, ok := f.List.Network(f.Design.Network.Profile)
		n := len(f.Design.Stations)
		if !ok || p.MaxStations == 0 || n <= p.MaxStations {
			return nil
		}
		return finding.List{{
			Severity: finding.Error, Subject: "project", Message: fmt.Sprintf("%d stations on one network of profile %s, %d allowed.", n, p.Code, p.MaxStations),
			Figures: figures("stations", float64(n), "1", "max_stations", float64(p.MaxStations), "1"),
			Remedy:  finding.Remedy{Text: "Take another profile, fewer and larger stations, or split the project."},
		}}
	},
})
