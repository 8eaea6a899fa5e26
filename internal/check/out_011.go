package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

var _ = add(Rule{
	Code: "OUT-011", Title: "Coil too large for its relay contact",
	Why:     "A contact switches less of a coil (DC-13, AC-15) than of a heater: the coil's energy keeps the arc alive.",
	Example: "A valve of 3 A at 230 V on a contact for 5 A and 2 A of coils; put a contactor between. A load of which the list does not say that it is no coil brings a notice.",
	Source:  "iec-60947-5-1#utilisation-categories", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if s.Form != "relay" || at.Set.Inductive == 0 || !s.Current.Set || s.Suppressor == "not-a-coil" || q.ToMicroamps(s.Current.Value) <= at.Set.Inductive {
				return finding.Finding{}, false
			}
			x := finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("the coil of %s takes %s mA; a contact of module %s switches %s mA of coils (%s mA of other loads).", s.Tag, num(s.Current.Value.Milliamps(), 0), at.Module.Code, num(at.Set.Inductive.Milliamps(), 0), num(at.Set.MaxEach.Milliamps(), 0)),
				Figures: figures("load_ma", s.Current.Value.Milliamps(), "mA", "inductive_ma", at.Set.Inductive.Milliamps(), "mA"),
				Remedy:  finding.Remedy{Text: "Put a contactor between, whose coil the contact switches."},
			}
			if s.Suppressor == "" {
				x.Severity = finding.Info
				x.Message = fmt.Sprintf("%s takes %s mA; as a coil it would be too much for a contact of module %s, which switches %s mA of coils.", s.Tag, num(s.Current.Value.Milliamps(), 0), at.Module.Code, num(at.Set.Inductive.Milliamps(), 0))
				x.Remedy.Text = "Write not-a-coil into column suppressor if it is none; else put a contactor between."
			}
			return x, true
		})
	},
})
