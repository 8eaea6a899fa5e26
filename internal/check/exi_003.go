package check

import (
	"fmt"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "EXI-003", Title: "Intrinsically safe circuit with data missing",
	Why:     "What is not stated cannot be compared, and an intrinsically safe circuit without its comparison may not be energised.",
	Example: "A transmitter with ex_level ia of which the list states neither Ui nor Ci; fill the columns from its certificate.",
	Source:  "iec-60079-14#16.2.2", Mend: ByExpert,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			r, ok := entity(f, s, at)
			if !ok {
				return finding.Finding{}, false
			}
			var missing []string
			for _, l := range r.Lines {
				if l.Missing != "" {
					missing = append(missing, l.Missing)
				}
			}
			if len(missing) == 0 {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Warning, Message: fmt.Sprintf("%s on module %s cannot be compared: %s not stated.", s.Tag, at.Module.Code, strings.Join(missing, ", ")),
				Figures: figures("missing", float64(len(missing)), "1"),
				Remedy:  finding.Remedy{Text: "Fill ui_v, ii_ma, pi_mw, ci_nf and li_mh from the device's certificate, and the module's figures in hardware.toml."},
			}, true
		})
	},
})
