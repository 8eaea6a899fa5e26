package plan

import (
	"maps"
	"slices"

	"railwright/internal/calc/count"
	"railwright/internal/formula"
	q "railwright/internal/quantity"
)

// explainHomeRun leaves the working of the home run: the metres of each cable by the places where they
// begin, what they cost, their labour, the boxes, and the modules beside the controller.
func (pr *problem) explainHomeRun(book *formula.Book, r run, modules q.Money, signals int) {
	var metres, lines []formula.Arg
	for _, code := range sortedCables(r.pieces) {
		id := "home_run.cable." + code
		m := book.Eval(id+".metres", count.Lengths, pr.explainLegs(book, r.pieces, "ordered", code)...)
		metres = append(metres, arg(code, m, "calc:%s.metres", id))
		v := book.Eval(id, count.Amount, arg("", m, "calc:%s.metres", id), arg("", pr.cablePrice(code), "hardware:%s.price_per_m", code))
		lines = append(lines, arg("cable "+code, v, "calc:%s", id))
	}
	book.Eval("home_run.cable_m", count.Lengths, metres...)
	if len(r.pieces) > 0 {
		laid := book.Eval("home_run.laid", count.Lengths, pr.explainLegs(book, r.pieces, "laid", "")...)
		lines = append(lines, pr.homeLabour(book, "pull", arg("", laid, "calc:home_run.laid")))
		lines = append(lines, pr.homeLabour(book, "cable_end", arg("", float64(2*len(r.pieces)), "cite:arithmetic#counted")))
	}
	lines = append(lines, pr.homeLabour(book, "termination", arg("", float64(r.terminations), "cite:arithmetic#counted")))
	lines = append(lines, pr.homeLabour(book, "check", arg("", float64(signals), "cite:arithmetic#counted")))
	boxes := map[string]int{}
	price := map[string]float64{}
	for _, b := range r.boxes {
		boxes[b.Code]++
		price[b.Code] = b.Price.Units()
	}
	for _, code := range slices.Sorted(maps.Keys(boxes)) {
		id := "home_run.box." + code
		v := book.Eval(id, count.Amount, arg("", float64(boxes[code]), "cite:arithmetic#counted"), arg("", price[code], "hardware:%s.price", code))
		lines = append(lines, arg("junction box "+code, v, "calc:%s", id))
	}
	lines = append(lines, arg("modules at their least price", modules.Units(), "cite:certificate#modules"))
	book.Eval("home_run.cost", count.Money, lines...)
}

func sortedCables(pieces []piece) []string {
	codes := map[string]bool{}
	for _, x := range pieces {
		codes[x.cable.Code] = true
	}
	return slices.Sorted(maps.Keys(codes))
}

func (pr *problem) cablePrice(code string) float64 {
	c, _ := pr.g.list.Cable(code)
	return c.Price.Units()
}

// homeLabour leaves what a number of tasks of one sort costs.
func (pr *problem) homeLabour(book *formula.Book, task string, n formula.Arg) formula.Arg {
	each := evalOnce(book, "cost.task."+task, count.Task, arg("", pr.g.p.Basis.Prices.Rate.Units(), "project:basis.prices.labour_per_h"),
		arg("", pr.taskSeconds(task), "project:basis.prices.%s", taskKey[task]))
	id := "home_run.labour." + task
	v := book.Eval(id, count.Amount, n, arg("", each, "calc:cost.task.%s", task))
	return arg(task, v, "calc:%s", id)
}

func (pr *problem) taskSeconds(task string) float64 {
	p := &pr.g.p.Basis.Prices
	switch task {
	case "pull":
		return float64(p.PullPerMetre)
	case "cable_end":
		return float64(p.CableEnd)
	case "termination":
		return float64(p.Termination)
	}
	return float64(p.SignalCheck)
}

// explainLegs leaves the metres of the cables of a code ("" for all) by place and leg; which is "laid" or
// "ordered".
func (pr *problem) explainLegs(book *formula.Book, pieces []piece, which, code string) []formula.Arg {
	type leg struct{ place, leg string }
	counts := map[leg]int{}
	for _, x := range pieces {
		if code == "" || x.cable.Code == code {
			counts[leg{x.place, x.leg}]++
		}
	}
	keys := slices.SortedFunc(maps.Keys(counts), func(a, b leg) int { return compareText(a.place+"\x00"+a.leg, b.place+"\x00"+b.leg) })
	var out []formula.Arg
	for _, k := range keys {
		each := pr.explainLeg(book, k.place, k.leg, which)
		id := "home_run.at." + k.place + "." + k.leg + ".all"
		if code != "" {
			id = "home_run.at." + k.place + "." + k.leg + "." + code
		}
		v := book.Eval(id, count.Metres, arg("", float64(counts[k]), "cite:arithmetic#counted"), each)
		out = append(out, arg(k.place+" "+k.leg, v, "calc:%s", id))
	}
	return out
}

// explainLeg leaves the laid and ordered length of one cable that begins at a place.
func (pr *problem) explainLeg(book *formula.Book, place, leg, which string) formula.Arg {
	id := "home_run.at." + place + "." + leg
	basis := &pr.g.p.Basis.Cable
	way, far := pr.g.local(place), pr.g.controller.ID
	route := arg("", way.Metres(), "project:place.%s.local_m", place)
	if pr.g.places[place].Local == 0 {
		route.From = "project:basis.cable.local_m"
	}
	if leg != "local" && place != far {
		way, _ = pr.g.way(far, place)
		var parts []formula.Arg
		for _, r := range pr.g.path(far, place) {
			parts = append(parts, arg(r, pr.g.routeLength(r), "project:route.%s.length_m", r))
		}
		evalOnce(book, "home_run.at."+place+".route", count.Lengths, parts...)
		route = arg("", way.Metres(), "calc:home_run.at.%s.route", place)
	}
	first, key := basis.AllowDevice, "allow_device_m"
	if leg == "multicore" {
		first, key = basis.AllowStation, "allow_station_m"
	}
	laid := evalOnce(book, id+".laid", count.Laid, route, arg("", first.Metres(), "project:basis.cable.%s", key), arg("", basis.AllowStation.Metres(), "project:basis.cable.allow_station_m"))
	if which == "laid" {
		return arg("", laid, "calc:%s.laid", id)
	}
	ordered := evalOnce(book, id+".ordered", count.Ordered, arg("", laid, "calc:%s.laid", id), arg("", float64(basis.Waste)/10, "project:basis.cable.waste_percent"))
	return arg("", ordered, "calc:%s.ordered", id)
}
