package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// coarsest is the largest step that an analogue signal should have, as a share of its range: 0.1 %, a
// converter of ten bits (common practice).
const coarsest = 0.001

var _ = add(Rule{
	Code: "SCL-002", Title: "Resolution too coarse",
	Why:     "A value that moves in large steps cannot be controlled finely, and its alarms come in jumps.",
	Example: "A range of 0 to 400 bar on a converter of 8 bits: 1.6 bar a step; take a module with more bits.",
	Source:  "common-practice#resolution", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			step, ok := figureOf(f, s, "resolution")
			span := s.RangeHigh.Value - s.RangeLow.Value
			if !ok || span <= 0 || step <= coarsest*span {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("one step of %s is %.3g %s (%d bits), %.2f %% of its range.", s.Tag, step, s.Unit, at.Set.Bit, 100*step/span),
				Figures: figures("step", step, s.Unit, "allowed_step", coarsest*span, s.Unit), Calculation: calc(s, "resolution"),
				Remedy: finding.Remedy{Text: "Take a module with more bits, or a smaller range."},
			}
			if m := better(f, s, at, func(set *chanSet) bool { return set.Bit > at.Set.Bit && sameLoop(set, s) }); m != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s.", m.Code), Change: []finding.Change{useModule(s, m)}}
			}
			return x, true
		})
	},
})
