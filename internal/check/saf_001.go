package check

import (
	"fmt"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/fit"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "SAF-001", Title: "Safety-switched group with another path into it",
	Why:     "A safety relay cuts the supply of the group; any other path keeps the outputs alive after the cut.",
	Example: "A 24 V signal from a drive with its own supply, or a module that is not stated interference-free, in a safety-switched group; only a competent person decides what to do.",
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
						s := f.Signals[c.SignalID]
						if s != nil && c.Signal != nil && fedElsewhere(s) {
							x := safety(g.ID, fmt.Sprintf("%s (%s, slot %d of %s) is fed by a supply of its own: its wire brings that supply into safety-switched group %d.", s.Tag, s.Form, sl.Slot, st.ID, g.Group))
							x.Subject = "signal:" + s.ID
							out = append(out, x)
						}
						if s != nil && !strings.Contains(g.Class, " "+s.SupplyClass+" ") && !strings.HasSuffix(g.Class, s.SupplyClass) {
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

// fedElsewhere reports whether the device drives its signal from a supply of its own.
func fedElsewhere(s *project.Signal) bool {
	switch s.Kind {
	case project.DI:
		return s.Form == "24v"
	case project.AI:
		return fit.CurrentLoop(s) && !fit.Passive(s) || !fit.CurrentLoop(s) && s.Wires != 3
	}
	return false
}
