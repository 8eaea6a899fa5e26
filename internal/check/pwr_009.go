package check

import (
	"fmt"
	"strings"

	"railwright/internal/calc/protect"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "PWR-009", Title: "Group and feeder may trip together",
	Why:     "Where the device of a mains group is not selective to that of the feeder, one short takes the whole station.",
	Example: "A mains group behind B6 on a feeder behind B10: above 30 A both may trip; accept it, or take a feeder device that its maker states as selective.",
	Source:  "common-practice#current-selectivity", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			var pairs []string
			least, largest, calculation := -1.0, 0.0, ""
			for i := range st.SupplyGroups {
				g := &st.SupplyGroups[i]
				down, ok := f.List.Protection(g.Protection)
				up, fd := feederDevice(f, st, g)
				if figure.DC(g) || !ok || up == nil {
					continue
				}
				fault, ok := f.Figure("group:" + g.ID + ".fault_max")
				s, err := protect.Selective(figure.Device(up, false), figure.Device(down, false))
				if !ok || err != nil || s.Total || q.Current(fault) < s.UpTo {
					continue
				}
				pairs = append(pairs, fmt.Sprintf("%s of group %d and %s of feeder %s", down.Code, g.Group, up.Code, fd))
				largest, calculation = max(largest, fault), "group:"+g.ID+".fault_max"
				if least < 0 || amps(s.UpTo) < least {
					least = amps(s.UpTo)
				}
			}
			if len(pairs) == 0 {
				return finding.Finding{}, false
			}
			upTo := "at no current"
			if least > 0 {
				upTo = fmt.Sprintf("up to %.0f A only", least)
			}
			return finding.Finding{
				Severity: finding.Info, Message: fmt.Sprintf("%s are selective %s; a short draws up to %.0f A and may take %s as a whole.", strings.Join(pairs, ", "), upTo, largest, st.ID),
				Figures: figures("selective_a", max(0, least), "A", "fault_max_a", largest, "A"), Calculation: calculation,
				Remedy: finding.Remedy{Text: "Accept it, or take a feeder device that its maker states as selective."},
			}, true
		})
	},
})

// feederDevice is the protective device of the feeder behind a group, with the feeder's id.
func feederDevice(f *Facts, st *design.Station, g *design.SupplyGroup) (*hardware.Protection, string) {
	for i := range f.Design.Feeders {
		fd := &f.Design.Feeders[i]
		if fd.Station == st.ID && fd.Class == figure.Feed(g) {
			if d, ok := deviceOf(f, "feeder:"+fd.ID); ok {
				return d, fd.ID
			}
		}
	}
	return nil, ""
}
