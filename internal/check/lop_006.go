package check

import (
	"fmt"

	"railwright/internal/finding"
	"railwright/internal/project"
)

var _ = add(Rule{
	Code: "LOP-006", Title: "Analogue output overloaded",
	Why:     "A current output can drive so many ohms and no more; beyond them the valve stops short of its end.",
	Example: "A positioner of 550 ohm at the end of 26 ohm of cable on an output for 500 ohm; take a module for 750 ohm or an isolating amplifier.",
	Source:  "iec-61131-2#analogue-outputs", Mend: ByPlan,
	Run: func(f *Facts) finding.List {
		return placed(f, func(s *project.Signal, at Seat) (finding.Finding, bool) {
			if s.Kind != project.AO || !s.Load.Set {
				return finding.Finding{}, false
			}
			if least := float64(at.Set.MinLoadOhm); s.Form == "0-10v" || s.Form == "10v-bipolar" {
				if load := float64(s.Load.Value); load > 0 && load < least {
					return finding.Finding{
						Severity: finding.Error, Message: fmt.Sprintf("%s loads a voltage output with %s ohm; module %s wants %s ohm or more.", s.Tag, num(load, 0), at.Module.Code, num(least, 0)),
						Figures: figures("load_ohm", load, "ohm", "min_load_ohm", least, "ohm"), Remedy: finding.Remedy{Text: "Put an isolating amplifier between, or take a current output."},
					}, true
				}
				return finding.Finding{}, false
			}
			r, ok := figureOf(f, s, "load")
			most := float64(at.Set.MaxLoad)
			if !ok || most == 0 || r <= most {
				return finding.Finding{}, false
			}
			return finding.Finding{
				Severity: finding.Error, Message: fmt.Sprintf("%s drives %.0f ohm (device %s ohm, both cores %.1f ohm); module %s drives %s ohm at most.",
					s.Tag, r, num(float64(s.Load.Value), 0), r-float64(s.Load.Value), at.Module.Code, num(most, 0)),
				Figures: figures("load_ohm", r, "ohm", "max_load_ohm", most, "ohm"), Remedy: drives(f, s, at, r), Calculation: calc(s, "load"),
			}, true
		})
	},
})

func drives(f *Facts, s *project.Signal, at Seat, r float64) finding.Remedy {
	if m := better(f, s, at, func(set *chanSet) bool { return float64(set.MaxLoad) >= r }); m != nil {
		return finding.Remedy{Text: fmt.Sprintf("Use %s, which drives more.", m.Code), Change: []finding.Change{useModule(s, m)}}
	}
	device := float64(s.Load.Value)
	if c, loop := larger(f, at, func(loop float64) bool { return device+loop <= float64(at.Set.MaxLoad) }); c != nil {
		return finding.Remedy{Text: fmt.Sprintf("Use %s mm2 (%s): %.0f ohm.", num(float64(c.Area), 2), c.Code, device+loop), Change: []finding.Change{useCable(s, c)}}
	}
	return finding.Remedy{Text: "Put an isolating amplifier between, or take a device with a smaller load."}
}
