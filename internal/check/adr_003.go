package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ADR-003", Title: "Station off its alignment",
	Why:     "Stations begin at multiples of a stated number of bytes, so that words do not straddle and people find them; a fixed first byte may break that.",
	Example: "A first byte fixed to 6 where stations are aligned to 4; fix it to 8.",
	Source:  "common-practice#alignment", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		align := f.Project.Basis.Address.Align
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			off := func(first, n int) bool { return n > 0 && align > 1 && first%align != 0 }
			if !off(st.FirstInByte, st.InputBytes) && !off(st.FirstOutByte, st.OutputBytes) {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s begins at input byte %d and output byte %d; the basis aligns stations to %d bytes.", st.ID, st.FirstInByte, st.FirstOutByte, align),
				Figures: figures("first_input_byte", float64(st.FirstInByte), "byte", "first_output_byte", float64(st.FirstOutByte), "byte", "align_bytes", float64(align), "byte"),
				Remedy:  finding.Remedy{Text: "Release its first bytes, or fix them to multiples of the alignment."},
			}, true
		})
	},
})
