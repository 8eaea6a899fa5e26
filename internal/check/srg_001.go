package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SRG-001", Title: "Copper between buildings",
	Why:     "A cable that leaves the building brings in the voltage between two earths, in a thunderstorm kilovolts: it wants surge protection at its entry and a bonding conductor beside it.",
	Example: "Field cables of a station in buried ducts bring this notice; fibre needs none.",
	Source:  "iec-62305-4", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		outside := map[string]bool{}
		for _, r := range f.Project.Routes {
			a, b := f.Places[r.From], f.Places[r.To]
			outside[r.ID] = r.Medium == "buried" || a != nil && a.Outdoor || b != nil && b.Outdoor
		}
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			n := 0
			for i := range f.Design.Cables {
				c := &f.Design.Cables[i]
				if c.Use == "network" || c.To != "station:"+st.ID {
					continue
				}
				for _, r := range c.Route {
					if outside[r] {
						n++
						break
					}
				}
			}
			if n == 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Info, Message: fmt.Sprintf("%d copper cables of %s run outdoors or underground.", n, st.ID),
				Figures: figures("cables", float64(n), "1"),
				Remedy:  finding.Remedy{Text: "Have surge protection (IEC 61643) at their entry and equipotential bonding between the ends planned by a competent person."},
			}, true
		})
	},
})
