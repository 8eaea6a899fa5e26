package check

import (
	"fmt"

	"railwright/internal/finding"
)

var _ = add(Rule{
	Code: "SIT-001", Title: "Home run is cheaper",
	Why:     "Stations pay on long ways and many signals; where they do not, pairs to the controller are simpler.",
	Example: "Twenty signals within 40 m of the controller; drop the stations.",
	Source:  "arithmetic", Mend: ByChoice,
	Run: func(f *Facts) finding.List {
		d := f.Design
		if len(d.Stations) == 0 || d.HomeRun.Cost == 0 || d.HomeRun.Cost >= d.Cost.Total {
			return nil
		}
		return finding.List{{
			Severity: finding.Warning, Subject: "project",
			Message: fmt.Sprintf("home runs for all signals cost %.0f %s, the stations %.0f.", d.HomeRun.Cost, d.Cost.Currency, d.Cost.Total),
			Figures: figures("home_run", d.HomeRun.Cost, d.Cost.Currency, "stations", d.Cost.Total, d.Cost.Currency), Calculation: figureIn(f, "home_run.cost"),
			Remedy: finding.Remedy{Text: "Consider home runs, or fewer candidate places."},
		}}
	},
})
