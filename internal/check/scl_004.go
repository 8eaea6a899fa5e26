package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// mostOfRange is the probable error above which a temperature is worth a look, as a share of its range
// (common practice).
const mostOfRange = 0.02

var _ = add(Rule{
	Code: "SCL-004", Title: "Error budget of a temperature too wide",
	Why:     "What is shown may be off by the class of the element, by its leads or cold junction, and by the module in its warm enclosure, all together. Over a small range that soon is more than the process bears.",
	Example: "A thermocouple of class 2 (2.5 K) on a module of 1 K for a range of 0 to 100 degC may be 2.9 K off; take class 1, or a resistance thermometer of class A.",
	Source:  "common-practice#error-budget", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			off, ok := figureOf(f, s, "budget")
			span := s.RangeHigh.Value - s.RangeLow.Value
			if !ok || span <= 0 || off <= mostOfRange*span {
				return finding.Finding{}, false
			}
			part := func(name string) float64 { v, _ := figureOf(f, s, name); return v }
			line := max(part("lead_error"), part("cold_junction"))
			class := "stated"
			if s.Tolerance == "" {
				class = "taken as usual, since none is stated"
			}
			return finding.Finding{
				Severity: finding.Warning, Calculation: calc(s, "budget"),
				Message: fmt.Sprintf("%s may read %.2f K off, %.1f %% of its range: element %.2f K (class %s), leads or cold junction %.2f K, module %s %.2f K.",
					s.Tag, off, 100*off/span, part("tolerance"), class, line, at.Module.Code, part("module_k")),
				Figures: figures("error_k", off, "K", "allowed_k", mostOfRange*span, "K"),
				Remedy:  finding.Remedy{Text: "State the element's class in column tolerance, take a better one, four wires or a transmitter at the sensor, or a module with a smaller error."},
			}, true
		})
	},
})
