package packing

import (
	"cmp"
	"slices"

	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// placer seats signals on given modules in given groups by depth-first search: partners apart,
// channel currents and group loads within their limits, and room left for the signals that it does
// not seat itself.
type placer struct {
	s       *keySolver
	insts   []planMod
	groupOf []int
	room    []q.Microamps // per group, left
	chRoom  []q.Microamps // per instance, left of MaxTotal
	on      [][]int       // per instance: signals with partners that sit there
	fits    []tariff.Fit  // per pool task: what is still to be placed
	free    [][]int       // per pool task: free channels per option
	items   []seatItem
	rest    []q.Microamps // per item: least load from it on
	steps   int64
	max     int64
	stack   []seatMove
	drawn   q.Microamps // by the signals on the stack
	improve bool        // loads differ between ways: look for the least
	found   []seatMove  // best so far
	least   q.Microamps // what it draws
	has     bool
	left    []q.Microamps // room of the best so far
}

// seatItem is an item with where it may sit.
type seatItem struct {
	item
	pool int // index of the pool task
	size int
	ways []seatWay
}

// seatWay is one channel set of one module.
type seatWay struct {
	inst, t, option int // t is the index in PoolMod.Sets, option in Pool.Options
	load, channel   q.Microamps
}

type seatMove struct{ item, way, n int }

// newPlacer prepares the search. all says that every signal is seated, not only those with
// partners.
func newPlacer(s *keySolver, insts []planMod, groupOf []int, room []q.Microamps, all bool) *placer {
	p := &placer{s: s, insts: insts, groupOf: groupOf, room: slices.Clone(room), on: make([][]int, len(insts)), max: 4000}
	e := s.env()
	for i := range insts {
		insts[i].hard = nil
		p.on[i] = slices.Clone(insts[i].holds)
		chRoom := noCap
		if m := e.Mods[insts[i].mod].M; m.MaxTotal > 0 {
			chRoom = m.MaxTotal - insts[i].sum
		}
		p.chRoom = append(p.chRoom, chRoom)
		p.room[groupOf[i]] -= s.newSupply(&insts[i].inst)
	}
	for n := range s.t.pools {
		t := &s.t.pools[n]
		p.fits = append(p.fits, e.NewFit(t.pool, t.rows, false))
		p.free = append(p.free, s.freeOf(n, insts))
		for _, it := range t.bound {
			p.addItem(it, n)
		}
		if all {
			for _, it := range t.loose {
				p.addItem(it, n)
			}
		}
	}
	slices.SortStableFunc(p.items, func(a, b seatItem) int {
		return cmp.Or(cmp.Compare(b2i(len(b.partners) > 0), b2i(len(a.partners) > 0)), cmp.Compare(b.peak(), a.peak()))
	})
	p.rest = make([]q.Microamps, len(p.items)+1)
	for i := len(p.items) - 1; i >= 0; i-- {
		p.rest[i] = p.rest[i+1] + p.items[i].least()*q.Microamps(p.items[i].size)
	}
	return p
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// newSupply is what a new module draws from its group; an existing one is counted there already.
func (s *keySolver) newSupply(in *inst) q.Microamps {
	if in.slot > 0 {
		return 0
	}
	return s.env().Mods[in.mod].M.Supply
}

func (it *seatItem) peak() q.Microamps {
	var most q.Microamps
	for _, w := range it.ways {
		most = max(most, w.load, w.channel)
	}
	return most
}

func (it *seatItem) least() q.Microamps {
	if len(it.ways) == 0 {
		return 0
	}
	least := it.ways[0].load
	for _, w := range it.ways {
		least = min(least, w.load)
	}
	return least
}

func (p *placer) addItem(it item, pool int) {
	e := p.s.env()
	typ := &e.Types[it.typ]
	class := &e.Classes[typ.Class]
	out := seatItem{item: it, pool: pool, size: len(it.signals)}
	for i := range p.insts {
		in := &p.insts[i]
		if in.pool != class.Pool {
			continue
		}
		pm := &e.Pools[in.pool].Mods[in.pm]
		for t := range pm.Sets {
			at, ok := slices.BinarySearch(class.At, pm.First+t)
			if ok {
				out.ways = append(out.ways, seatWay{i, t, pm.First + t, typ.Load[at], typ.Channel[at]})
			}
		}
	}
	p.improve = p.improve || typ.Varying
	p.items = append(p.items, out)
}

// run searches. On success the seats are in the instances' hard lists and the groups' loads (of
// new parts) are returned; exact is false where the budget ended the search without an answer.
func (p *placer) run() (loads []q.Microamps, ok, exact bool) {
	before := slices.Clone(p.room)
	p.place(0)
	p.s.steps += p.steps
	if !p.has {
		return nil, false, p.steps <= p.max
	}
	if p.improve && p.steps > p.max {
		p.s.vague = true // a lower load may exist
	}
	for g := range before {
		loads = append(loads, before[g]-p.left[g])
	}
	next := make([]int, len(p.items))
	for _, m := range p.found {
		it := &p.items[m.item]
		w := it.ways[m.way]
		in := &p.insts[w.inst]
		set := p.s.env().Pools[in.pool].Mods[in.pm].Sets[w.t]
		for range m.n {
			in.hard = append(in.hard, seat{set, it.signals[next[m.item]]})
			next[m.item]++
		}
	}
	return loads, true, true
}

func (p *placer) place(k int) bool {
	var room q.Microamps
	for _, r := range p.room {
		if r < 0 {
			return false
		}
		room += r
	}
	if p.rest[k] > room || p.has && p.drawn+p.rest[k] >= p.least {
		return false
	}
	for n := range p.fits {
		if !p.fits[n].Holds(p.free[n]) {
			return false
		}
	}
	if k == len(p.items) {
		p.found, p.left, p.least, p.has = slices.Clone(p.stack), slices.Clone(p.room), p.drawn, true
		return !p.improve || p.drawn <= p.rest[0]
	}
	ahead := 0
	for _, w := range p.items[k].ways {
		ahead += p.most(&p.items[k], w, p.items[k].size)
	}
	return p.distribute(k, 0, p.items[k].size, ahead)
}

// most is how many signals of an item a way takes now.
func (p *placer) most(it *seatItem, w seatWay, n int) int {
	n = min(n, p.insts[w.inst].free[w.t])
	if w.channel > 0 {
		n = min(n, int(max(0, p.chRoom[w.inst])/w.channel))
	}
	if w.load > 0 {
		n = min(n, int(max(0, p.room[p.groupOf[w.inst]])/w.load))
	}
	if n > 0 && len(it.partners) > 0 && p.clash(it, w.inst) {
		return 0
	}
	return n
}

func (p *placer) clash(it *seatItem, inst int) bool {
	level := p.s.t.level
	for i := range p.on {
		if i != inst && (level != project.LevelGroup || p.groupOf[i] != p.groupOf[inst]) {
			continue
		}
		for _, x := range p.on[i] {
			if slices.Contains(it.partners, x) {
				return true
			}
		}
	}
	return false
}

// distribute puts n signals of item k on its ways from number j on; ahead bounds what they take.
func (p *placer) distribute(k, j, n, ahead int) bool {
	if p.steps++; p.steps > p.max {
		return false
	}
	it := &p.items[k]
	if n == 0 {
		return p.place(k + 1)
	}
	if j == len(it.ways) || ahead < n {
		return false
	}
	w := it.ways[j]
	most := p.most(it, w, n)
	limit := most
	if j > 0 && p.twins(k, j) {
		limit = min(limit, p.put(k, j-1))
	}
	for x := limit; x >= 0; x-- {
		p.move(k, j, x)
		if p.distribute(k, j+1, n-x, ahead-most) {
			return true
		}
		p.move(k, j, -x)
		if p.steps > p.max {
			return false
		}
	}
	return false
}

// put is how many signals of item k sit on way j now.
func (p *placer) put(k, j int) int {
	n := 0
	for i := len(p.stack) - 1; i >= 0 && p.stack[i].item == k; i-- {
		if p.stack[i].way == j {
			n += p.stack[i].n
		}
	}
	return n
}

// twins reports whether way j of item k and the one before it are alike in every respect apart from
// what item k put there, so that only one order of the two need be tried.
func (p *placer) twins(k, j int) bool {
	a, b := p.items[k].ways[j-1], p.items[k].ways[j]
	x, y := &p.insts[a.inst], &p.insts[b.inst]
	if a.inst == b.inst || x.mod != y.mod || a.t != b.t || p.groupOf[a.inst] != p.groupOf[b.inst] || x.slot > 0 || y.slot > 0 || len(x.free) > 1 {
		return false
	}
	n := p.put(k, j-1)
	if x.free[a.t]+n != y.free[b.t] || p.chRoom[a.inst] != noCap && p.chRoom[a.inst]+a.channel*q.Microamps(n) != p.chRoom[b.inst] {
		return false
	}
	return len(p.on[a.inst]) == 0 && len(p.on[b.inst]) == 0
}

// move puts x signals of item k on way j (takes them off for negative x).
func (p *placer) move(k, j, x int) {
	if x == 0 {
		return
	}
	it := &p.items[k]
	w := it.ways[j]
	in := &p.insts[w.inst]
	in.free[w.t] -= x
	p.free[it.pool][w.option] -= x
	p.room[p.groupOf[w.inst]] -= w.load * q.Microamps(x)
	p.drawn += w.load * q.Microamps(x)
	if p.chRoom[w.inst] != noCap {
		p.chRoom[w.inst] -= w.channel * q.Microamps(x)
	}
	e := p.s.env()
	p.fits[it.pool].Take(&e.Classes[e.Types[it.typ].Class], x)
	if x > 0 {
		p.stack = append(p.stack, seatMove{k, j, x})
		if len(it.partners) > 0 {
			p.on[w.inst] = append(p.on[w.inst], it.signals[0])
		}
		return
	}
	p.stack = p.stack[:len(p.stack)-1]
	if len(it.partners) > 0 {
		p.on[w.inst] = p.on[w.inst][:len(p.on[w.inst])-1]
	}
}
