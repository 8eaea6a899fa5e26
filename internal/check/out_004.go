package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "OUT-004", Title: "Load too small for its output",
	Why:     "A semiconductor for AC needs a least current to stay on, and a contact needs one to stay clean.",
	Example: "A signal of 2 mA over a relay contact that wants 10 mA; take a module with gold contacts or a transistor output.",
	Source:  "common-practice#least-contact-load", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			least := at.Set.MinLoad.Milliamps()
			if s.Kind != project.DO || least == 0 || !s.Current.Set || s.Current.Value.Milliamps() >= least {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s draws %s mA; an output of module %s wants %s mA or more.", s.Tag, num(s.Current.Value.Milliamps(), 2), at.Module.Code, num(least, 1)),
				Figures: figures("load_ma", s.Current.Value.Milliamps(), "mA", "least_ma", least, "mA"),
				Remedy:  finding.Remedy{Text: fmt.Sprintf("Put a resistor across the load that draws %.0f mA more, or take another output.", least-s.Current.Value.Milliamps())},
			}, true
		})
	},
})
