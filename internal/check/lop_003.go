package check

import (
	"fmt"

	"railwright/internal/calc/loop"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "LOP-003", Title: "Resistance of a HART loop",
	Why:     "The digital signal is a current of half a milliampere; below some 230 ohm it makes too little voltage to be heard, above 600 ohm the receiver is out of its range.",
	Example: "A HART transmitter on an input of 100 ohm; put 150 ohm in series or take a module with 250 ohm.",
	Source:  "hart-fsk#resistance", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			r, ok := figureOf(f, s, "hart_r")
			low, high := float64(f.Project.Basis.Circuit.HARTMin), float64(loop.HARTMaxResistance)
			if !ok || r >= low && r <= high {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("the loop of %s has %.0f ohm; HART wants %s to %s ohm.", s.Tag, r, num(low, 0), num(high, 0)),
				Figures: figures("loop_ohm", r, "ohm", "min_ohm", low, "ohm", "max_ohm", high, "ohm"), Calculation: calc(s, "hart_r"),
			}
			x.Remedy.Text = fmt.Sprintf("Take %.0f ohm out of the loop: larger conductors, another barrier.", r-high)
			if r < low {
				x.Remedy.Text = fmt.Sprintf("Put %.0f ohm in series (state it in load_ohm), or take a module with a larger input resistance.", low-r)
			}
			return x, true
		})
	},
})
