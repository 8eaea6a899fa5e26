package siting

import (
	"cmp"
	"math"
	"math/bits"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// dual raises the lower bound by moving the multipliers along subgradients. Everything is in integers, so that it ends
// alike on every processor. A multiplier belongs to a type: alike bundles have equal ones at the optimum.
type dual struct {
	m      *model
	places []dualPlace
	merged bool // all classes of a pool taken as one, see approach
	lambda []int64
	best   []int64
	bound  int64 // of best, in the relaxation as restricted (closed, must)
	taken  []int64
	dir    []int64
	work   []worker
	times  []int64 // per place: stations in the relaxation
	most   int64   // the largest multiplier: a dearer cable bids nowhere
}

// one is the scale of fractions of a bundle taken.
const one = 1 << 12

type dualPlace struct {
	kind         int
	copies, must int
	types        []dualType
	value        int64 // v_p at the last evaluation
	got          []gotten
}

type dualType struct {
	typ  int32
	base int64 // cable of one bundle; without Relaxed also its surcharge
}

type gotten struct {
	typ      int32
	fraction int64 // of bundles, times one
}

type worker struct {
	f     filling
	bids  [][]bid
	split []int64
	value []int64 // per pool
	got   [][]gotten

	station *stationBound
}

func newDual(m *model) *dual {
	d := &dual{m: m, times: make([]int64, len(m.in.Places)), lambda: make([]int64, len(m.types)), taken: make([]int64, len(m.types)), dir: make([]int64, len(m.types))}
	classes := 0
	for k := range m.in.Kinds {
		classes = max(classes, len(m.in.Kinds[k].Pools))
	}
	for p := range m.in.Places {
		place := &m.in.Places[p]
		dp := dualPlace{kind: place.Kind, copies: place.Copies, must: place.Must}
		for t := range m.types {
			if c := m.types[t].cost[p]; c < Forbidden && place.Copies > 0 {
				if m.in.Relaxed == nil {
					c += m.types[t].kinds[place.Kind].surcharge
				}
				dp.types = append(dp.types, dualType{typ: int32(t), base: c})
			}
		}
		slices.SortFunc(dp.types, func(a, b dualType) int { return cmp.Or(cmp.Compare(a.base, b.base), cmp.Compare(a.typ, b.typ)) })
		d.places = append(d.places, dp)
	}
	for range max(1, runtime.GOMAXPROCS(0)) {
		d.work = append(d.work, worker{bids: make([][]bid, classes), split: make([]int64, classes), value: make([]int64, classes), got: make([][]gotten, classes)})
	}
	return d
}

// start sets first multipliers: the cheapest cable and surcharge, and the pools' price per signal.
func (d *dual) start() {
	for t := range d.m.types {
		a := &d.m.types[t]
		least := Forbidden
		for _, p := range a.order {
			tk := &a.kinds[d.m.in.Places[p].Kind]
			c := a.cost[p] + tk.surcharge
			if d.m.in.Relaxed != nil {
				c = a.cost[p]
				for _, w := range tk.split {
					c += w.weight
				}
				least = min(least, c)
				continue
			}
			for _, pp := range tk.pools {
				c += floorRate(d.m.in.Kinds[d.m.in.Places[p].Kind].Pools[pp.pool].Floor) * int64(pp.count)
			}
			least = min(least, c)
		}
		d.lambda[t] = least
	}
}

func floorRate(floor []int64) int64 {
	if len(floor) < 2 {
		return 0
	}
	return floor[len(floor)-1] / int64(len(floor)-1)
}

// resume takes multipliers of an earlier answer; a type gets the mean of its bundles that have one.
func (d *dual) resume(multipliers []int64) {
	d.start()
	for t := range d.m.types {
		sum, n := int64(0), int64(0)
		for _, b := range d.m.types[t].members {
			if v := multipliers[b]; v != 0 {
				sum += v
				n++
			}
		}
		if n > 0 {
			d.lambda[t] = sum / n
		}
	}
}

// evaluate returns the bound of the multipliers lambda and leaves what each place would take.
func (d *dual) evaluate() int64 {
	d.most = math.MinInt64
	for _, v := range d.lambda {
		d.most = max(d.most, v)
	}
	d.parallel(func(w *worker, p int) { d.place(w, p) })
	bound := int64(0)
	for t := range d.lambda {
		bound += d.lambda[t] * int64(len(d.m.types[t].members))
		d.taken[t] = 0
	}
	bound += d.choose()
	for p := range d.places {
		if times := d.times[p]; times > 0 {
			for _, g := range d.places[p].got {
				d.taken[g.typ] += times * g.fraction
			}
		}
	}
	return bound
}

// choose sets how many stations each place has in the relaxation and returns the sum of their values.
func (d *dual) choose() int64 {
	sum := int64(0)
	for p := range d.places {
		dp := &d.places[p]
		d.times[p] = int64(dp.must)
		if dp.value < 0 {
			d.times[p] = int64(dp.copies)
		}
		sum += d.times[p] * dp.value
	}
	return sum
}

// parallel calls do for every place, each worker on the next place that is left; results belong to the place, so order does not matter.
func (d *dual) parallel(do func(*worker, int)) {
	if len(d.work) == 1 || len(d.m.types)*len(d.places) < 20000 && (d.m.in.Relaxed == nil || d.merged) {
		for p := range d.places {
			do(&d.work[0], p)
		}
		return
	}
	var wait sync.WaitGroup
	var next atomic.Int64
	for w := range d.work {
		wait.Go(func() {
			for p := int(next.Add(1)) - 1; p < len(d.places); p = int(next.Add(1)) - 1 {
				do(&d.work[w], p)
			}
		})
	}
	wait.Wait()
}

// place solves the subproblem of one station at the place.
func (d *dual) place(w *worker, p int) {
	dp := &d.places[p]
	dp.got = dp.got[:0]
	dp.value = 0
	if dp.copies == 0 {
		return
	}
	if d.m.in.Relaxed != nil {
		d.station(w, p)
		return
	}
	kind := &d.m.in.Kinds[dp.kind]
	for j := range kind.Pools {
		w.bids[j] = w.bids[j][:0]
	}
	for _, dt := range dp.types {
		if dt.base >= d.most {
			break
		}
		r := dt.base - d.lambda[dt.typ]
		if r >= 0 {
			continue
		}
		a := &d.m.types[dt.typ]
		pools := a.kinds[dp.kind].pools
		if len(pools) == 1 {
			w.bids[pools[0].pool] = append(w.bids[pools[0].pool], bid{dt.typ, pools[0].count, int32(len(a.members)), r})
			continue
		}
		shares(r, pools, w.split)
		for i, pp := range pools {
			if w.split[i] < 0 {
				w.bids[pp.pool] = append(w.bids[pp.pool], bid{dt.typ, pp.count, int32(len(a.members)), w.split[i]})
			}
		}
	}
	class, value := -1, int64(0)
	for j := range kind.Pools { // station classes are few: find the least sum
		w.got[j] = w.got[j][:0]
		w.value[j] = w.f.solve(w.bids[j], kind.Pools[j].Floor, d.m.cap(p, int32(j)), true)
		for i, n := range w.f.taken {
			if n > 0 {
				w.got[j] = append(w.got[j], gotten{w.bids[j][i].typ, d.fraction(w.bids[j][i].typ, dp.kind, int32(j)) * int64(n)})
			}
		}
	}
	for j := range kind.Pools {
		c, sum := kind.Pools[j].StationClass, int64(0)
		for i := range kind.Pools {
			if kind.Pools[i].StationClass == c {
				sum += w.value[i]
			}
		}
		if sum < value {
			class, value = c, sum
		}
	}
	dp.value = d.m.in.Places[p].Fixed + value
	for j := range kind.Pools {
		if kind.Pools[j].StationClass == class {
			dp.got = append(dp.got, w.got[j]...)
		}
	}
}

// station is place with the relaxed tariff.
func (d *dual) station(w *worker, p int) {
	dp := &d.places[p]
	if w.station == nil {
		w.station = newStationBound(d.m)
	}
	w.station.begin(dp.kind)
	w.station.merged = d.merged
	for _, dt := range dp.types {
		if dt.base >= d.most {
			break // and so are all after it: nothing more bids
		}
		if r := dt.base - d.lambda[dt.typ]; r < 0 {
			w.station.bid(dp.kind, dt.typ, int32(len(d.m.types[dt.typ].members)), r)
		}
	}
	dp.value = w.station.solve(p, func(x classBid, units int32) {
		dp.got = append(dp.got, gotten{x.typ, x.part * int64(units)})
	})
}

// fraction is how much of a bundle's reduced cost the pool carries, times one.
func (d *dual) fraction(t int32, kind int, pool int32) int64 {
	pools := d.m.types[t].kinds[kind].pools
	if len(pools) == 1 {
		return one
	}
	var total, mine int64
	for _, p := range pools {
		total += p.weight
		if p.pool == pool {
			mine = p.weight
		}
	}
	f, _ := mulDivFloor(one, mine, total)
	return f
}

// approach climbs with all classes of a pool merged first: that is quick, and spares the exact relaxation the many fillings
// that only poor multipliers would make it price.
func (d *dual) approach(target int64, stop func() bool) {
	d.merged = true
	d.climb(150, target, stop)
	d.merged = false
	copy(d.lambda, d.best)
	d.best, d.bound = nil, 0
}

// climb spends up to rounds evaluations; target is the cost of the best design known. It returns when the bound stops
// rising. The best multipliers stay in d.best, their bound in d.bound.
func (d *dual) climb(rounds int, target int64, stop func() bool) {
	d.climbFrom(1024, rounds, target, stop)
}

// climbFrom is climb with a first length of step, in 1/1024 of the way that would reach the target.
func (d *dual) climbFrom(theta int64, rounds int, target int64, stop func() bool) {
	idle := 0
	clear(d.dir)
	for range rounds {
		bound := d.evaluate()
		if d.best == nil || bound > d.bound {
			if d.best == nil || bound-d.bound > (target-d.bound)/2000 {
				idle = 0
			}
			d.bound = bound
			d.best = append(d.best[:0], d.lambda...)
		} else {
			idle++
		}
		if idle >= 20 {
			theta, idle = theta*11/16, 0
			copy(d.lambda, d.best)
			d.evaluate()
			clear(d.dir)
		}
		gap := target - bound
		if target-d.bound <= 0 || theta < 4 || stop != nil && stop() {
			break
		}
		if !d.move(theta, max(gap, 1)) {
			break
		}
	}
}

// move takes one step along the deflected subgradient.
func (d *dual) move(theta, gap int64) bool {
	norm := int64(0) // sum over bundles of direction squared, in units of one
	for t := range d.lambda {
		many := int64(len(d.m.types[t].members))
		g := one - d.taken[t]/many
		d.dir[t] = g + d.dir[t]*10/16
		norm += d.dir[t] * d.dir[t] / one * many
	}
	if norm == 0 {
		return false
	}
	for t := range d.lambda {
		// theta/1024 * gap * dir / norm
		step := mulDiv(gap*theta/1024, d.dir[t], norm)
		d.lambda[t] += step
	}
	return true
}

// mulDiv returns a*b/c rounded toward 0, exactly, for a >= 0 and c > 0; the quotient must fit.
func mulDiv(a, b, c int64) int64 {
	if b < 0 {
		return -mulDiv(a, -b, c)
	}
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	if hi >= uint64(c) {
		return math.MaxInt64 / 1024
	}
	q, _ := bits.Div64(hi, lo, uint64(c))
	return int64(min(q, math.MaxInt64/1024))
}
