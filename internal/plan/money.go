package plan

import (
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
		v := w.calc.Eval("cost."+class, count.Money, w.bill(pr, class, false)...)
		classes = append(classes, arg(class, v, "calc:cost.%s", class))
	}
	total := w.calc.Eval("cost.total", count.Money, classes...)
	constant := w.calc.Eval("cost.constant", count.Money, w.bill(pr, "labour", true)...)
	objective := w.calc.Eval("cost.objective", count.Objective, arg("", total, "calc:cost.total"), arg("", constant, "calc:cost.constant"),
		arg("", sums.Installed.Units(), "cite:arithmetic#nothing-installed"), arg("", sums.Changes.Units(), "cite:arithmetic#choices-not-followed"))
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
// where constant is set. Each line leaves its own working.
func (w *work) bill(pr *problem, class string, constant bool) []formula.Arg {
	var lines []formula.Arg
	if class == "labour" {
		for _, l := range w.d.Labour {
			if !constant || l.Constant {
				lines = append(lines, w.labourLine(pr, l))
			}
		}
		return lines
	}
	for _, p := range w.d.Parts {
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
		name := p.Code + ", " + p.For
		id := "cost." + class + "." + name
		v := w.calc.Eval(id, count.Amount, arg("", p.Count, "cite:arithmetic#counted"), arg("", p.Price, "%s", from))
		lines = append(lines, arg(name, v, "calc:%s", id))
	}
	return lines
}

// labourLine leaves the working of one line of labour.
func (w *work) labourLine(pr *problem, l design.Labour) formula.Arg {
	task := "cost.task." + l.Task
	each := evalOnce(&w.calc, task, count.Task, arg("", pr.g.p.Basis.Prices.Rate.Units(), "project:basis.prices.labour_per_h"),
		arg("", l.Seconds, "project:basis.prices.%s", taskKey[l.Task]))
	name := l.Task + ", " + l.For
	id := "cost.labour." + name
	v := evalOnce(&w.calc, id, count.Amount, arg("", l.Count, "cite:arithmetic#counted"), arg("", each, "calc:%s", task))
	return arg(name, v, "calc:%s", id)
}

// taskKey names the key of the project file that states how long a task takes.
var taskKey = map[string]string{
	"termination": "termination_min", "cable_end": "cable_end_min", "pull": "pull_min_per_m", "station": "station_h",
	"module": "module_min", "group": "group_min", "network_end": "network_end_min", "check": "check_min",
}
