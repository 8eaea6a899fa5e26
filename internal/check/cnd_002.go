package check

import (
	"fmt"

	"railwright/internal/calc/conductor"
	"railwright/internal/design"
	"railwright/internal/finding"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "CND-002", Title: "Wires without a standard ferrule",
	Why:     "The standard's ferrules and colours begin at 0.5 mm2; thinner wires need ferrules that the shop has to agree on.",
	Example: "Cables of 0.34 mm2 bring this notice: state which ferrules to buy.",
	Source:  "din-46228-4#colours", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			n, smallest := 0, 0.0
			for i := range f.Design.Cables {
				c := &f.Design.Cables[i]
				if c.Use != "field" || c.To != "station:"+st.ID {
					continue
				}
				if fr, err := conductor.FerruleFor(q.CrossSection(c.AreaMM2), false); err == nil && fr.Colour == "" {
					n++
					smallest = c.AreaMM2
				}
			}
			if n == 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Info, Message: fmt.Sprintf("%s has %s with wires of %s mm2, for which no standard ferrule exists.", st.ID, counted(n, "cable"), num(smallest, 2)),
				Figures: figures("cables", float64(n), "1", "area_mm2", smallest, "mm2"),
				Remedy:  finding.Remedy{Text: "Agree on ferrules with the shop, or take 0.5 mm2 or more."},
			}, true
		})
	},
})
