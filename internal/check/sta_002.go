package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "STA-002", Title: "Process image too large",
	Why:     "A coupler refuses a configuration with more bytes than it can exchange.",
	Example: "Serial modules of 32 bytes each behind a small coupler; a new plan takes the larger coupler.",
	Source:  "arithmetic", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		var out finding.List
		for _, st := range f.Design.Stations {
			c, ok := f.List.Coupler(st.Coupler)
			if !ok || st.InputBytes <= c.MaxIn && st.OutputBytes <= c.MaxOut {
				continue
			}
			out = append(out, finding.Finding{
				Severity: finding.Error, Subject: "station:" + st.ID,
				Message: fmt.Sprintf("%s exchanges %d bytes in and %d out, coupler %s allows %d and %d.", st.ID, st.InputBytes, st.OutputBytes, c.Code, c.MaxIn, c.MaxOut),
				Figures: figures("input_bytes", float64(st.InputBytes), "byte", "max_input_bytes", float64(c.MaxIn), "byte",
					"output_bytes", float64(st.OutputBytes), "byte", "max_output_bytes", float64(c.MaxOut), "byte"),
				Remedy: finding.Remedy{Text: "Release the fixed coupler or slots, or allow a second station at the place."},
			})
		}
		return out
	},
})
