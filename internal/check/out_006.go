package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "OUT-006", Title: "Coils want a suppressor that suits",
	Why:     "A coil gives back its energy when it is switched off: without a suppressor as a spark at the contact and as noise in every cable beside it. A diode across an AC coil is a short every other half wave.",
	Example: "A valve whose list row says suppressor none; fit a diode at its DC coil, an RC unit or varistor at an AC coil, at the coil and not in the cabinet. Outputs of which the list says nothing are counted in one notice a station.",
	Source:  "common-practice#coil-suppression", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		out := placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			switch {
			case s.Kind != project.DO:
			case s.Suppressor == "diode" && onAC(s, at):
				return finding.Finding{
					Severity: finding.Error, Message: fmt.Sprintf("the coil of %s is fed with AC and has a diode, which shorts every other half wave.", s.Tag),
					Remedy: finding.Remedy{Text: "Take an RC unit or a varistor.", Change: []finding.Change{{Subject: "signal:" + s.ID, Property: "suppressor", Value: "rc"}}},
				}, true
			case s.Suppressor == "none":
				with, word := "a diode (slow release) or a suppressor diode", "diode"
				if onAC(s, at) || s.Form == "relay" {
					with, word = "an RC unit or a varistor", "rc"
				}
				return finding.Finding{
					Severity: finding.Warning, Message: fmt.Sprintf("the coil of %s has no suppressor.", s.Tag),
					Remedy: finding.Remedy{Text: "Fit " + with + " at the coil and state it in column suppressor.", Change: []finding.Change{{Subject: "signal:" + s.ID, Property: "suppressor", Value: word}}},
				}, true
			}
			return finding.Finding{}, false
		})
		return append(out, stations(f, func(st *design.Station) (finding.Finding, bool) { return unknownCoils(f, st) })...)
	},
})

// onAC reports whether an output feeds its load with AC: a mains group, or a relay contact for more than
// 60 V.
func onAC(s *project.Signal, at Seat) bool {
	return !figure.DC(at.Group) || s.Form == "relay" && s.Voltage.Value > 60
}

// unknownCoils counts the outputs of a station of whose loads the list does not say what quenches them.
func unknownCoils(f *Facts, st *design.Station) (finding.Finding, bool) {
	n, bare := 0, 0
	for _, id := range f.Placed {
		if at := f.Seats[id]; at.Station == st && at.Set.Kind == project.DO && f.Signals[id] != nil && f.Signals[id].Suppressor == "" {
			n++
			if !at.Set.ShortProof {
				bare++
			}
		}
	}
	if n == 0 {
		return finding.Finding{}, false
	}
	text := fmt.Sprintf("the list does not say of %s of %s whether the coil has a suppressor", counted(n, "output"), st.ID)
	if bare > 0 {
		text += fmt.Sprintf("; without a clamp of their own, as relays are: %d", bare)
	}
	return finding.Finding{
		Severity: finding.Info, Message: text + ".",
		Figures: figures("outputs", float64(n), "1", "without_clamp", float64(bare), "1"),
		Remedy:  finding.Remedy{Text: "State it in column suppressor; fit a diode at a DC coil, an RC unit or varistor at an AC coil."},
	}, true
}
