package check

import (
	"fmt"
	"strings"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SAF-001", Title: "Safety-switched group with another path into it",
	Why:     "A safety relay cuts the supply of the group; any other path keeps the outputs alive after the cut.",
	Example: "A module that is not stated interference-free in a safety-switched group; only a competent person decides what to do.",
	Source:  "iso-13849-1", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			for _, g := range st.SupplyGroups {
				if !strings.Contains(g.Class, " safety:") {
					continue
				}
				for _, sl := range st.Slots {
					if sl.SupplyGroup != g.ID {
						continue
					}
					if m, ok := f.List.Module(sl.Module); ok && !m.Safe && !m.Infeed {
						out = append(out, safety(g.ID, fmt.Sprintf("slot %d of %s holds %s, which is not stated interference-free.", sl.Slot, st.ID, m.Code)))
					}
					for _, c := range sl.Channels {
						if s := f.Signals[c.SignalID]; s != nil && !strings.Contains(g.Class, " "+s.SupplyClass+" ") && !strings.HasSuffix(g.Class, s.SupplyClass) {
							out = append(out, safety(g.ID, fmt.Sprintf("%s (supply class %q) sits in safety-switched group %d of %s.", s.Tag, s.SupplyClass, g.Group, st.ID)))
						}
					}
				}
			}
		}
		return out
	},
})

func safety(group, message string) finding.Finding {
	return finding.Finding{
		Severity: finding.Error, Subject: "group:" + group, Message: message,
		Remedy: finding.Remedy{Text: "Have the person responsible for functional safety decide (ISO 13849-1, IEC 62061); the tool neither mends nor waives this."},
	}
}
