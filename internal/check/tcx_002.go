package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "TCX-002", Title: "Earthed thermocouples on inputs that are not isolated",
	Why:     "A junction welded to its sheath is earthed at the process. On inputs with a common return two of them close a loop through earth, and its current adds to both readings.",
	Example: "A thermocouple with an earthed junction on a module without isolation: take an insulated junction or a module with isolated channels, which the plan takes where the list has one. Those of which the list says nothing are named in one notice a station.",
	Source:  "common-practice#earthed-junctions", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		out := placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if s.Kind != project.TC || s.Junction != "earthed" || at.Module.Isolated {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("the junction of %s is earthed, and the inputs of module %s are not isolated from each other: an earth loop.", s.Tag, at.Module.Code),
				Remedy: finding.Remedy{
					Text:   "Take a thermocouple with an insulated junction, or add a module with isolated channels to the hardware list.",
					Change: []finding.Change{{Subject: "signal:" + s.ID, Property: "junction", Value: "insulated"}},
				},
			}, true
		})
		return append(out, stations(f, func(st *design.Station) (finding.Finding, bool) { return unknownJunctions(f, st) })...)
	},
})

// unknownJunctions names the thermocouples of a station on inputs that are not isolated, of which the list
// does not say whether they are earthed.
func unknownJunctions(f *Facts, st *design.Station) (finding.Finding, bool) {
	var tags []string
	for _, id := range f.Placed {
		if at := f.Seats[id]; at.Station == st && at.Set.Kind == project.TC && !at.Module.Isolated && f.Signals[id] != nil && f.Signals[id].Junction == "" {
			tags = append(tags, f.Signals[id].Tag)
		}
	}
	if len(tags) == 0 {
		return finding.Finding{}, false
	}
	return finding.Finding{
		Severity: finding.Info, Message: fmt.Sprintf("%d thermocouples of %s sit on inputs that are not isolated from each other: %s.", len(tags), st.ID, few(tags)),
		Figures: figures("thermocouples", float64(len(tags)), "1"),
		Remedy:  finding.Remedy{Text: "State in column junction whether they are earthed; then the plan takes a module with isolated channels where it has to."},
	}, true
}
