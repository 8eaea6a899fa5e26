package siting

import (
	"cmp"
	"math"
	"slices"
)

// flat is the plain case: one pool, stations that cost their opening and are limited only by a capacity. Single-source
// capacitated location is exactly this; sizes of bundles may be anything, so the difficulty is in packing them.
type flat struct {
	m         *model
	places    int
	open      []int64 // opening cost per place
	room      []int32 // capacity per place
	size      []int32 // per bundle (customer)
	cost      []int64 // bundle*places + place
	grain     int64   // all costs are multiples of it
	need      int64   // signals in all
	overPrice int64   // first price of a signal too many
	spread    int64   // mean over bundles of the difference between its middle and cheapest places
}

// newFlat returns the plain case of the instance, or nil when it is not one.
func newFlat(m *model) *flat {
	in := &m.in
	opening, ok := in.Tariff.(Flat)
	plain := ok && len(in.Kinds) == 1 && len(in.Kinds[0].Classes) == 1 && len(in.Conflicts) == 0 && len(in.Partners) == 0 &&
		in.Network == nil && in.Confirm == nil && len(in.Bundles) > 0
	for _, p := range in.Places {
		plain = plain && p.Copies <= 1 && p.Cap != nil && p.Cap[0] < 1<<30
	}
	if !plain {
		return nil
	}
	f := &flat{m: m, places: len(in.Places)}
	for p := range in.Places {
		f.open = append(f.open, opening[p])
		f.room = append(f.room, int32(in.Places[p].Cap[0]))
		f.grain = gcd(f.grain, opening[p])
	}
	signals := int64(0)
	for _, t := range m.typeOf {
		if t < 0 {
			return nil
		}
		f.size = append(f.size, m.types[t].size)
		signals += int64(m.types[t].size)
		for _, c := range m.types[t].cost {
			if c < Forbidden {
				f.grain = gcd(f.grain, c)
			}
		}
	}
	for _, t := range m.typeOf {
		f.cost = append(f.cost, m.types[t].cost...)
	}
	f.grain = max(f.grain, 1)
	f.need = signals
	f.spread = m.spread()
	f.overPrice = max(1, 4*f.spread*int64(len(f.size))/max(1, signals))
	return f
}

// spread returns the mean difference of cost between a type's middle and cheapest places.
func (m *model) spread() int64 {
	sum := int64(0)
	for t := range m.types {
		a := &m.types[t]
		sum += a.cost[a.order[len(a.order)/2]] - a.cost[a.order[0]]
	}
	return sum / int64(max(len(m.types), 1))
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (f *flat) at(j, p int32) int64 { return f.cost[int(j)*f.places+int(p)] }

// flatState assigns every bundle to one of a set of open places. Capacities are soft: what is too much costs a price a signal
// that rises while a design stays too full and falls while none is, so the search passes through full designs on its way
// between allowed ones.
type flatState struct {
	f     *flat
	r     *random
	open  []bool
	to    []int32   // per bundle
	left  []int32   // per place: capacity left, negative when too full
	held  [][]int32 // per place: bundles
	pos   []int32   // per bundle: index in held
	near  [][]int32 // per bundle: open places, cheapest first
	cable int64
	over  int64 // signals too many
	price int64 // of one of them
	moves int64
	log   []flatMove
	pair  pairing

	best     []int32 // the cheapest allowed assignment met; nil while none
	value    int64   // its cable
	soft     []int32 // the best by cable and price
	softCost int64
}

type flatMove struct{ j, from int32 }

// nearest is how many open places a bundle mostly looks at.
const nearest = 8

func newFlatState(f *flat, seed uint64) *flatState {
	n := len(f.size)
	return &flatState{
		f: f, r: newRandom(seed), open: make([]bool, f.places), to: make([]int32, n), left: make([]int32, f.places),
		held: make([][]int32, f.places), pos: make([]int32, n), near: make([][]int32, n),
	}
}

// begin opens exactly the places and starts from the given assignment as far as it goes; the rest goes where there is room.
// It reports whether every bundle may go somewhere.
func (s *flatState) begin(open []bool, to []int32) bool {
	f := s.f
	copy(s.open, open)
	copy(s.left, f.room)
	s.cable, s.over, s.best, s.value = 0, 0, nil, Forbidden
	s.price = f.overPrice
	var list []int32
	for p := range f.places {
		s.held[p] = s.held[p][:0]
		if open[p] {
			list = append(list, int32(p))
		}
	}
	for j := range s.near {
		near := s.near[j][:0]
		for _, p := range list {
			if f.at(int32(j), p) < Forbidden {
				near = append(near, p)
			}
		}
		if len(near) == 0 {
			return false
		}
		slices.SortFunc(near, func(a, b int32) int {
			return cmp.Or(cmp.Compare(f.at(int32(j), a), f.at(int32(j), b)), cmp.Compare(a, b))
		})
		s.near[j] = near
	}
	var rest []int32
	for j := range s.to {
		s.to[j] = -1
		if to != nil && to[j] >= 0 && open[to[j]] && f.at(int32(j), to[j]) < Forbidden {
			s.enter(int32(j), to[j])
		} else {
			rest = append(rest, int32(j))
		}
	}
	s.enterAll(rest)
	s.softCost = math.MaxInt64
	s.record()
	return true
}

// enterAll places bundles where they cost least, those first that lose most by going elsewhere, as far as there is room.
func (s *flatState) enterAll(list []int32) {
	f := s.f
	regret := func(j int32) int64 {
		if near := s.near[j]; len(near) > 1 {
			return f.at(j, near[1]) - f.at(j, near[0])
		}
		return Forbidden
	}
	slices.SortFunc(list, func(a, b int32) int {
		return cmp.Or(-cmp.Compare(regret(a), regret(b)), -cmp.Compare(f.size[a], f.size[b]), cmp.Compare(a, b))
	})
	for _, j := range list {
		at, least := s.near[j][0], int64(math.MaxInt64)
		for _, p := range s.near[j] {
			if c := f.at(j, p) + s.price*int64(max(0, f.size[j]-max(0, s.left[p]))); c < least {
				at, least = p, c
			}
		}
		s.enter(j, at)
	}
}

func (s *flatState) enter(j, p int32) {
	s.pos[j] = int32(len(s.held[p]))
	s.held[p] = append(s.held[p], j)
	s.fillUp(p, s.f.size[j])
	s.to[j] = p
	s.cable += s.f.at(j, p)
}

// fillUp adds size signals to the place (negative: takes away).
func (s *flatState) fillUp(p, size int32) {
	before := min(s.left[p], 0)
	s.left[p] -= size
	s.over += int64(before - min(s.left[p], 0))
}

func (s *flatState) shift(j, p int32) {
	from := s.to[j]
	if from == p {
		return
	}
	s.log = append(s.log, flatMove{j, from})
	held := s.held[from]
	last := held[len(held)-1]
	held[s.pos[j]] = last
	s.pos[last] = s.pos[j]
	s.held[from] = held[:len(held)-1]
	s.fillUp(from, -s.f.size[j])
	s.cable -= s.f.at(j, from)
	s.enter(j, p)
}

// cost is what the search minimises.
func (s *flatState) cost() int64 { return s.cable + s.over*s.price }

func (s *flatState) record() {
	if s.over == 0 && s.cable < s.value {
		s.value = s.cable
		s.best = append(s.best[:0], s.to...)
	}
	if c := s.cost(); s.best == nil && c < s.softCost {
		s.softCost = c
		s.soft = append(s.soft[:0], s.to...)
	}
}

// found returns the best assignment met, and whether it is allowed.
func (s *flatState) found() ([]int32, bool) {
	if s.best != nil {
		return s.best, true
	}
	return s.soft, false
}

// back returns to the best assignment met.
func (s *flatState) back() {
	to, _ := s.found()
	for j, p := range to {
		s.shift(int32(j), p)
	}
	s.log = s.log[:0]
}

// anneal makes the given number of moves, accepting losses around heat, which falls to nothing.
func (s *flatState) anneal(moves int, heat int64) {
	full, free := false, false // since the price was last looked at
	every := max(200, 4*len(s.to))
	for i := range moves {
		if i%every == every-1 {
			s.reprice(full, free)
			full, free = false, false
		}
		s.log = s.log[:0]
		s.step(heat * int64(moves-i) / int64(moves))
		if s.over > 0 {
			full = true
		} else {
			free = true
			if s.cable < s.value {
				s.record()
			}
		}
	}
	s.log = s.log[:0]
	s.record()
	s.moves += int64(moves)
}

// reprice moves the price of what is too much.
func (s *flatState) reprice(full, free bool) {
	switch {
	case full && !free:
		s.price = min(s.price*5/4+1, s.f.overPrice*64)
	case free && !full:
		s.price = max(s.price*7/8, s.f.overPrice/8)
	}
}

func (s *flatState) draw(heat int64) int64 {
	if heat <= 0 {
		return 0
	}
	return heat * minusLog(s.r.next()) >> 8
}

// step tries to move one bundle to another of its near places, or to exchange it with one there.
func (s *flatState) step(heat int64) {
	f := s.f
	j := int32(s.r.below(len(s.to)))
	near := s.near[j]
	k := min(len(near), nearest)
	if s.r.below(8) == 0 {
		k = len(near)
	}
	p := near[min(s.r.below(k), s.r.below(k))]
	from := s.to[j]
	if p == from {
		return
	}
	size := f.size[j]
	delta := f.at(j, p) - f.at(j, from)
	swap := int32(-1)
	if held := s.held[p]; len(held) > 0 && (s.left[p] < size || s.r.below(2) == 0) {
		swap = held[s.r.below(len(held))]
		c := f.at(swap, from)
		if c >= Forbidden {
			return
		}
		delta += c - f.at(swap, p)
		size -= f.size[swap]
	}
	over := tooMuch(s.left[p]-size) - tooMuch(s.left[p]) + tooMuch(s.left[from]+size) - tooMuch(s.left[from])
	delta += int64(over) * s.price
	if delta > 0 && delta >= s.draw(heat) {
		return
	}
	s.shift(j, p)
	if swap >= 0 {
		s.shift(swap, from)
	}
}

func tooMuch(left int32) int32 { return max(0, -left) }

// minusLog returns about -256 ln(u) for u uniform in (0,1], from 40 random bits, in integers.
func minusLog(bits uint64) int64 {
	u := bits>>40 | 1 // 24 bits
	n := int64(0)
	for x := u; x < 1<<23; x <<= 1 {
		n++
	}
	frac := int64(u<<uint(n))>>15 - 256 // 0..255: where between two powers of two
	return n*177 + (256-frac)*177/256
}
