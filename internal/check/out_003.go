package check

import (
	"fmt"

	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/project"
)

// release are the shares of its nominal voltage below which a load surely drops out: what relay
// standards ask of DC and AC coils. From memory (IEC 61810-1).
const (
	releaseDC = 0.05
	releaseAC = 0.15
)

var _ = add(Rule{
	Code: "OUT-003", Title: "Leakage may hold the load",
	Why:     "An electronic output lets a little current through when it is off; a small relay or a signal lamp may stay on with it.",
	Example: "A relay of 6 mA on a 230 V AC output that leaks 2 mA; put a resistor or RC unit across the load.",
	Source:  "from-memory#iec-61810-1-release", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			leak := at.Set.Leakage.Milliamps()
			percent, ok := figureOf(f, s, "leak")
			if !ok {
				return finding.Finding{}, false
			}
			share, limit := percent/100, releaseDC
			if !figure.DC(at.Group) {
				limit = releaseAC
			}
			if share <= limit {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("module %s leaks %s mA when off, %.0f %% of the current of %s; from %.0f %% on a load may stay on.", at.Module.Code, num(leak, 2), 100*share, s.Tag, 100*limit),
				Figures: figures("leakage_ma", leak, "mA", "load_ma", s.Current.Value.Milliamps(), "mA"), Calculation: calc(s, "leak"),
				Remedy: finding.Remedy{Text: fmt.Sprintf("Put a resistor across the load that draws %.0f mA more, or take a relay output.", leak/limit-s.Current.Value.Milliamps())},
			}, true
		})
	},
})
