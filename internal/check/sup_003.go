package check

import (
	"fmt"

	"railwright/internal/finding"
)

// bridged is the interruption of the mains that a supply for programmable controllers bridges.
const bridged = 10 // ms

var _ = add(Rule{
	Code: "SUP-003", Title: "Hold-up time too short",
	Why:     "A half wave of the mains goes missing every day somewhere; a station must not notice.",
	Example: "A unit that holds up for 8 ms at its load; take one with 20 ms, or less load.",
	Source:  "iec-61131-2#supply-interruptions", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, s := range f.Design.Supplies {
			t, ok := f.Figure("supply:" + s.ID + ".hold_up")
			if !ok || t >= bridged {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Warning, Subject: "supply:" + s.ID, Calculation: "supply:" + s.ID + ".hold_up",
				Message: fmt.Sprintf("the %s supply of %s bridges %.1f ms without mains at its load, %d ms wanted.", s.Class, s.Station, t, bridged),
				Figures: figures("hold_up_ms", t, "ms", "wanted_ms", float64(bridged), "ms"),
				Remedy:  finding.Remedy{Text: "Take units with a longer hold-up time, or put the signals into supply class ups."},
			})
		}
		return out
	},
})
