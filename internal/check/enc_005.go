package check

import (
	"fmt"
	"math"

	"railwright/internal/calc/conductor"
	"railwright/internal/design"
	"railwright/internal/finding"
	q "railwright/internal/quantity"
)

// glandShare is how much of a gland plate holes and wrenches may take: the square of 1.6 times each
// thread against the plate (common practice).
const (
	glandShare = 0.7
	glandPitch = 1.6
)

var _ = add(Rule{
	Code: "ENC-005", Title: "Gland plate too small",
	Why:     "Every cable wants a gland and room for the wrench beside it; what does not fit through the floor comes in through a wall, and the IP is lost.",
	Example: "Ninety cables into an enclosure of 600 x 210 mm; take a deeper one, or multicores.",
	Source:  "common-practice#gland-plate", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			e, ok := f.List.Enclosure(st.Enclosure)
			if !ok {
				return finding.Finding{}, false
			}
			n, area := 0, 0.0
			for i := range f.Design.Cables {
				c := &f.Design.Cables[i]
				if c.To != "station:"+st.ID && c.From != "station:"+st.ID {
					continue
				}
				t, ok := f.List.Cable(c.Type)
				if !ok || t.DiameterUM == 0 {
					continue
				}
				g, err := conductor.GlandFor(q.Length(float64(t.DiameterUM) / 1e6))
				if err != nil {
					continue
				}
				hole := float64(g.Hole) * 1000 * glandPitch
				n, area = n+1, area+hole*hole
			}
			plate := float64(e.Width) * float64(e.Depth)
			if share := area / math.Max(plate, 1); share > glandShare {
				return finding.Finding{
					Severity: finding.Warning, Message: fmt.Sprintf("the glands of %d cables take %.0f %% of the floor of %s (%s); %.0f %% is the most.", n, 100*share, st.ID, e.Code, 100*glandShare),
					Figures: figures("cables", float64(n), "1", "share_percent", 100*share, "%", "allowed_percent", 100*glandShare, "%"),
					Remedy:  finding.Remedy{Text: fmt.Sprintf("A floor of %.0f cm2 would do (%.0f cm2 now): take a deeper enclosure, a cable entry frame, or multicores through junction boxes.", area/glandShare/100, plate/100)},
				}, true
			}
			return finding.Finding{}, false
		})
	},
})
