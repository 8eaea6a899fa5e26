package check

import (
	"fmt"

	"railwright/internal/calc/loop"
	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "DIN-002", Title: "Leaky switch may read 1",
	Why:     "The current that an open switch lets through must stay below what the input still takes for a 0; else the signal never goes off.",
	Example: "A 2-wire switch with 1.2 mA of leakage on a type 1 input (0.5 mA); take a type 3 input (1.5 mA) or a resistor across the input.",
	Source:  "iec-61131-2#table-7", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			margin, ok := figureOf(f, s, "off")
			if !ok || margin >= -1e-9 {
				return finding.Finding{}, false
			}
			leak, of, severity := loop.TwoWireSwitch.Leakage.Milliamps(), "of the worst switch that the standard allows", finding.Warning
			if s.Leakage.Set {
				leak, of, severity = s.Leakage.Value.Milliamps(), "stated", finding.Error
			}
			allowed := leak + margin
			x := finding.Finding{
				Severity: severity, Message: fmt.Sprintf("the open switch of %s leaks %s mA (%s), module %s takes up to %s mA for a 0.", s.Tag, num(leak, 2), of, at.Module.Code, num(allowed, 2)),
				Figures: figures("leakage_ma", leak, "mA", "allowed_ma", allowed, "mA"), Calculation: calc(s, "off"),
			}
			off := float64(at.Set.ThresholdOff)
			if off == 0 {
				off = 5
			}
			ohm := loop.FormulaBleeder.Eval([]float64{off, leak, allowed})
			bleeder := fmt.Sprintf("put at most %.0f ohm across the input (%.2f W at 28.8 V)", ohm, 28.8*28.8/ohm)
			x.Remedy.Text = "Take another switch, or " + bleeder + "."
			if m := better(f, s, at, func(set *chanSet) bool { return set.OffCurrent >= q.Current(leak/1000) }); m != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s, or %s.", m.Code, bleeder), Change: []finding.Change{useModule(s, m)}}
			}
			return x, true
		})
	},
})
