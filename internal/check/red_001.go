package check

import (
	"fmt"
	"slices"

	"railwright/internal/finding"
	"railwright/internal/fit"
)

var _ = add(Rule{
	Code: "RED-001", Title: "Redundant partners share what they must not",
	Why:     "Two sensors on one module are one sensor: what takes the module takes both.",
	Example: "Both level switches of a tank on one input module because their channels were fixed by hand; release one.",
	Source:  "common-practice#redundancy", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		var out finding.List
		level := fit.RedundancyLevel(&f.Project.Basis)
		for i := range f.Project.Signals {
			a := &f.Project.Signals[i]
			for _, other := range a.RedundantWith {
				b := byName(f, other)
				if b == "" || b <= a.ID {
					continue
				}
				if shared := shares(f.Seats[a.ID], f.Seats[b]); slices.Contains(forbids[string(level)], shared) {
					out = append(out, finding.Finding{
						Severity: finding.Error, Subject: "signal:" + a.ID,
						Message: fmt.Sprintf("%s and its redundant partner %s share a %s; the basis forbids to share a %s.", a.Tag, f.Signals[b].Tag, shared, level),
						Remedy:  finding.Remedy{Text: "Release the fixed channel of one of the two; the next plan parts them."},
					})
				}
			}
		}
		return out
	},
})

// byName returns the id of the signal with that id or tag.
func byName(f *Facts, name string) string {
	if f.Signals[name] != nil {
		return name
	}
	for i := range f.Project.Signals {
		if f.Project.Signals[i].Tag == name {
			return f.Project.Signals[i].ID
		}
	}
	return ""
}

// shares names the smallest thing that two seats have in common: "module", "group", "station" or "".
func shares(a, b Seat) string {
	switch {
	case a.Station == nil || b.Station == nil || a.Station.ID != b.Station.ID:
		return ""
	case a.Slot.Slot == b.Slot.Slot:
		return "module"
	case a.Slot.SupplyGroup == b.Slot.SupplyGroup:
		return "group"
	}
	return "station"
}

// forbids lists what a level forbids to share.
var forbids = map[string][]string{
	"module": {"module"}, "group": {"module", "group"}, "station": {"module", "group", "station"},
}
