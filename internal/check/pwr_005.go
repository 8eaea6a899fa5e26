package check

import (
	"fmt"

	"railwright/internal/calc/conductor"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "PWR-005", Title: "Voltage drop of a feeder too large",
	Why:     "Supply units start late or not at all on low mains, and every other load of the feeder suffers with them.",
	Example: "A feeder over 6 km that no conductor of the list keeps within 5 %; feed the station from a nearer board. Where a larger conductor of the list does, the plan takes it.",
	Source:  "iec-60364-5-52#annex-G", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return feeders(f, func(fd *design.Feeder, _ *hardware.Protection) (finding.Finding, bool) {
			drop, ok := f.Figure("feeder:" + fd.ID + ".drop_percent")
			most := float64(f.Project.Basis.Feeder.Drop) / 10
			if !ok || drop <= most+1e-9 {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("feeder %s loses %.1f %% of %s V at %.2f A, %s %% allowed by the basis.", fd.ID, drop, num(fd.VoltageV, 0), fd.CurrentA, num(most, 1)),
				Figures: figures("drop_percent", drop, "%", "allowed_percent", most, "%"), Calculation: "feeder:" + fd.ID + ".drop_percent",
				Remedy: finding.Remedy{Text: "Feed the station from a nearer board (power_source), or allow a larger drop with a reason."},
			}
			length := f.Design.Calculations["feeder:"+fd.ID+".at_load"].Inputs["length"].Value
			for _, a := range sizes {
				r, err := conductor.ResistancePerLength(q.CrossSection(a), conductor.Class1, figure.HotCopper)
				if err != nil {
					continue
				}
				if p := 100 * 2 * length * float64(r) * fd.CurrentA / fd.VoltageV; p <= most {
					x.Remedy.Text = fmt.Sprintf("With %s mm2 it would lose %.1f %%: add such a supply cable to hardware.toml, which the plan then takes, or feed the station from a nearer board.", num(a, 2), p)
					break
				}
			}
			return x, true
		})
	},
})
