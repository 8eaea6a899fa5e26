package check

import (
	"fmt"

	"railwright/internal/calc/loop"
	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "OUT-002", Title: "Inrush above what the output bears",
	Why:     "A cold lamp takes ten times its current, a contactor or a capacitor several times; an electronic output cuts it off, a relay contact welds.",
	Example: "A lamp of 10 W on an output for lamps of 5 W; take an output of 2 A.",
	Source:  "common-practice#lamp-inrush", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			rated := at.Set.MaxEach.Milliamps()
			if s.Kind != project.DO || !s.Inrush.Set || rated == 0 {
				return finding.Finding{}, false
			}
			inrush, steady := s.Inrush.Value.Milliamps(), s.Current.Value.Milliamps()
			if inrush <= rated {
				return finding.Finding{}, false
			}
			lamp := steady > 0 && inrush >= 0.8*loop.LampInrush*steady
			watts := 24 * steady / 1000
			if s.Voltage.Set {
				watts = float64(s.Voltage.Value) * steady / 1000
			}
			if lamp && at.Set.Lamp > 0 && watts <= float64(at.Set.Lamp) {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s takes %s mA when switched on; a channel of module %s is rated for %s mA.", s.Tag, num(inrush, 0), at.Module.Code, num(rated, 0)),
				Figures: figures("inrush_ma", inrush, "mA", "rated_ma", rated, "mA"),
				Remedy:  finding.Remedy{Text: "Put a relay between, or limit the inrush."},
			}
			if lamp {
				x.Message += fmt.Sprintf(" As a lamp it has %s W, %s W allowed.", num(watts, 1), num(float64(at.Set.Lamp), 1))
			}
			if m := better(f, s, at, func(set *chanSet) bool {
				return set.MaxEach >= q.Microamps(inrush*1000) || lamp && float64(set.Lamp) >= watts
			}); m != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s.", m.Code), Change: []finding.Change{useModule(s, m)}}
			}
			return x, true
		})
	},
})
