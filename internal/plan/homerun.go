package plan

import (
	"cmp"
	"slices"

	"railwright/internal/design"
	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// run is a price with what it is made of.
type run struct {
	cable        q.Millimetres // ordered
	terminations int
	cost         q.Money
}

func (r run) plus(o run) run {
	return run{r.cable + o.cable, r.terminations + o.terminations, r.cost + o.cost}
}

// homeRun prices the same signals without stations: from each place either every bundle's own cable to
// the controller, or the bundles to a junction box and multicores from there to a marshalling strip,
// whichever costs less; and the modules beside the controller at their least price. Limits of cable
// length are not held against it, so the comparison leans towards the home run.
func (pr *problem) homeRun() design.HomeRun {
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
	sum.cost += pr.central()
	return design.HomeRun{CableM: sum.cable.Metres(), Terminations: sum.terminations, Cost: sum.cost.Cents()}
}

// cable prices one cable of a type: bought, pulled and with both ends.
func (pr *problem) cableRun(c *hardware.Cable, way q.Millimetres, first q.Millimetres) run {
	basis := &pr.g.p.Basis
	laid := project.Laid(way, first, basis.Cable.AllowStation)
	ordered := basis.Cable.Ordered(laid)
	p := basis.Prices
	return run{cable: ordered, cost: c.Price.Of(ordered) + p.Labour(p.PullPerMetre).Of(laid) + 2*p.Labour(p.CableEnd)}
}

func (r run) landed(n int, each q.Money) run {
	r.terminations += n
	r.cost += q.Money(n) * each
	return r
}

// single is the field cable of one bundle over a way, its length limits aside.
func (pr *problem) single(bundle int, way q.Millimetres) run {
	need := pr.needs[bundle][0]
	need.Longest, need.Loads = 0, nil
	cable, _ := fit.CableFor(pr.g.list, need, 0, nil, nil)
	if cable == nil {
		return run{}
	}
	return pr.cableRun(cable, way, pr.g.p.Basis.Cable.AllowDevice)
}

func (pr *problem) direct(set []int, way q.Millimetres) run {
	var sum run
	each := pr.g.p.Basis.Prices.Labour(pr.g.p.Basis.Prices.Termination)
	for _, b := range set {
		sum = sum.plus(pr.single(b, way).landed(2*pr.conductors(pr.bundles[b]), each))
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
		sum = sum.plus(pr.single(b, pr.g.local(place)).landed(2*n, each))
		cores += n
	}
	wanted := cores + int(q.CeilDiv(int64(cores)*basis.CoreSpare, 1000))
	need := pr.needs[set[0]][0]
	for _, b := range set {
		need.Screened = need.Screened || pr.needs[b][0].Screened
		need.Area = max(need.Area, pr.needs[b][0].Area)
	}
	multi, ok := pr.multicores(need, wanted, way)
	if !ok {
		return run{}, false
	}
	box, ok := boxes(pr.g.list, wanted)
	if !ok {
		return run{}, false
	}
	sum = sum.plus(multi).landed(4*cores, each) // box, strip, and a jumper from the strip to the module
	sum.cost += box
	return sum, true
}

// multicores covers a number of cores with multicore cables of least cost.
func (pr *problem) multicores(need fit.CableNeed, cores int, way q.Millimetres) (run, bool) {
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
			r := best[from].plus(pr.cableRun(c, way, pr.g.p.Basis.Cable.AllowStation))
			if !reached[n] || r.cost < best[n].cost {
				best[n], reached[n] = r, true
			}
		}
	}
	return best[cores], reached[cores]
}

// boxes is the least that junction boxes with so many terminals cost.
func boxes(list *hardware.List, terminals int) (q.Money, bool) {
	best := make([]q.Money, terminals+1)
	for n := 1; n <= terminals; n++ {
		best[n] = -1
		for _, b := range list.Boxes {
			if from := max(0, n-b.Terminals); best[from] >= 0 && (best[n] < 0 || best[from]+b.Price < best[n]) {
				best[n] = best[from] + b.Price
			}
		}
	}
	return best[terminals], best[terminals] >= 0
}

// central is the least that modules for all signals cost beside the controller, and their checkout.
func (pr *problem) central() q.Money {
	e := pr.envs[0]
	var sum q.Money
	counts := make([]int, len(e.Pools))
	signals := 0
	for _, b := range pr.bundles {
		for _, i := range b.Signals {
			signals++
			if c := e.ClassOf(i); c >= 0 {
				counts[e.Classes[c].Pool]++
				sum += e.Classes[c].Surcharge
			}
		}
	}
	for j, n := range counts {
		if n > 0 {
			sum += e.Pools[j].Floor[n]
		}
	}
	p := pr.g.p.Basis.Prices
	return sum + q.Money(signals)*p.Labour(p.SignalCheck)
}
