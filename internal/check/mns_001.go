package check

import (
	"fmt"
	"strings"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "MNS-001", Title: "Mains beside extra-low voltage",
	Why:     "Whoever opens the cabinet for a 24 V fault must not meet 230 V unawares.",
	Example: "A station with 230 V AC inputs beside 24 V modules brings this notice.",
	Source:  "iec-60204-1", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			var mains []string
			for _, g := range st.SupplyGroups {
				if strings.Contains(g.Class, "vac") {
					mains = append(mains, fmt.Sprint(g.Group))
				}
			}
			if len(mains) > 0 {
				out = append(out, finding.Finding{
					Severity: finding.Info, Subject: "station:" + st.ID,
					Message: fmt.Sprintf("%s carries mains voltage in supply group %s.", st.ID, strings.Join(mains, ", ")),
					Remedy:  finding.Remedy{Text: "Cover and label these modules, keep their wires apart, and let only qualified people work on them under the local code."},
				})
			}
		}
		return out
	},
})
