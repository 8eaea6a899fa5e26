package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "DIN-003", Title: "Too little current through a 2-wire switch",
	Why:     "A 2-wire switch lives on the current through its load. Where the input draws less than the switch needs, it does not switch.",
	Example: "A switch that needs 5 mA on an input that draws 2.5 mA; put a resistor across the input.",
	Source:  "iec-60947-5-2#minimum-current", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if s.Kind != project.DI || s.Form != "2-wire" || !s.Current.Set || at.Set.Input == 0 {
				return finding.Finding{}, false
			}
			need, draws := s.Current.Value.Milliamps(), at.Set.Input.Milliamps()
			if draws >= need {
				return finding.Finding{}, false
			}
			// the resistor carries the rest at the lowest voltage that a 1 has
			ohm, ok := figureOf(f, s, "least_load")
			if !ok {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s needs %s mA through its load; the input of module %s draws %s mA.", s.Tag, num(need, 2), at.Module.Code, num(draws, 2)),
				Figures: figures("needed_ma", need, "mA", "draws_ma", draws, "mA"), Calculation: calc(s, "least_load"),
				Remedy: finding.Remedy{Text: fmt.Sprintf("Check the switch's least current; if it holds, put %.0f ohm across the input, or take an input that draws more.", ohm)},
			}, true
		})
	},
})
