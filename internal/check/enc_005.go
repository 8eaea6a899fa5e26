package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

// glandShare is how much of a gland plate holes and wrenches may take, in per cent: the square of 1.6 times
// each thread against the plate (common practice).
const glandShare = 70.0

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
			share, known := f.Figure("station:" + st.ID + ".gland_share")
			if !known || share <= glandShare {
				return finding.Finding{}, false
			}
			area, _ := f.Figure("station:" + st.ID + ".glands")
			n := 0
			for i := range f.Design.Cables {
				if c := &f.Design.Cables[i]; c.To == "station:"+st.ID || c.From == "station:"+st.ID {
					n++
				}
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("the glands of %s take %.0f %% of the floor of %s (%s); %.0f %% is the most.", counted(n, "cable"), share, st.ID, e.Code, glandShare),
				Figures: figures("cables", float64(n), "1", "share_percent", share, "%", "allowed_percent", glandShare, "%"), Calculation: "station:" + st.ID + ".gland_share",
				Remedy: finding.Remedy{Text: fmt.Sprintf("A floor of %.0f cm2 would do (%.0f cm2 now): take a deeper enclosure, a cable entry frame, or multicores through junction boxes.", area/glandShare, float64(e.Width)*float64(e.Depth)/100)},
			}, true
		})
	},
})
