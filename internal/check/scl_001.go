package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "SCL-001", Title: "Analogue signals without a range",
	Why:     "Without a range nobody can turn a current into a value: no scaling, no expected values on the loop sheet, no resolution.",
	Example: "A level transmitter of which the list says 4-20 mA and nothing more; fill range_low, range_high and unit.",
	Source:  "arithmetic#straight-line", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			var tags []string
			for _, id := range f.Placed {
				s := f.Signals[id]
				if f.Seats[id].Station == st && s != nil && (s.Kind == project.AI || s.Kind == project.AO) && (!s.RangeLow.Set || !s.RangeHigh.Set) {
					tags = append(tags, s.Tag)
				}
			}
			if len(tags) == 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%d analogue signals of %s have no range: %s.", len(tags), st.ID, few(tags)),
				Figures: figures("signals", float64(len(tags)), "1"),
				Remedy:  finding.Remedy{Text: "Fill range_low, range_high and unit."},
			}, true
		})
	},
})
