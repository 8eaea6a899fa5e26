package plan

import (
	"cmp"
	"slices"

	"railwright/internal/design"
	"railwright/internal/fit"
	"railwright/internal/formula"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// run is a price with what it is made of.
type run struct {
	terminations int
	cost         q.Money
	pieces       []piece
	boxes        []*hardware.JunctionBox
}

// piece is one cable of a home run.
type piece struct {
	cable         *hardware.Cable
	place         string // where it begins
	leg           string // "device" to the controller, "local" to a box beside it, "multicore" from there
	laid, ordered q.Millimetres
}

func (r run) plus(o run) run {
	return run{r.terminations + o.terminations, r.cost + o.cost, slices.Concat(r.pieces, o.pieces), slices.Concat(r.boxes, o.boxes)}
}

// homeRun prices the same signals without stations: from each place either every bundle's own cable to
// the controller, or the bundles to a junction box and multicores from there to a marshalling strip,
// whichever costs less; and the modules beside the controller at their least price. Limits of cable
// length are not held against it, so the comparison leans towards the home run.
func (pr *problem) homeRun(book *formula.Book) design.HomeRun {
	type key struct{ place, class string }
	sets := map[key][]int{}
	for i, b := range pr.bundles {
		k := key{b.Place, b.Class}
		sets[k] = append(sets[k], i)
	}
	keys := make([]key, 0, len(sets))
	for k := range sets {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b key) int { return cmp.Or(cmp.Compare(a.place, b.place), cmp.Compare(a.class, b.class)) })
	var sum run
	for _, k := range keys {
		way, ok := pr.g.way(pr.g.controller.ID, k.place)
		if !ok {
			continue
		}
		best := pr.direct(sets[k], way)
		if boxed, ok := pr.boxed(sets[k], way); ok && k.place != pr.g.controller.ID && boxed.cost < best.cost {
			best = boxed
		}
		sum = sum.plus(best)
	}
	modules, signals := pr.central()
	sum.cost += modules
	p := &pr.g.p.Basis.Prices
	sum.cost += q.Money(signals) * p.Labour(p.SignalCheck)
	pr.explainHomeRun(book, sum, modules, signals)
	var metres q.Millimetres
	for _, x := range sum.pieces {
		metres += x.ordered
	}
	return design.HomeRun{CableM: metres.Metres(), Terminations: sum.terminations, Cost: sum.cost.Cents()}
}

// cableRun prices one cable of a type: bought, pulled and with both ends.
func (pr *problem) cableRun(c *hardware.Cable, place, leg string, way q.Millimetres, first q.Millimetres) run {
	basis := &pr.g.p.Basis
	laid := project.Laid(way, first, basis.Cable.AllowStation)
	ordered := basis.Cable.Ordered(laid)
	p := basis.Prices
	return run{cost: c.Price.Of(ordered) + p.Labour(p.PullPerMetre).Of(laid) + 2*p.Labour(p.CableEnd), pieces: []piece{{c, place, leg, laid, ordered}}}
}

func (r run) landed(n int, each q.Money) run {
	r.terminations += n
	r.cost += q.Money(n) * each
	return r
}

// single is the field cable of one bundle over a way, its length limits aside.
func (pr *problem) single(bundle int, leg string, way q.Millimetres) run {
	need := pr.needs[bundle][0]
	need.Longest, need.Loads = 0, nil
	cable, _ := fit.CableFor(pr.g.list, need, 0, nil, nil)
	if cable == nil {
		return run{}
	}
	return pr.cableRun(cable, pr.bundles[bundle].Place, leg, way, pr.g.p.Basis.Cable.AllowDevice)
}

func (pr *problem) direct(set []int, way q.Millimetres) run {
	var sum run
	each := pr.g.p.Basis.Prices.Labour(pr.g.p.Basis.Prices.Termination)
	for _, b := range set {
		sum = sum.plus(pr.single(b, "device", way).landed(2*pr.conductors(pr.bundles[b]), each))
	}
	return sum
}

// boxed gathers the bundles in junction boxes at their place: field cables to the box, multicores of
// the least cost for all cores and the spare ones, and a marshalling strip at the controller.
func (pr *problem) boxed(set []int, way q.Millimetres) (run, bool) {
	basis := &pr.g.p.Basis
	each := basis.Prices.Labour(basis.Prices.Termination)
	place := pr.bundles[set[0]].Place
	var sum run
	cores := 0
	for _, b := range set {
		n := pr.conductors(pr.bundles[b])
		sum = sum.plus(pr.single(b, "local", pr.g.local(place)).landed(2*n, each))
		cores += n
	}
	wanted := cores + int(q.CeilDiv(int64(cores)*basis.CoreSpare, 1000))
	need := pr.needs[set[0]][0]
	for _, b := range set {
		need.Screened = need.Screened || pr.needs[b][0].Screened
		need.Area = max(need.Area, pr.needs[b][0].Area)
	}
	multi, ok := pr.multicores(need, wanted, place, way)
	if !ok {
		return run{}, false
	}
	box, ok := boxes(pr.g.list, wanted)
	if !ok {
		return run{}, false
	}
	return sum.plus(multi).plus(box).landed(4*cores, each), true // box, strip, and a jumper from the strip to the module
}

// multicores covers a number of cores with multicore cables of least cost.
func (pr *problem) multicores(need fit.CableNeed, cores int, place string, way q.Millimetres) (run, bool) {
	best := make([]run, cores+1)
	reached := make([]bool, cores+1)
	reached[0] = true
	for n := 1; n <= cores; n++ {
		for i := range pr.g.list.Cables {
			c := &pr.g.list.Cables[i]
			if c.Use != "multicore" || c.Family != need.Family || need.Screened && !c.Screened || c.Area < need.Area || !pr.g.allowed(c.Code) {
				continue
			}
			from := max(0, n-c.Cores)
			if !reached[from] {
				continue
			}
			r := best[from].plus(pr.cableRun(c, place, "multicore", way, pr.g.p.Basis.Cable.AllowStation))
			if !reached[n] || r.cost < best[n].cost {
				best[n], reached[n] = r, true
			}
		}
	}
	return best[cores], reached[cores]
}

// boxes are the junction boxes with so many terminals that cost least.
func boxes(list *hardware.List, terminals int) (run, bool) {
	best := make([]run, terminals+1)
	reached := make([]bool, terminals+1)
	reached[0] = true
	for n := 1; n <= terminals; n++ {
		for i := range list.Boxes {
			b := &list.Boxes[i]
			if from := max(0, n-b.Terminals); reached[from] && (!reached[n] || best[from].cost+b.Price < best[n].cost) {
				best[n], reached[n] = best[from].plus(run{cost: b.Price, boxes: []*hardware.JunctionBox{b}}), true
			}
		}
	}
	return best[terminals], reached[terminals]
}

// central is the least that modules for all signals cost beside the controller, and the number of signals.
func (pr *problem) central() (modules q.Money, signals int) {
	e := pr.envs[0]
	counts := make([]int, len(e.Pools))
	for _, b := range pr.bundles {
		for _, i := range b.Signals {
			signals++
			if c := e.ClassOf(i); c >= 0 {
				counts[e.Classes[c].Pool]++
				modules += e.Classes[c].Surcharge
			}
		}
	}
	for j, n := range counts {
		if n > 0 {
			modules += e.Pools[j].Floor[n]
		}
	}
	return modules, signals
}
