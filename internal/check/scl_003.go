package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// mostOff is the error of a module at its temperature above which a reading is worth a look, as a share
// of its range (common practice: class 0.5 of industrial instruments).
const mostOff = 0.005

var _ = add(Rule{
	Code: "SCL-003", Title: "Module error in the warm enclosure",
	Why:     "A module's error is stated at 25 degC and grows with every kelvin; in a warm enclosure the drift may be larger than the error itself.",
	Example: "0.3 % and 100 ppm/K at 55 degC make 0.6 % of the range; take a better module or a cooler enclosure.",
	Source:  "iec-61131-2#analogue-error", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			off, ok := figureOf(f, s, "module_error")
			span := s.RangeHigh.Value - s.RangeLow.Value
			if !ok || span <= 0 || off <= mostOff*span {
				return finding.Finding{}, false
			}
			inside := f.Design.Calculations[calc(s, "module_error")].Inputs["ambient"].Value
			x := finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("module %s may be %.3g %s off with %s at %.0f degC inside, %.2f %% of the range.", at.Module.Code, off, s.Unit, s.Tag, inside, 100*off/span),
				Figures: figures("error", off, s.Unit, "allowed", mostOff*span, s.Unit), Calculation: calc(s, "module_error"),
				Remedy: finding.Remedy{Text: "Take a module with less drift, or a cooler enclosure."},
			}
			if m := better(f, s, at, func(set *chanSet) bool { return set.Accuracy < at.Set.Accuracy && sameLoop(set, s) }); m != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s.", m.Code), Change: []finding.Change{useModule(s, m)}}
			}
			return x, true
		})
	},
})
