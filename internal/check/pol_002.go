package check

import (
	"fmt"
	"slices"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "POL-002", Title: "Sensor and input of opposite polarity",
	Why:     "A PNP sensor gives plus to an input that sinks it; an NPN sensor takes 0 V to an input that sources. Crossed, the input never changes.",
	Example: "An NPN sensor fixed by hand to a module for PNP sensors; release the module or take a PNP sensor.",
	Source:  "iec-61131-2#sinking-and-sourcing", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, u := range f.Design.Unplaced {
			s, m := f.Signals[u.Signal], fixedModule(f, u.Signal)
			if s == nil || m == nil || s.Kind != project.DI || s.Form != "npn" && s.Form != "pnp" {
				continue
			}
			other := map[string]string{"npn": "pnp", "pnp": "npn"}[s.Form]
			if takesForm(m, s.Kind, s.Form) || !takesForm(m, s.Kind, other) {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "signal:" + s.ID,
				Message: fmt.Sprintf("%s is %s, and a choice fixes it to module %s, which takes %s only.", s.Tag, s.Form, m.Code, other),
				Remedy:  finding.Remedy{Text: fmt.Sprintf("Release the module, or take a sensor of the form %s.", other), Change: []finding.Change{{Subject: "signal:" + s.ID, Property: "form", Value: other}}},
			})
		}
		return out
	},
})

func takesForm(m *module, kind project.Kind, form string) bool {
	return slices.ContainsFunc(m.Channels, func(c chanSet) bool { return c.Kind == kind && slices.Contains(c.Forms, form) })
}
