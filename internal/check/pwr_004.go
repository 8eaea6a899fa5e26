package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
)

var _ = add(Rule{
	Code: "PWR-004", Title: "Fault current above the breaking capacity",
	Why:     "A device that cannot break the largest fault current (cold copper, highest voltage) may burst.",
	Example: "A miniature fuse of 1500 A at a board with 6000 A; take a breaker of 6000 A.",
	Source:  "iec-60364-4-43#434.5.1", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		out := feeders(f, func(fd *design.Feeder, d *hardware.Protection) (finding.Finding, bool) {
			return breaking(d, float64(f.Project.Basis.Feeder.BoardFault), fmt.Sprintf("the board at %s", fd.From))
		})
		return append(out, groups(f, func(st *design.Station, g *design.SupplyGroup) (finding.Finding, bool) {
			d, ok := f.List.Protection(g.Protection)
			if !ok {
				return finding.Finding{}, false
			}
			from := "group:" + g.ID + ".fault_max"
			largest, ok := f.Figure(from)
			if r, limited := f.Design.Calculations["group:"+g.ID+".fault_min"].Inputs["limit"]; !ok && limited {
				largest, ok, from = r.Value, true, "group:"+g.ID+".fault_min"
			}
			if !ok {
				return finding.Finding{}, false
			}
			x, bad := breaking(d, largest, fmt.Sprintf("group %d of %s", g.Group, st.ID))
			x.Calculation = from
			return x, bad
		})...)
	},
})

func breaking(d *hardware.Protection, largest float64, where string) (finding.Finding, bool) {
	if d.Breaking == 0 || largest <= amps(d.Breaking) {
		return finding.Finding{}, false
	}
	return finding.Finding{
		Severity: finding.Error, Message: fmt.Sprintf("a short at %s draws up to %.0f A; %s breaks %s A.", where, largest, d.Code, num(amps(d.Breaking), 0)),
		Figures: figures("fault_max_a", largest, "A", "breaking_a", amps(d.Breaking), "A"),
		Remedy:  finding.Remedy{Text: fmt.Sprintf("Take a device that breaks %.0f A, or put one before it that limits the current.", largest)},
	}, true
}
