package check

import (
	"fmt"

	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "NET-006", Title: "Reaction slower than the signal asks",
	Why:     "From the field to the controller and back every cycle may just have been missed once: filter, module, station, network and scan add up, most of them twice.",
	Example: "A signal that asks for 50 ms with a scan of 20 ms and an update of 10 ms takes 68 ms; take shorter cycles or decide it in the station.",
	Source:  "common-practice#reaction-time", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			id := figure.ReactionID(at)
			ms, ok := f.Figure(id)
			asked := float64(s.Response.Value) * 1000
			if !ok || !s.Response.Set || asked <= 0 || ms <= asked {
				return finding.Finding{}, false
			}
			in := f.Design.Calculations[id].Inputs
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s asks for an answer within %s ms; the worst case is %s ms (filter %s, 2 x station %s, 2 x update %s, 2 x scan %s, output %s).", s.Tag, num(asked, 1), num(ms, 1),
					num(in["input_filter"].Value, 2), num(in["station_cycle"].Value, 2), num(in["update"].Value, 2), num(in["scan"].Value, 2), num(in["output_delay"].Value, 2)),
				Figures: figures("reaction_ms", ms, "ms", "asked_ms", asked, "ms"), Calculation: id,
				Remedy: finding.Remedy{Text: fmt.Sprintf("Take %.1f ms out of update and scan together, a quicker module, or wire the function outside the controller.", (ms-asked)/2)},
			}, true
		})
	},
})
