package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "OUT-007", Title: "Safe state cannot be kept",
	Why:     "When the network is dead only the station itself brings an output to its safe state: its coupler must watch the link, and its module must know what to do.",
	Example: "A valve whose safe state is hold on a module without a substitute value; take a module that has one.",
	Source:  "common-practice#substitute-value", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if !s.Kind.Output() || s.SafeState == "" {
				return finding.Finding{}, false
			}
			c, ok := f.List.Coupler(at.Station.Coupler)
			switch {
			case ok && c.Watchdog == 0:
				return finding.Finding{
					Severity: finding.Error, Message: fmt.Sprintf("%s must go to %s when the link is dead; coupler %s does not watch it.", s.Tag, s.SafeState, c.Code),
					Remedy: finding.Remedy{Text: "Take a coupler with an output watchdog."},
				}, true
			case !at.Set.Substitute && s.SafeState != "0":
				x := finding.Finding{
					Severity: finding.Error, Message: fmt.Sprintf("%s must go to %s when the link is dead; module %s has no substitute value and can only switch off.", s.Tag, s.SafeState, at.Module.Code),
					Remedy: finding.Remedy{Text: "Take a module with a substitute value for each channel."},
				}
				if m := better(f, s, at, func(set *chanSet) bool { return set.Substitute && set.MaxEach >= at.Set.MaxEach }); m != nil {
					x.Remedy = finding.Remedy{Text: fmt.Sprintf("Use %s.", m.Code), Change: []finding.Change{useModule(s, m)}}
				}
				return x, true
			}
			return finding.Finding{}, false
		})
	},
})
