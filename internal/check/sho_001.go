package check

import (
	"fmt"
	"strings"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SHO-001", Title: "What one shorted sensor lead takes down",
	Why:     "A pinched cable shorts the sensor supply. Whether one signal, one module or a whole supply group goes with it is the module's nature, and operators should know.",
	Example: "Sixteen inputs whose sensor supply is the group's own: one short trips the group with all its modules; take a module that protects each channel where that matters.",
	Source:  "common-practice#sensor-supply", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			var takers []string
			all := 0
			for _, sl := range st.Slots {
				if sl.SupplyGroup != g.ID {
					continue
				}
				used, group := 0, false
				for _, c := range sl.Channels {
					if at, ok := f.Seats[c.SignalID]; ok && c.Signal != nil {
						used++
						group = group || at.Set.SensorSupply == "group"
					}
				}
				all += used
				if group {
					takers = append(takers, fmt.Sprintf("slot %d (%s)", sl.Slot, sl.Module))
				}
			}
			if len(takers) == 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Info, Message: fmt.Sprintf("a shorted sensor lead at %s takes down group %d of %s with %s.", strings.Join(takers, ", "), g.Group, st.ID, counted(all, "signal")),
				Figures: figures("signals", float64(all), "1"),
				Remedy:  finding.Remedy{Text: "Accept it, or take modules that protect the sensor supply of each channel or module."},
			}, true
		})
	},
})
