package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "LOP-005", Title: "Failure of a loop is not seen",
	Why:     "NAMUR NE 43: up to 3.6 mA and from 21 mA on a loop says that it is broken. A form that begins at 0 mA, or a module that does not report it, turns a broken wire into a measured value.",
	Example: "A level of 0-20 mA with a low alarm: a broken wire reads as an empty tank; take 4-20 mA.",
	Source:  "namur-ne-43#failure-current", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if s.Kind != project.AI {
				return finding.Finding{}, false
			}
			alarmed := s.AlarmLow.Set || s.AlarmHigh.Set
			switch {
			case s.Form == "4-20ma" && !at.Set.WireBreak:
				return finding.Finding{
					Severity: finding.Warning, Message: fmt.Sprintf("module %s does not report currents below 3.6 or above 21 mA, by which %s says that it has failed.", at.Module.Code, s.Tag),
					Figures: figures("fail_low_ma", 3.6, "mA", "fail_high_ma", 21.0, "mA"), Remedy: wireBreak(f, s, at),
				}, true
			case s.Form == "0-20ma" && alarmed:
				return finding.Finding{
					Severity: finding.Warning, Message: fmt.Sprintf("%s is 0-20 mA and has alarm limits: a broken wire reads as %s %s.", s.Tag, num(s.RangeLow.Value, 3), s.Unit),
					Remedy: finding.Remedy{Text: "Take 4-20 mA if the device can, so that 0 mA is a failure."},
				}, true
			}
			return finding.Finding{}, false
		})
	},
})

func wireBreak(f *Facts, s *project.Signal, at Seat) finding.Remedy {
	if m := better(f, s, at, func(set *chanSet) bool { return set.WireBreak && sameLoop(set, s) }); m != nil {
		return finding.Remedy{Text: fmt.Sprintf("Use %s, which reports it.", m.Code), Change: []finding.Change{useModule(s, m)}}
	}
	return finding.Remedy{Text: "Let the controller judge the current: failure up to 3.6 mA and from 21 mA on."}
}
