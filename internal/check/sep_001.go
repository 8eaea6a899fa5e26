package check

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/calc/conductor"
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/fit"
)

var _ = add(Rule{
	Code: "SEP-001", Title: "Quiet and noisy cables on one route",
	Why:     "A mains cable beside a measuring cable couples into it along every metre; distance or an earthed divider keeps them apart.",
	Example: "A route with feeders and 4-20 mA cables brings this notice: 300 mm apart, or 100 mm with a divider.",
	Source:  "iec-61000-5-2#cable-classes", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		type route struct{ quiet, noisy conductor.Disturbance }
		seen := map[string]route{}
		for i := range f.Design.Cables {
			c := &f.Design.Cables[i]
			class := disturbance(f, c)
			for _, id := range c.Route {
				r, ok := seen[id]
				if !ok {
					r = route{class, class}
				}
				seen[id] = route{min(r.quiet, class), max(r.noisy, class)}
			}
		}
		var names []string
		widest, divided := 0.0, 0.0
		for _, r := range f.Project.Routes {
			x := seen[r.ID]
			if x.noisy-x.quiet < 2 || x.quiet == 0 {
				continue
			}
			names = append(names, r.ID)
			apart, _ := conductor.Separation(x.quiet, x.noisy, false)
			with, _ := conductor.Separation(x.quiet, x.noisy, true)
			widest, divided = max(widest, float64(apart)*1000), max(divided, float64(with)*1000)
		}
		if len(names) == 0 {
			return nil
		}
		slices.Sort(names)
		return finding.List{{
			Severity: finding.Info, Subject: "project", Message: fmt.Sprintf("mains and measuring cables share %d routes: %s.", len(names), few(names)),
			Figures: figures("distance_mm", widest, "mm", "with_divider_mm", divided, "mm"),
			Remedy:  finding.Remedy{Text: fmt.Sprintf("Lay them %.0f mm apart, or %.0f mm with an earthed metal divider; cross at right angles.", widest, divided)},
		}}
	},
})

// disturbance is a cable's class: 1 very sensitive (measuring, data), 2 switched 24 V, 3 mains.
func disturbance(f *Facts, c *design.Cable) conductor.Disturbance {
	t, ok := f.List.Cable(c.Type)
	switch {
	case c.Use == "supply":
		return conductor.Noisy
	case c.Use == "network" && ok && strings.Contains(t.Family, "fibre"):
		return conductor.Sensitive // light is not disturbed
	case c.Use == "network":
		return conductor.VerySensitive
	}
	class := conductor.Sensitive
	for _, id := range c.Signals {
		if s := f.Signals[id]; s != nil {
			switch {
			case fit.Mains(s):
				return conductor.Noisy
			case fit.Screened(s):
				class = conductor.VerySensitive
			}
		}
	}
	return class
}
