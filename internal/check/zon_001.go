package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ZON-001", Title: "Station in a hazardous zone",
	Why:     "A station in a zone needs a protection concept of its own, which the hardware list here does not state.",
	Example: "A candidate place in zone 2; forbid it, or have a competent person specify the enclosure.",
	Source:  "iec-60079-14", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			p := f.Places[st.Place]
			if p == nil || p.Zone == "" {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "station:" + st.ID,
				Message: fmt.Sprintf("%s stands at %s, which is zone %s.", st.ID, p.Name, p.Zone),
				Remedy: finding.Remedy{
					Text:   "Move the station out of the zone, or have a competent person specify its protection.",
					Change: []finding.Change{{Subject: "place:" + p.ID, Property: "candidate", Value: "no"}},
				},
			})
		}
		return out
	},
})
