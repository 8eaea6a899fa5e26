package plan

import (
	"fmt"
	"maps"
	"slices"

	"railwright/internal/calc/count"
	"railwright/internal/cost"
	"railwright/internal/design"
	"railwright/internal/formula"
	"railwright/internal/siting"
)

// money fills cost and siting figures with their working.
func (pr *problem) money(w *work, sums cost.Sums, answer siting.Result) {
	d := w.d
	d.Cost = design.Cost{
		Total: sums.Total.Cents(), Constant: sums.Constant.Cents(), Installed: sums.Installed.Cents(), Changes: sums.Changes.Cents(),
		Parts: map[string]float64{}, Currency: pr.g.p.Basis.Currency,
	}
	var classes []formula.Arg
	for _, class := range slices.Sorted(maps.Keys(sums.ByClass)) {
		d.Cost.Parts[class] = sums.ByClass[class].Cents()
		if sums.ByClass[class] == 0 {
			continue
		}
		v := w.calc.Eval("cost."+class, count.Money, bill(d, class, false)...)
		classes = append(classes, arg(class, v, "calc:cost.%s", class))
	}
	total := w.calc.Eval("cost.total", count.Money, classes...)
	constant := w.calc.Eval("cost.constant", count.Money, bill(d, "labour", true)...)
	objective := w.calc.Eval("cost.objective", count.Objective, arg("", total, "calc:cost.total"), arg("", constant, "calc:cost.constant"),
		arg("", sums.Installed.Units(), "cite:arithmetic#nothing-installed"), arg("", sums.Changes.Units(), "cite:arithmetic#nothing-changed"))
	bound := float64(answer.Bound) / 1e4
	d.Siting = design.Siting{Objective: objective, LowerBound: bound, Certificate: map[string]int64{}, Curve: []design.CurvePoint{}}
	if objective > 0 {
		d.Siting.Gap = w.calc.Eval("siting.gap", count.Gap, arg("", objective, "calc:cost.objective"), arg("", bound, "cite:certificate#multipliers"))
	}
	for b, lambda := range answer.Multipliers {
		d.Siting.Certificate[pr.bundles[b].ID] = lambda
	}
	for _, c := range answer.Curve {
		d.Siting.Curve = append(d.Siting.Curve, design.CurvePoint{Stations: c.Stations, Objective: float64(c.Cost) / 1e4})
	}
}

// bill lists what the parts or the labour of a class cost, line by line; only the constant labour
// where constant is set.
func bill(d *design.Design, class string, constant bool) []formula.Arg {
	var lines []formula.Arg
	if class == "labour" {
		for _, l := range d.Labour {
			if !constant || l.Constant {
				lines = append(lines, arg(fmt.Sprintf("%v x %s, %s", l.Count, l.Task, l.For), l.Price, "project:basis.prices.%s", taskKey[l.Task]))
			}
		}
		return lines
	}
	for _, p := range d.Parts {
		if p.Class != class || p.Count == 0 {
			continue
		}
		from := "hardware:" + p.Code + ".price"
		if p.Unit == "m" {
			from = "hardware:" + p.Code + ".price_per_m"
		}
		if class == "place" {
			from = "project:place." + p.Code[len("place:"):] + ".fixed_cost"
		}
		lines = append(lines, arg(fmt.Sprintf("%v %s %s, %s", p.Count, p.Unit, p.Code, p.For), p.Count*p.Price, "%s", from))
	}
	return lines
}

// taskKey names the key of the project file that states how long a task takes.
var taskKey = map[string]string{
	"termination": "termination_min", "cable_end": "cable_end_min", "pull": "pull_min_per_m", "station": "station_h",
	"module": "module_min", "group": "group_min", "network_end": "network_end_min", "check": "check_min",
}
