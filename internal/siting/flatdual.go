package siting

import (
	"math"
	"runtime"
	"sync"
)

// flatDual raises the lower bound of the plain case by moving multipliers (one a type of bundle) along subgradients. Unlike
// the general bound it knows that the open places together must hold everything. All in integers, so that it ends alike on
// every processor.
type flatDual struct {
	m      *model
	places []flatPlace
	lambda []int64
	best   []int64
	bound  int64 // of best, in the case as restricted
	taken  []int32
	dir    []int64
	fill   []filling // one a worker
	cover  *cover
	times  []int64                          // per place: stations in the relaxation, 0 or 1
	seen   func(times []int64, bound int64) // may be nil: called after each evaluation
	spent  int64                            // work: types looked at

	counted            int32 // evaluations since tally
	openCount, atCount []int32
}

// flatPlace is a place in the relaxation.
type flatPlace struct {
	fixed        int64
	room         int
	copies, must int
	types        []flatType
	value        int64 // of a station here at the last evaluation
	bids         []bid
	got          []int32 // per bid: taken
}

type flatType struct {
	cost int64
	typ  int32
	off  bool // kept from here by a case
}

func newFlatDual(m *model) *flatDual {
	d := &flatDual{
		m: m, cover: newCover(m), times: make([]int64, len(m.in.Places)), lambda: make([]int64, len(m.types)),
		taken: make([]int32, len(m.types)), dir: make([]int64, len(m.types)), fill: make([]filling, max(1, runtime.GOMAXPROCS(0))),
	}
	for p := range m.in.Places {
		place := &m.in.Places[p]
		dp := flatPlace{fixed: place.Fixed, room: m.cap(p, 0), copies: place.Copies, must: place.Must}
		for t := range m.types {
			if c := m.types[t].cost[p]; c < Forbidden {
				dp.types = append(dp.types, flatType{cost: c, typ: int32(t)})
			}
		}
		d.places = append(d.places, dp)
	}
	return d
}

// start sets first multipliers: each bundle's cheapest cost.
func (d *flatDual) start() {
	for t := range d.m.types {
		a := &d.m.types[t]
		d.lambda[t] = a.cost[a.order[0]]
	}
}

// evaluate returns the bound of the multipliers lambda and leaves what each place would take.
func (d *flatDual) evaluate() int64 {
	d.parallel()
	d.spent += int64(len(d.places) * len(d.m.types))
	bound := int64(0)
	for t := range d.lambda {
		bound += d.lambda[t] * int64(len(d.m.types[t].members))
		d.taken[t] = 0
	}
	sum, ok := d.cover.choose(d.places, d.times)
	if !ok {
		return Forbidden
	}
	for p := range d.places {
		if d.times[p] > 0 {
			dp := &d.places[p]
			for i, n := range dp.got {
				d.taken[dp.bids[i].typ] += n
			}
		}
	}
	if d.openCount != nil {
		d.count()
	}
	if d.seen != nil {
		d.seen(d.times, bound+sum)
	}
	return bound + sum
}

// parallel solves every place, each worker its own places; results belong to the place, so order does not matter.
func (d *flatDual) parallel() {
	if len(d.fill) == 1 || len(d.m.types)*len(d.places) < 5000 {
		for p := range d.places {
			d.place(&d.fill[0], p)
		}
		return
	}
	var wait sync.WaitGroup
	for w := range d.fill {
		wait.Go(func() {
			for p := w; p < len(d.places); p += len(d.fill) {
				d.place(&d.fill[w], p)
			}
		})
	}
	wait.Wait()
}

// place solves the knapsack of one station at the place.
func (d *flatDual) place(f *filling, p int) {
	dp := &d.places[p]
	dp.bids, dp.got, dp.value = dp.bids[:0], dp.got[:0], 0
	if dp.copies == 0 {
		return
	}
	for _, ft := range dp.types {
		if r := ft.cost - d.lambda[ft.typ]; r < 0 && !ft.off {
			a := &d.m.types[ft.typ]
			dp.bids = append(dp.bids, bid{ft.typ, a.size, int32(len(a.members)), r})
		}
	}
	dp.value = dp.fixed + f.solve(dp.bids, nil, dp.room, true)
	dp.got = append(dp.got, f.taken...)
}

// climb spends up to rounds evaluations; target is the cost of the best design known. The best multipliers stay in d.best,
// their bound in d.bound. It returns early when the bound stops rising or reaches the target.
func (d *flatDual) climb(rounds int, target int64, stop func() bool) {
	theta, idle := int64(1024), 0 // theta in 1/1024
	clear(d.dir)
	for range rounds {
		bound := d.evaluate()
		if bound >= Forbidden { // the case has no design at all
			d.bound, d.best = Forbidden, append(d.best[:0], d.lambda...)
			return
		}
		if d.best == nil || bound > d.bound {
			if d.best == nil || bound-d.bound > (target-d.bound)/2000 {
				idle = 0
			}
			d.bound = bound
			d.best = append(d.best[:0], d.lambda...)
		} else {
			idle++
		}
		if idle >= 12 {
			theta, idle = theta*2/3, 0
			copy(d.lambda, d.best)
			d.evaluate()
			clear(d.dir)
		}
		if target <= d.bound || theta < 4 || stop != nil && stop() || !d.move(theta, max(target-bound, 1)) {
			return
		}
	}
}

// move takes one step along the deflected subgradient; it returns false when there is none: the relaxation's choice is then
// a design.
func (d *flatDual) move(theta, gap int64) bool {
	norm, still := int64(0), true // norm: sum over bundles of direction squared, in units of one
	for t := range d.lambda {
		many := int64(len(d.m.types[t].members))
		g := one - int64(d.taken[t])*one/many
		still = still && int64(d.taken[t]) == many
		d.dir[t] = g + d.dir[t]*5/8
		norm += d.dir[t] * d.dir[t] / one * many
	}
	if norm == 0 || still {
		return false
	}
	for t := range d.lambda {
		d.lambda[t] += mulDiv(gap*theta/1024, d.dir[t], norm) // theta/1024 * gap * dir / norm
	}
	return true
}

// restrict makes the dual speak of one case only.
func (d *flatDual) restrict(fixed []int8, off []pair) {
	for p := range d.places {
		place := &d.m.in.Places[p]
		dp := &d.places[p]
		dp.copies, dp.must = place.Copies, place.Must
		switch fixed[p] {
		case 1:
			dp.must = place.Copies
		case -1:
			dp.copies = place.Must
		}
		for i := range dp.types {
			dp.types[i].off = false
		}
	}
	for _, o := range off {
		dp := &d.places[o.place]
		for i := range dp.types {
			if dp.types[i].typ == o.typ {
				dp.types[i].off = true
			}
		}
	}
}

// tally starts counting how often each place is open and each bundle is at each place.
func (d *flatDual) tally() {
	d.openCount = append(d.openCount[:0], make([]int32, len(d.places))...)
	d.atCount = append(d.atCount[:0], make([]int32, len(d.places)*len(d.m.types))...)
	d.counted = 0
}

func (d *flatDual) count() {
	d.counted++
	for p := range d.places {
		if d.times[p] > 0 {
			d.openCount[p]++
			for i, n := range d.places[p].got {
				if n > 0 {
					d.atCount[int(d.places[p].bids[i].typ)*len(d.places)+p]++
				}
			}
		}
	}
}

// mostly returns the place where each bundle was most often since tally; -1 where it was nowhere.
func (d *flatDual) mostly() []int32 {
	guess := make([]int32, len(d.m.typeOf))
	for b, t := range d.m.typeOf {
		row := d.atCount[int(t)*len(d.places) : (int(t)+1)*len(d.places)]
		top, at := int32(0), -1
		for p, c := range row {
			if c > top {
				top, at = c, p
			}
		}
		guess[b] = int32(at)
	}
	return guess
}

// settle fixes the free places that no better design than upper has otherwise, by the best multipliers, and decides how to
// split what is left: at the place whose being open is least settled, else at the place that is cheapest to flip, and when
// all places are fixed at the bundle whose place is least settled.
func (d *flatDual) settle(fixed []int8, upper int64) decision {
	copy(d.lambda, d.best)
	counted, opens, ats := d.counted, d.openCount, d.atCount
	d.openCount, d.atCount = nil, nil
	d.evaluate()
	d.openCount, d.atCount = opens, ats
	base := int64(0)
	for t := range d.lambda {
		base += d.lambda[t] * int64(len(d.m.types[t].members))
	}
	times := append([]int64(nil), d.times...)
	out := decision{-1, -1, -1}
	unsettled, flip := int32(0), int64(math.MaxInt64)
	for p := range d.places {
		dp := &d.places[p]
		if fixed[p] != 0 || dp.copies == dp.must {
			continue
		}
		copies, must := dp.copies, dp.must
		dp.copies, dp.must = copies*int(1-times[p]), copies*int(1-times[p])
		sum, ok := d.cover.choose(d.places, d.times)
		dp.copies, dp.must = copies, must
		if !ok || base+sum >= upper {
			fixed[p] = int8(2*times[p] - 1)
			continue
		}
		u := min(opens[p], counted-opens[p])
		if u*20 < counted {
			u = 0
		}
		if u > unsettled || u == unsettled && base+sum < flip {
			unsettled, flip, out.place = u, base+sum, int32(p)
		}
	}
	if out.place < 0 {
		out.typ, out.at = d.leastSettled()
	}
	return out
}

// leastSettled returns the type that was at its commonest place the least often since tally, and that place; -1 when every
// type was at one place only.
func (d *flatDual) leastSettled() (typ, at int32) {
	least := int32(math.MaxInt32)
	typ, at = -1, -1
	for t := range d.m.types {
		row := d.atCount[t*len(d.places) : (t+1)*len(d.places)]
		top, sum, where := int32(0), int32(0), 0
		for p, c := range row {
			sum += c
			if c > top {
				top, where = c, p
			}
		}
		if sum > top && top < least {
			least, typ, at = top, int32(t), int32(where)
		}
	}
	return typ, at
}
