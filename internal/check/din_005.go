package check

import (
	"fmt"

	"railwright/internal/calc/loop"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "DIN-005", Title: "Line of a NAMUR sensor too long",
	Why:     "The sensor speaks by its current at 8.2 V; line resistance above 50 ohm shifts both of its levels, and a wire break or short is no longer told apart.",
	Example: "A NAMUR sensor at the end of 1000 m of 0.75 mm2 (62 ohm); take a larger conductor.",
	Source:  "iec-60947-5-6#line", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if s.Form != "namur" && s.Form != "pulse-namur" || at.Type == nil {
				return finding.Finding{}, false
			}
			r, ok := loopOf(at.Type, laid(at))
			const most = float64(loop.NAMURMaxLine)
			if !ok || r <= most {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("the line of %s has %.1f ohm, %.0f ohm allowed for a NAMUR sensor.", s.Tag, r, most),
				Figures: figures("line_ohm", r, "ohm", "max_ohm", most, "ohm"), Calculation: "cable:" + at.Cable.ID + ".loop",
				Remedy: finding.Remedy{Text: fmt.Sprintf("Serve it within %.0f m of this cable.", laid(at)*most/r)},
			}
			if c, loop := larger(f, at, func(loop float64) bool { return loop <= most }); c != nil {
				x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s mm2 (%s): %.1f ohm.", num(float64(c.Area), 2), c.Code, loop), Change: []finding.Change{useCable(s, c)}}
			}
			return x, true
		})
	},
})
