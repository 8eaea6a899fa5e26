package check

import (
	"fmt"
	"slices"

	"railwright/internal/finding"
	"railwright/internal/fit"
)

var _ = add(Rule{
	Code: "SEG-001", Title: "Segregated signals share what they must not",
	Why:     "A segregation class keeps trains, fire zones or owners apart; one shared module undoes it.",
	Example: "A fire-alarm contact fixed by hand to a module with process inputs; release the fixed channel.",
	Source:  "common-practice#segregation", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		type holder struct{ class, id string }
		seen := map[string]holder{}
		var out finding.List
		for i := range f.Project.Signals {
			s := &f.Project.Signals[i]
			seat, ok := f.Seats[s.ID]
			if !ok {
				continue
			}
			things := map[string]string{
				"module":  fmt.Sprint("slot ", seat.Slot.Slot, " of ", seat.Station.ID),
				"group":   "group " + seat.Slot.SupplyGroup,
				"station": "station " + seat.Station.ID,
			}
			for _, level := range []string{"module", "group", "station"} {
				first, taken := seen[things[level]]
				if !taken {
					seen[things[level]] = holder{s.Segregate, s.ID}
					continue
				}
				if first.class == s.Segregate {
					continue
				}
				a, b := string(fit.SegregationLevel(first.class, &f.Project.Basis)), string(fit.SegregationLevel(s.Segregate, &f.Project.Basis))
				if slices.Contains(forbids[a], level) || slices.Contains(forbids[b], level) {
					out = append(out, finding.Finding{
						Severity: finding.Error, Subject: "signal:" + s.ID,
						Message: fmt.Sprintf("%s (segregation class %q) shares %s with %s (class %q).", s.Tag, s.Segregate, things[level], f.Signals[first.id].Tag, first.class),
						Remedy:  finding.Remedy{Text: "Release the fixed channel or station of one of the two, or change the class's level in the basis."},
					})
					break
				}
			}
		}
		return out
	},
})
