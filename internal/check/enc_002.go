package check

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "ENC-002", Title: "Enclosure too cold",
	Why:     "Below their lowest temperature parts need not start; the coldest hour is the one after a power failure in winter.",
	Example: "A station at -30 degC whose modules are made for -20; fit a heater of 80 W.",
	Source:  "iec-tr-60890#heat-balance", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		return stations(f, func(st *design.Station) (finding.Finding, bool) {
			code, least := coldPart(f, st)
			_, low, _, _ := f.Ambient(st.Place)
			if code == "" || low >= least {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s may start at %s degC; %s is made for %s degC and above.", st.ID, num(low, 1), code, num(least, 1)),
				Figures: figures("ambient_min_c", low, "degC", "least_c", least, "degC", "heater_w", st.HeaterW, "W"), Calculation: "station:" + st.ID + ".heater",
				Remedy: finding.Remedy{Text: fmt.Sprintf("Fit a heater of %.0f W with a thermostat that releases the supply when it is warm enough.", st.HeaterW)},
			}, true
		})
	},
})

// coldPart is the part of a station whose lowest temperature is highest.
func coldPart(f *Facts, st *design.Station) (code string, least float64) {
	if c, ok := f.List.Coupler(st.Coupler); ok {
		code, least = c.Code, float64(c.AmbientMin)
	}
	for _, sl := range st.Slots {
		if m, ok := f.List.Module(sl.Module); ok && float64(m.AmbientMin) > least {
			code, least = m.Code, float64(m.AmbientMin)
		}
	}
	return code, least
}
