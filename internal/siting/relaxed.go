package siting

import (
	"cmp"
	"slices"
)

// Relaxed is the tariff as the bound sees it: never dearer than Tariff, and simple enough to be solved exactly for one
// station. Its methods are called from several goroutines at once and give the same answer to the same question.
type Relaxed interface {
	// Offers returns the ways to hold counts[i] signals of the pool's i-th class on modules of which apart[i] or more suit that
	// class (where counts[i] is not 0): by ascending number of modules and falling cost, each the cheapest of its number. It
	// is empty if they cannot be held. exact is false where cheaper ways may exist; the bound then falls back on Pool.Floor.
	// The answer must not be changed, the arguments must not be kept.
	Offers(kind, pool int, counts, apart []int) (offers []Offer, exact bool)

	// Frame returns the least that a station at the place costs beyond its modules and the opening of its groups when it
	// has so many modules or more; Forbidden where it cannot have them. It does not fall when modules grow.
	Frame(place, modules int) int64
}

// Offer is so many modules of the least cost.
type Offer struct {
	Modules int
	Cost    int64
}

// mostVectors bounds the count vectors that the bound looks at for one pool of one place; a pool with more is taken with
// all its classes merged (docs/certificate.md).
const mostVectors = 5_000

// frameLimit is the most modules that the bound looks at.
const frameLimit = 64

// classBid is what a type offers a class of one station: up to many units, each of size signals at share r < 0. set is its
// first partner set of the class, or -1; part is how much of the type's reduced cost the class carries, times one.
type classBid struct {
	typ  int32
	size int32
	many int32
	set  int32
	r    int64
	part int64
}

// picked is a number of units of a bid.
type picked struct {
	bid   int
	units int32
}

// prefix is, for a class, the least sum of shares for each number of signals, and how it is reached.
type prefix struct {
	sum    []int64 // by number of signals; Forbidden where no choice has exactly so many
	groups []sizeGroup
}

// sizeGroup is the bids of one size, the cheapest first, and how many units of it each sum takes.
type sizeGroup struct {
	size  int
	units []int // index of the bid of each unit, the cheapest first
	take  []int32
}

// newPrefix combines bids, of which the units of each size are taken cheapest first: sizes are few.
func newPrefix(bids []classBid, most int) prefix {
	order := make([]int, len(bids))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(bids[a].size, bids[b].size), cmp.Compare(bids[a].r, bids[b].r), cmp.Compare(bids[a].typ, bids[b].typ))
	})
	p := prefix{sum: []int64{0}}
	for from := 0; from < len(order); {
		g := sizeGroup{size: int(bids[order[from]].size)}
		values := []int64{0}
		for ; from < len(order) && int(bids[order[from]].size) == g.size; from++ {
			b := &bids[order[from]]
			for range b.many {
				if (len(g.units)+1)*g.size > most {
					break
				}
				g.units = append(g.units, order[from])
				values = append(values, values[len(values)-1]+b.r)
			}
		}
		p.join(g, values, most)
	}
	return p
}

// join adds a group of one size to the sums.
func (p *prefix) join(g sizeGroup, values []int64, most int) {
	top := min(len(p.sum)-1+g.size*len(g.units), most)
	sum := make([]int64, top+1)
	g.take = make([]int32, top+1)
	for n := range sum {
		sum[n] = Forbidden
		for k := 0; k < len(values) && k*g.size <= n; k++ {
			if rest := n - k*g.size; rest < len(p.sum) && p.sum[rest] < Forbidden {
				if v := p.sum[rest] + values[k]; v < sum[n] {
					sum[n], g.take[n] = v, int32(k)
				}
			}
		}
	}
	p.sum = sum
	p.groups = append(p.groups, g)
}

// chosen lists the bids that make up n signals.
func (p *prefix) chosen(n int, out []picked) []picked {
	for i := len(p.groups) - 1; i >= 0; i-- {
		g := &p.groups[i]
		k := int(g.take[n])
		for u := range k {
			if last := len(out) - 1; last >= 0 && out[last].bid == g.units[u] {
				out[last].units++
				continue
			}
			out = append(out, picked{g.units[u], 1})
		}
		n -= k * g.size
	}
	return out
}

// poolWay is a pool's best filling with exactly so many modules.
type poolWay struct {
	value  int64
	counts []int // per class
	apart  []int // per class: how many partners of a set at most
}

// poolBound finds, for each number of modules, the best filling of one pool: W_j(k) of docs/certificate.md.
type poolBound struct {
	bids   [][]classBid
	passes [][]prefix // per class and number of partners of a set, from 1: the last keeps all
	ways   []poolWay  // by modules; index 0 is the empty filling
	merged bool       // too many vectors: all classes in one
}

func (b *poolBound) reset(classes int) {
	b.bids = append(b.bids[:0], make([][]classBid, classes)...)
	b.passes, b.ways, b.merged = nil, nil, false
}

// keep returns the bids that remain when at most r of each partner set may be taken.
func keep(bids []classBid, r int) []classBid {
	out := slices.Clone(bids)
	slices.SortFunc(out, func(a, b classBid) int { return cmp.Or(cmp.Compare(a.r, b.r), cmp.Compare(a.typ, b.typ)) })
	count := map[int32]int{}
	return slices.DeleteFunc(out, func(b classBid) bool {
		if b.set < 0 {
			return false
		}
		count[b.set]++
		return count[b.set] > r
	})
}

// mostPartners is how many bids of one partner set a class has at most, 1 if none.
func mostPartners(bids []classBid) int {
	most := 1
	count := map[int32]int{}
	for _, x := range bids {
		if x.set >= 0 {
			count[x.set] += int(x.many)
			most = max(most, count[x.set])
		}
	}
	return most
}

// solve fills ways. floor is the pool's F for the merged case, surcharge the classes' s.
func (b *poolBound) solve(offers func(counts, apart []int) ([]Offer, bool), floor []int64, surcharge []int64, most int) {
	b.ways = []poolWay{{}}
	vectors := 1
	for _, bids := range b.bids {
		n := 0
		for _, x := range bids {
			n += int(x.size) * int(x.many)
		}
		vectors = min(vectors*(min(n, most)+1)*mostPartners(bids), mostVectors+1)
	}
	if vectors > mostVectors {
		b.merge(floor, surcharge, most)
		return
	}
	for _, bids := range b.bids {
		var pass []prefix
		last := mostPartners(bids)
		for r := 1; r < last; r++ {
			pass = append(pass, newPrefix(keep(bids, r), most))
		}
		b.passes = append(b.passes, append(pass, newPrefix(bids, most)))
	}
	w := poolWay{counts: make([]int, len(b.bids)), apart: make([]int, len(b.bids))}
	if !b.walk(0, &w, offers) {
		b.merge(floor, surcharge, most)
	}
}

// walk tries every vector of counts and partners; it returns false where the offers are not exact.
func (b *poolBound) walk(class int, w *poolWay, offers func(counts, apart []int) ([]Offer, bool)) bool {
	if class == len(b.passes) {
		return b.offer(w, offers)
	}
	sum := w.value
	for r, p := range b.passes[class] {
		for n, v := range p.sum {
			if v >= Forbidden || n == 0 && r > 0 {
				continue
			}
			w.counts[class], w.apart[class], w.value = n, r+1, sum+v
			if !b.walk(class+1, w, offers) {
				return false
			}
		}
	}
	w.counts[class], w.value = 0, sum
	return true
}

// offer holds the modules for one vector against the best so far.
func (b *poolBound) offer(w *poolWay, offers func(counts, apart []int) ([]Offer, bool)) bool {
	if w.value == 0 {
		return true
	}
	list, exact := offers(w.counts, w.apart)
	if !exact {
		return false
	}
	for _, o := range list {
		for len(b.ways) <= o.Modules {
			b.ways = append(b.ways, poolWay{value: Forbidden})
		}
		if v := w.value + o.Cost; v < b.ways[o.Modules].value {
			best := &b.ways[o.Modules]
			best.value = v
			best.counts = append(best.counts[:0], w.counts...)
			best.apart = append(best.apart[:0], w.apart...)
		}
	}
	return true
}

// merge takes all classes as one, with the surcharges on the shares and the pool's floor as the price of any number of
// modules.
func (b *poolBound) merge(floor, surcharge []int64, most int) {
	var all []classBid
	for c, bids := range b.bids {
		for _, x := range bids {
			if x.r += surcharge[c] * int64(x.size); x.r < 0 {
				all = append(all, x)
			}
		}
	}
	b.merged = true
	b.bids = [][]classBid{all}
	p := newPrefix(all, most)
	b.passes = [][]prefix{{p}}
	b.ways = []poolWay{{}, {value: Forbidden, counts: []int{0}, apart: []int{1}}}
	for n := 1; n < len(p.sum); n++ {
		if p.sum[n] < Forbidden && p.sum[n]+floorAt(floor, n) < b.ways[1].value {
			b.ways[1].value, b.ways[1].counts[0] = p.sum[n]+floorAt(floor, n), n
		}
	}
}

// bidsOf lists what the filling with k modules takes, class by class, through visit.
func (b *poolBound) bidsOf(k int, visit func(x classBid, units int32)) {
	w := &b.ways[k]
	var buf []picked
	for c, n := range w.counts {
		bids := b.bids[c]
		if w.apart[c] < len(b.passes[c]) {
			bids = keep(bids, w.apart[c])
		}
		buf = b.passes[c][w.apart[c]-1].chosen(n, buf[:0])
		for _, p := range buf {
			visit(bids[p.bid], p.units)
		}
	}
}
