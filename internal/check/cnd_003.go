package check

import (
	"fmt"
	"strings"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "CND-003", Title: "Two wires on one terminal",
	Why:     "A clamp made for one wire holds the second badly; two wires go into one only with a twin ferrule in a clamp that is made for it.",
	Example: "Two cores landed on terminal b3 of a module; use a terminal block between, or a twin ferrule where the terminal takes it.",
	Source:  "iec-60204-1#13.1.1", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		first := map[string]string{}
		var out finding.List
		for _, w := range f.Design.Wires {
			if !strings.HasPrefix(w.To, "station:") {
				continue
			}
			other, twice := first[w.To]
			if !twice {
				first[w.To] = w.ID
				continue
			}
			id, _, _ := strings.Cut(strings.TrimPrefix(w.To, "station:"), "/")
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "station:" + id, Message: fmt.Sprintf("wires %s and %s land on one terminal (%s).", other, w.ID, w.To),
				Remedy: finding.Remedy{Text: "Give one of them a terminal of its own; a twin ferrule only in a clamp that is made for it."},
			})
		}
		return out
	},
})
