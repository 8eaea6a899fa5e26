package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "GRP-002", Title: "Supply group without exactly one infeed point",
	Why:     "A group is a run of neighbouring modules that one pair of wires feeds at its beginning; without it the modules are dead, with a second one two supplies are joined.",
	Example: "A group whose first module sits on a through base; a new plan takes an infeed base.",
	Source:  "arithmetic", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			n := 0
			inside := true
			for _, sl := range st.Slots {
				if sl.SupplyGroup != g.ID {
					inside = inside && (sl.Slot < g.FirstSlot || sl.Slot > g.LastSlot)
					continue
				}
				if sl.Infeed {
					n++
				}
				inside = inside && sl.Slot >= g.FirstSlot && sl.Slot <= g.LastSlot
			}
			if g.InfeedAt == "coupler" {
				n++
			}
			if n == 1 && inside {
				return finding.Finding{}, false
			}
			if !inside {
				return finding.Finding{
					Severity: finding.Error, Message: fmt.Sprintf("the modules of group %d of %s do not lie side by side in slots %d to %d.", g.Group, st.ID, g.FirstSlot, g.LastSlot),
					Remedy: finding.Remedy{Text: "Release the fixed slots of this station and plan again."},
				}, true
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("group %d of %s has %d infeed points.", g.Group, st.ID, n),
				Figures: figures("infeed_points", float64(n), "1"), Remedy: finding.Remedy{Text: "Release the fixed slots and infeed points of this station and plan again."},
			}, true
		})
	},
})
