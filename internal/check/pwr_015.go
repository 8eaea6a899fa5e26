package check

import (
	"fmt"

	"railwright/internal/calc/protect"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "PWR-015", Title: "Short at the end of a field cable does not trip its group",
	Why:     "A long thin field cable keeps the current of a short below the upper edge of the device before its group. On mains the touch voltage then stays; below it a cable may glow that nothing cuts off. Outputs that survive a short protect their own cable and are left out.",
	Example: "An output for 230 V AC behind B6 with 300 m of 1.5 mm2 at the end of a long feeder: 17 A, where 30 A would trip it; take a larger conductor.",
	Source:  "iec-60364-4-41#411.3.2", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			fault, ok := figureOf(f, s, "fault_end")
			if !ok {
				return finding.Finding{}, false
			}
			d, ok := f.List.Protection(at.Group.Protection)
			if !ok {
				return finding.Finding{}, false
			}
			dc := figure.DC(at.Group)
			edge, holds := trips(d, dc, fault)
			iz, known := figureOf(f, s, "ampacity")
			if holds || edge == 0 || dc && known && fault <= iz*(1+1e-9) {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("a short at the far end of the cable of %s (%.0f m of %s mm2) draws %.1f A; %s before group %d of %s surely trips only from %.1f A on.", s.Tag, laid(at), num(at.Cable.AreaMM2, 2), fault, d.Code, at.Group.Group, at.Station.ID, edge),
				Figures: figures("fault_a", fault, "A", "trips_a", edge, "A"), Calculation: calc(s, "fault_end"),
				Remedy: finding.Remedy{Text: "Take a device of a lower rating before the group, a larger conductor, or serve the device from a nearer place; a competent person may add a fuse of its own or a residual-current device."},
			}
			if dc {
				x.Severity = finding.Warning
				x.Message += fmt.Sprintf(" The cable bears %.1f A.", iz)
			}
			in := f.Design.Calculations[calc(s, "fault_end")].Inputs
			if limit, limited := in["limit"]; limited && limit.Value < edge {
				return x, true
			}
			if c, r := larger(f, at, func(loop float64) bool { return in["source"].Value/(in["r_internal"].Value+loop) >= edge }); c != nil {
				x.Remedy = finding.Remedy{
					Text:   fmt.Sprintf("Use %s mm2 (%s): %.1f A.", num(float64(c.Area), 2), c.Code, in["source"].Value/(in["r_internal"].Value+r)),
					Change: []finding.Change{useCable(s, c)},
				}
			} else if l := protect.FormulaLongest.Eval([]float64{in["source"].Value, edge, in["r_internal"].Value, in["r"].Value}); l > 0 {
				x.Remedy.Text = fmt.Sprintf("With this cable it may be %.0f m long. ", l) + x.Remedy.Text
			}
			return x, true
		})
	},
})
