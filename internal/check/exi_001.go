package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "EXI-001", Title: "Intrinsically safe circuits to be verified",
	Why:     "The comparison of entity data is the work of a competent person; the tool only sorts such circuits onto their own modules, groups and cables.",
	Example: "Every station with intrinsically safe circuits brings this notice.",
	Source:  "iec-60079-14", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			n := 0
			for _, sl := range st.Slots {
				for _, c := range sl.Channels {
					if s := f.Signals[c.SignalID]; c.Signal != nil && s != nil && s.ExLevel != "" {
						n++
					}
				}
			}
			if n > 0 {
				out = append(out, finding.Finding{
					Severity: finding.Info, Subject: "station:" + st.ID,
					Message: fmt.Sprintf("%s serves %d intrinsically safe circuits.", st.ID, n),
					Figures: figures("circuits", float64(n), "1"),
					Remedy:  finding.Remedy{Text: "Have a competent person verify each circuit (IEC 60079-14) and keep its terminals and wires apart."},
				})
			}
		}
		return out
	},
})
