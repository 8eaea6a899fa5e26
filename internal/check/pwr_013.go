package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "PWR-013", Title: "Larger infeed conductor chosen",
	Why:     "The basis's infeed conductor may bear less than its device lets through, in the warm air of the enclosure. The plan then takes the smallest that the device protects, and says so: somebody has to order and crimp it.",
	Example: "A device of 10 A before 1.5 mm2, which bear 7.9 A at 50 degC beside four other circuits; the plan takes 2.5 mm2.",
	Source:  "iec-60364-4-43#433.1", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		choices := fixedChoices(f)
		return groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			basis := float64(f.Project.Basis.Supply.InfeedArea)
			d, ok := f.List.Protection(g.Protection)
			iz, ok2 := f.Figure("group:" + g.ID + ".ampacity")
			if !ok || !ok2 || g.InfeedMM2 <= basis || choices.told("station:"+st.ID, fmt.Sprintf("infeed_mm2.%d", slotOf(g))) {
				return finding.Finding{}, false
			}
			in := amps(d.Rating.Current())
			return finding.Finding{
				Severity: finding.Info, Message: fmt.Sprintf("the infeed of group %d of %s has %s mm2 (the basis says %s mm2): they bear %.1f A as laid, behind %s of %s A.", g.Group, st.ID, num(g.InfeedMM2, 2), num(basis, 2), iz, d.Code, num(in, 2)),
				Figures: figures("infeed_mm2", g.InfeedMM2, "mm2", "basis_mm2", basis, "mm2", "iz_a", iz, "A", "in_a", in, "A"), Calculation: "group:" + g.ID + ".ampacity",
				Remedy: finding.Remedy{Text: "None needed; check that the infeed terminal clamps the conductor."},
			}, true
		})
	},
})
