package siting

import (
	"math"
	"slices"
)

// search improves a state by tearing a part of it down and building it up again, accepting small losses at first
// (simulated annealing over ruin and rebuild). The best state met is kept as a list of placements.
type search struct {
	s    *state
	r    *random
	m    *model
	near [][]int32 // per place: other places by likeness of cable costs

	count int // 0: free; else exactly so many stations

	bestValue int64
	bestLoose int
	best      placements
	atBest    bool // the state is the best met and not yet copied to best

	list []int32 // scratch
}

// placements is a design as what each slot holds.
type placements struct {
	open []bool
	held [][]hold // per type
}

func (s *state) placements() placements {
	p := placements{open: make([]bool, len(s.slots)), held: make([][]hold, len(s.held))}
	s.saveTo(&p)
	return p
}

// saveTo overwrites p, reusing its room.
func (s *state) saveTo(p *placements) {
	for i := range s.slots {
		p.open[i] = s.slots[i].open
	}
	for t := range s.held {
		p.held[t] = append(p.held[t][:0], s.held[t]...)
	}
}

// load makes an empty state hold the placements. What is in a slot that by now is refused stays loose.
func (s *state) load(p placements) {
	for i, open := range p.open {
		if open {
			s.setOpen(i, true)
		}
	}
	for t := range p.held {
		for _, h := range p.held[t] {
			s.put(int(h.slot), int32(t), h.qty)
		}
	}
	for i := range s.slots {
		if s.slots[i].cost >= Forbidden {
			s.vacate(i)
		}
	}
}

// vacate makes everything in the slot loose.
func (s *state) vacate(i int) {
	for sl := &s.slots[i]; len(sl.types) > 0; {
		t := sl.types[len(sl.types)-1]
		s.put(i, t, -s.in(i, t))
	}
}

func newSearch(s *state, near [][]int32, seed uint64) *search {
	return &search{s: s, r: newRandom(seed), m: s.m, near: near, bestValue: math.MaxInt64, bestLoose: math.MaxInt}
}

// keep notes that the state is the best met. It is copied only when the search is about to leave it (see save).
func (se *search) keep() {
	v := se.s.value()
	if se.s.nLoose > se.bestLoose || se.s.nLoose == se.bestLoose && v >= se.bestValue {
		return
	}
	se.bestValue, se.bestLoose, se.atBest = v, se.s.nLoose, true
}

// save copies the best design if the state still is it.
func (se *search) save() {
	if !se.atBest {
		return
	}
	se.atBest = false
	if se.best.held == nil {
		se.best = se.s.placements()
		return
	}
	se.s.saveTo(&se.best)
}

// leave is called when a step that makes the state worse is about to be accepted: it goes back, copies the best design, and
// takes the step again.
func (se *search) leave() {
	if !se.atBest {
		return
	}
	taken := slices.Clone(se.s.log)
	se.s.undo()
	se.save()
	for _, mv := range taken {
		if mv.qty == 0 {
			se.s.setOpen(int(mv.slot), !se.s.slots[mv.slot].open)
		} else {
			se.s.put(int(mv.slot), mv.typ, mv.qty)
		}
	}
}

// construct places what is loose: cheapest insertion with smoothed module prices, into open stations first.
func (se *search) construct(linear int64) {
	s := se.s
	s.fill(s.looseTypes(), taste{linear: linear, reach: 4, barred: -1}, se.r)
	s.fill(s.looseTypes(), taste{linear: linear, opening: true, reach: 8, barred: -1}, se.r)
	s.closeIdle()
	se.keep()
}

// run spends the given number of probes.
func (se *search) run(steps int64, hot, cold int64, cancelled func() bool) {
	s := se.s
	from := s.steps
	round := 0
	for s.steps-from < steps {
		round++
		if round%64 == 0 && cancelled != nil && cancelled() {
			return
		}
		done := (s.steps - from) * 1024 / steps
		heat := hot - (hot-cold)*done/1024
		if !se.step(heat) {
			break
		}
	}
}

// step makes one ruin and rebuild and takes it back when it loses more than the heat allows.
func (se *search) step(heat int64) bool {
	s := se.s
	if len(s.m.types) == 0 {
		return false
	}
	s.mark()
	value, loose := s.value(), s.nLoose
	s.steps++
	ta := taste{linear: []int64{0, 0, 8, 16}[se.r.below(4)], reach: 6, barred: -1}
	if se.r.below(3) == 0 {
		ta.blink = 8
	}
	if se.count > 0 {
		ta.barred = se.ruinSameCount()
	} else {
		se.ruin(&ta)
	}
	se.list = se.list[:0]
	for _, mv := range s.log {
		if mv.qty < 0 && s.loose[mv.typ] > 0 {
			se.list = append(se.list, mv.typ)
		}
	}
	if loose > 0 {
		se.list = s.looseTypes()
	}
	se.order()
	s.fill(se.list, ta, se.r)
	if se.count == 0 {
		for _, mv := range s.log {
			s.closeIfIdle(int(mv.slot))
		}
	}
	accept := s.nLoose < loose || s.nLoose == loose && s.value() < value+se.chance(heat)
	if !accept || se.count > 0 && s.nOpen != se.count {
		s.undo()
		return true
	}
	se.keep()
	if s.nLoose > se.bestLoose || s.value() > se.bestValue {
		se.leave()
	}
	s.mark()
	return true
}

// ruin tears down a part of the design in one of several ways.
func (se *search) ruin(ta *taste) {
	switch k := se.r.below(16); {
	case k < 1:
		ta.barred = se.ruinSlot(ta)
	case k < 2:
		se.openOne()
	case k < 4:
		ta.barred = se.ruinSlot(ta)
		se.openNear(ta.barred)
	case k < 6:
		se.ruinPool()
	case k < 8:
		ta.opening = se.r.below(4) == 0
		se.ruinPair()
	case k < 11:
		se.ruinPoolWide()
	default:
		ta.opening = se.r.below(16) == 0
		se.ruinFew()
	}
}

// ruinSameCount tears down without changing the number of stations, or moves one. It returns the slot to bar, or -1.
func (se *search) ruinSameCount() int {
	switch k := se.r.below(16); {
	case k < 3:
		i := se.openSlot()
		if i < 0 || se.s.stand[se.s.slots[i].place] <= se.m.in.Places[se.s.slots[i].place].Must {
			return -1
		}
		se.empty(i)
		if se.r.below(2) == 0 {
			se.openNear(i)
		} else {
			se.openOne()
		}
		return i
	case k < 6:
		se.ruinPool()
	case k < 8:
		se.ruinPair()
	case k < 11:
		se.ruinPoolWide()
	default:
		se.ruinFew()
	}
	return -1
}

// chance draws the loss that is accepted: heat times a draw of mean about one, as in annealing.
func (se *search) chance(heat int64) int64 {
	if heat <= 0 {
		return 0
	}
	return heat * minusLog(se.r.next()) / 256
}

// order shuffles the list, or sorts it by size.
func (se *search) order() {
	if se.r.below(2) == 0 {
		for i := len(se.list) - 1; i > 0; i-- {
			j := se.r.below(i + 1)
			se.list[i], se.list[j] = se.list[j], se.list[i]
		}
		return
	}
	se.s.bySize(se.list)
}

// take removes q of the type from the slot.
func (se *search) take(i int, t, q int32) { se.s.put(i, t, -q) }

// openSlot returns a random open slot that holds something, or -1.
func (se *search) openSlot() int {
	n := len(se.s.slots)
	at := se.r.below(n)
	for k := range n {
		i := (at + k) % n
		if se.s.slots[i].bundles > 0 {
			return i
		}
	}
	return -1
}

// ruinSlot empties a station; it is barred for the rebuild.
func (se *search) ruinSlot(ta *taste) int {
	i := se.openSlot()
	if i < 0 {
		return -1
	}
	se.empty(i)
	ta.opening = se.r.below(4) == 0
	return i
}

func (se *search) empty(i int) {
	se.s.vacate(i)
	se.s.closeIfIdle(i)
}

// openOne opens a closed slot and sends it what has a cheaper cable to it.
func (se *search) openOne() {
	n := len(se.s.slots)
	at := se.r.below(n)
	for k := range n {
		if i := (at + k) % n; !se.s.slots[i].open {
			se.attract(i)
			return
		}
	}
}

func (se *search) openNear(barred int) {
	if barred < 0 {
		return
	}
	place := se.s.slots[barred].place
	near := se.near[place]
	if len(near) == 0 {
		return
	}
	p := near[min(se.r.below(len(near)), se.r.below(len(near)))]
	for i := int(se.s.first[p]); i < int(se.s.first[p+1]); i++ {
		if !se.s.slots[i].open {
			se.attract(i)
			return
		}
	}
}

// attract opens the slot and takes out, elsewhere, most of what would have a cheaper cable to it.
func (se *search) attract(i int) {
	s := se.s
	p := s.slots[i].place
	s.setOpen(i, true)
	for _, t := range se.m.fans[p] {
		c := s.m.types[t].cost[p]
		for h := len(s.held[t]) - 1; h >= 0; h-- {
			e := s.held[t][h]
			if c < s.m.types[t].cost[s.slots[e.slot].place] && se.r.below(8) > 0 {
				se.take(int(e.slot), t, e.qty)
			}
		}
	}
}

// ruinPool takes one pool's bundles out of a station: all, or as many as free its last module.
func (se *search) ruinPool() {
	s := se.s
	i := se.openSlot()
	if i < 0 {
		return
	}
	sl := &s.slots[i]
	t := sl.types[se.r.below(len(sl.types))]
	tk := &s.m.types[t].kinds[sl.kind]
	pool := tk.pools[se.r.below(len(tk.pools))].pool
	was := sl.pool[pool].cost
	all := se.r.below(3) == 0
	types := append([]int32(nil), sl.types...)
	at := se.r.below(len(types))
	for k := range types {
		t := types[(at+k)%len(types)]
		if !s.m.types[t].kinds[sl.kind].touches(pool) {
			continue
		}
		for q := s.in(i, t); q > 0; q-- {
			se.take(i, t, 1)
			if !all && sl.pool[pool].cost < was {
				return
			}
		}
	}
}

// ruinPoolWide takes one pool's bundles out of a station and its neighbours, all of them, so that the pool's modules may stand
// elsewhere.
func (se *search) ruinPoolWide() {
	s := se.s
	i := se.openSlot()
	if i < 0 {
		return
	}
	sl := &s.slots[i]
	tk := &s.m.types[sl.types[se.r.below(len(sl.types))]].kinds[sl.kind]
	pool := tk.pools[se.r.below(len(tk.pools))].pool
	se.takePool(i, pool)
	left := 1 + se.r.below(4)
	for _, p := range se.near[sl.place] {
		for o := int(s.first[p]); o < int(s.first[p+1]); o++ {
			if s.slots[o].bundles > 0 && s.slots[o].kind == sl.kind && se.r.below(3) > 0 {
				se.takePool(o, pool)
				left--
			}
		}
		if left <= 0 {
			return
		}
	}
}

// takePool takes out of the slot what touches the pool.
func (se *search) takePool(i int, pool int32) {
	sl := &se.s.slots[i]
	for k := len(sl.types) - 1; k >= 0; k-- {
		if k < len(sl.types) && se.s.m.types[sl.types[k]].kinds[sl.kind].touches(pool) {
			t := sl.types[k]
			se.take(i, t, se.s.in(i, t))
		}
	}
}

func (tk *typeKind) touches(pool int32) bool {
	for _, p := range tk.pools {
		if p.pool == pool {
			return true
		}
	}
	return false
}

// ruinPair takes random parts out of two neighbouring stations.
func (se *search) ruinPair() {
	i := se.openSlot()
	if i < 0 {
		return
	}
	share := 1 + se.r.below(4)
	se.thin(i, share)
	near := se.near[se.s.slots[i].place]
	for k := 0; k < len(near) && k < 6; k++ {
		p := near[min(se.r.below(len(near)), se.r.below(len(near)))]
		for o := int(se.s.first[p]); o < int(se.s.first[p+1]); o++ {
			if o != i && se.s.slots[o].bundles > 0 {
				se.thin(o, share)
				return
			}
		}
	}
}

// thin takes each type out of the slot with chance share in 8.
func (se *search) thin(i, share int) {
	sl := &se.s.slots[i]
	for k := len(sl.types) - 1; k >= 0; k-- {
		if k < len(sl.types) && se.r.below(8) < share {
			t := sl.types[k]
			se.take(i, t, se.s.in(i, t))
		}
	}
}

// ruinFew takes out a few types whose cheapest places are alike.
func (se *search) ruinFew() {
	s := se.s
	t := se.r.below(len(s.held))
	count := 1 + se.r.below(8)
	p := s.m.types[t].order[0]
	if len(s.m.types[t].order) > 1 {
		p = s.m.types[t].order[se.r.below(min(4, len(s.m.types[t].order)))]
	}
	se.takeType(int32(t))
	for i := int(s.first[p]); i < int(s.first[p+1]) && count > 0; i++ {
		sl := &s.slots[i]
		for ; count > 0 && len(sl.types) > 0; count-- {
			t := sl.types[se.r.below(len(sl.types))]
			q := s.in(i, t)
			if q > 1 && se.r.below(2) == 0 {
				q = 1 + int32(se.r.below(int(q)))
			}
			se.take(i, t, q)
		}
	}
}

func (se *search) takeType(t int32) {
	held := se.s.held[t]
	if len(held) == 0 {
		return
	}
	e := held[se.r.below(len(held))]
	se.take(int(e.slot), t, e.qty)
}
