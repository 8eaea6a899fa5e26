package check

import (
	"fmt"

	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "GRP-003", Title: "Signals in a supply group that is not theirs",
	Why:     "A group has one voltage and one purpose: AC apart from DC, intrinsically safe apart from the rest, analogue apart from switched loads, UPS apart from normal, as the basis says.",
	Example: "A UPS signal in a normal group because its channel is fixed by hand; release it.",
	Source:  "common-practice#supply-groups", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if at.Group == nil {
				return finding.Finding{}, false
			}
			want := fit.GroupKeyOf(s, &f.Project.Basis).String()
			if at.Group.Class == want {
				return finding.Finding{}, false
			}
			severity := finding.Error
			if figure.Voltage(at.Group) == fit.VoltageKind(s) && figure.SupplyOf(at.Group) == fit.SupplyClass(s) {
				severity = finding.Warning // the basis would part them, nothing is wrong electrically
			}
			return finding.Finding{
				Severity: severity, Message: fmt.Sprintf("%s belongs into a group %q and sits in group %d of %s (%q).", s.Tag, want, at.Group.Group, at.Station.ID, at.Group.Class),
				Remedy: finding.Remedy{Text: "Release its fixed channel and plan again."},
			}, true
		})
	},
})
