package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ADR-004", Title: "Beyond the controller's process image",
	Why:     "A controller has so many bytes for inputs and outputs; a station behind them cannot be configured, and that is found out on site.",
	Example: "Stations up to input byte 1030 on a controller with 1024; lower the reserve or the alignment, or take a larger controller.",
	Source:  "arithmetic", Mend: ByBasis,
	Run: func(f *Facts) finding.List {
		a := &f.Project.Basis.Address
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			in, out := st.FirstInByte+st.InputBytes, st.FirstOutByte+st.OutputBytes
			way, end, most := "input", in, a.MaxIn
			if most == 0 || st.InputBytes == 0 || in <= most {
				way, end, most = "output", out, a.MaxOut
			}
			if most == 0 || end <= most || way == "output" && st.OutputBytes == 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s ends at %s byte %d; the controller has %d bytes.", st.ID, way, end-1, most),
				Figures: figures("bytes", float64(end), "byte", "max_bytes", float64(most), "byte"),
				Remedy:  finding.Remedy{Text: "Lower reserve_percent or align_bytes, begin nearer to 0, or take a controller with a larger process image."},
			}, true
		})
	},
})
