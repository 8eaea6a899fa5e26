package check

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "SAF-004", Title: "Device between a safety-switched group and another supply",
	Why:     "A device whose leads carry the + of two groups joins them: when the safety function cuts one, the other goes on feeding it.",
	Example: "A valve island whose coil sits in a safety-switched group and whose electronic position switch in a normal one; only a competent person decides what to do.",
	Source:  "iso-13849-1", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		byDevice := map[string][]*project.Signal{}
		for _, id := range f.Placed {
			if s := f.Signals[id]; s != nil && s.Device != "" && f.Seats[id].Group != nil {
				byDevice[s.Device] = append(byDevice[s.Device], s)
			}
		}
		var out finding.List
		for _, id := range f.Placed {
			s := f.Signals[id]
			if s == nil || s.Device == "" || !isSafety(f, id) || !sharesPole(s) {
				continue
			}
			for _, other := range byDevice[s.Device] {
				if other == s || !sharesPole(other) || f.Seats[other.ID].Group == f.Seats[id].Group {
					continue
				}
				out = append(out, finding.Finding{
					Severity: finding.Error, Subject: "group:" + f.Seats[id].Group.ID,
					Message: fmt.Sprintf("device %s is in safety-switched group %s (%s) and in group %s (%s); its leads may join the two.", s.Device, f.Seats[id].Group.ID, s.Tag, f.Seats[other.ID].Group.ID, other.Tag),
					Remedy:  finding.Remedy{Text: "Have the person responsible for functional safety decide (ISO 13849-1, IEC 62061); the tool neither mends nor waives this."},
				})
				break
			}
		}
		return out
	},
})

func isSafety(f *Facts, id string) bool {
	g := f.Seats[id].Group
	return g != nil && strings.Contains(g.Class, " safety:")
}

// sharesPole reports whether the signal's device is fed from its group on leads that electronics of the
// device may join with others: anything but a free contact.
func sharesPole(s *project.Signal) bool {
	switch s.Kind {
	case project.DI:
		return slices.Contains([]string{"pnp", "npn", "2-wire"}, s.Form)
	case project.DO:
		return s.Form == "24v"
	case project.AI:
		return s.Wires == 3
	case project.CNT:
		return s.Form != "pulse-namur"
	}
	return false
}
