package siting

import "slices"

// state is a (partial) design under search: slots for stations, what each holds, what it costs. One value serves one
// goroutine.
type state struct {
	m       *model
	pr      *prices
	learned *learned
	slots   []slot
	first   []int32   // per place: its first slot; slots of a place stand together
	stand   []int     // per place: open stations
	held    [][]hold  // per type: where its bundles are
	loose   []int32   // per type: bundles not placed
	nLoose  int       // sum of loose
	nOpen   int       // open slots
	cable   int64     // sum of field cables
	station int64     // sum of slot costs
	network int64     // cost of the network
	nets    *networks // memo of the network's cost; nil without one
	steps   int64     // probes made
	log     []move    // changes since mark, for undo
	logging bool
	scratch scratch
}

type slot struct {
	place, kind int32
	open        bool
	class       int32   // station class of what it holds; -1 when it holds nothing
	types       []int32 // types held, in no particular order
	bundles     int32
	counts      []int32 // per class, pool by pool (see model.start)
	total       []int32 // per pool
	pool        []priced
	use         Use
	groups      []GroupUse
	cost        int64
	hash        uint64
	apart       []apartCount
}

// apartCount says how many partners of a set a slot holds in a pool.
type apartCount struct {
	set, pool int32
	n         int32
}

type hold struct {
	slot int32
	qty  int32
}

type move struct {
	slot, typ, qty int32 // qty 0: open was toggled
}

type scratch struct {
	counts []int32
	groups []GroupUse
	pool   []priced // per part of the probed type
}

func newState(m *model, l *learned) *state {
	s := &state{m: m, pr: newPrices(m), learned: l, first: make([]int32, len(m.in.Places)+1), stand: make([]int, len(m.in.Places))}
	for p := range m.in.Places {
		place := &m.in.Places[p]
		s.first[p] = int32(len(s.slots))
		kind := &m.in.Kinds[place.Kind]
		for range place.Copies {
			s.slots = append(s.slots, slot{
				place: int32(p), kind: int32(place.Kind), class: -1,
				counts: make([]int32, len(kind.Classes)), total: make([]int32, len(kind.Pools)),
				pool: make([]priced, len(kind.Pools)), groups: make([]GroupUse, max(kind.Groups, 1)),
			})
		}
	}
	s.first[len(m.in.Places)] = int32(len(s.slots))
	s.held = make([][]hold, len(m.types))
	s.loose = make([]int32, len(m.types))
	for t := range m.types {
		s.loose[t] = int32(len(m.types[t].members))
		s.nLoose += len(m.types[t].members)
	}
	if m.in.Network != nil {
		s.nets = &networks{of: m.in.Network, known: map[string]int64{}}
	}
	for p := range m.in.Places {
		for i := range m.in.Places[p].Must {
			s.setOpen(int(s.first[p])+i, true)
		}
	}
	return s
}

// value orders states: unplaced bundles first, then money.
func (s *state) value() int64 { return s.cable + s.station + s.network }

// probe returns what the slot would cost with q more (or fewer) bundles of type t, and whether that is allowed. The slot
// counts as open when it then holds anything or is open now.
func (s *state) probe(i int, t int32, q int32) (cost int64, ok bool) {
	s.steps++
	sl := &s.slots[i]
	a := &s.m.types[t]
	tk := &a.kinds[sl.kind]
	if q > 0 {
		if a.cost[sl.place] >= Forbidden || sl.class >= 0 && sl.class != tk.class || s.clash(i, a) {
			return 0, false
		}
		for _, pp := range tk.pools {
			if int(sl.total[pp.pool]+q*pp.count) > s.m.cap(int(sl.place), pp.pool) {
				return 0, false
			}
		}
	}
	sc := &s.scratch
	sc.groups = append(sc.groups[:0], sl.groups...)
	sc.pool = sc.pool[:0]
	use, pools := sl.use, int64(0)
	kind := &s.m.in.Kinds[sl.kind]
	at := 0
	for _, pp := range tk.pools {
		j := int(pp.pool)
		g := &sc.groups[kind.Pools[j].Group]
		start := s.m.start[sl.kind][j]
		sc.counts = append(sc.counts[:0], sl.counts[start:int(start)+len(s.m.pools[sl.kind][j])]...)
		for ; at < len(tk.parts) && tk.parts[at].pool == pp.pool; at++ {
			sc.counts[tk.parts[at].pos] += q * tk.parts[at].count
			g.LoadUA += int64(q) * tk.parts[at].load
		}
		e := s.pr.pool(int(sl.kind), j, sc.counts, s.apart(sl, a, pp.pool, q))
		if e.cost >= Forbidden {
			return 0, false
		}
		old := &sl.pool[j]
		use = use.Plus(e.use).Minus(old.use)
		g.Slots += e.use.Slots - old.use.Slots
		pools += e.cost - old.cost
		sc.pool = append(sc.pool, e)
	}
	for j := range sl.pool {
		pools += sl.pool[j].cost
	}
	base, ok := s.m.in.Tariff.Station(int(sl.place), use, sc.groups)
	if !ok {
		return 0, false
	}
	extra, ok := s.learned.extra(int(sl.place), sl.hash+s.m.hash(sl.kind, tk, q))
	return base + pools + extra, ok
}

// clash reports whether the slot holds a bundle in conflict with the type.
func (s *state) clash(i int, a *alike) bool {
	for _, c := range a.conflict {
		for _, h := range s.held[c] {
			if int(h.slot) == i {
				return true
			}
		}
	}
	return false
}

// apart returns the largest number of partners of one set in the pool after q more of the type.
func (s *state) apart(sl *slot, a *alike, pool, q int32) int {
	if len(sl.apart) == 0 && len(a.partners) == 0 {
		return 0
	}
	most := int32(0)
	for _, c := range sl.apart {
		if c.pool == pool {
			most = max(most, c.n+q*a.partnersOf(c.set, sl.kind, pool))
		}
	}
	for _, ref := range a.partners {
		if ref.pool[sl.kind] == pool {
			most = max(most, q*a.partnersOf(ref.set, sl.kind, pool))
		}
	}
	if most < 2 {
		return 0
	}
	return int(most)
}

// partnersOf returns how many partners of the set one bundle brings to the pool.
func (a *alike) partnersOf(set, kind, pool int32) int32 {
	n := int32(0)
	for _, ref := range a.partners {
		if ref.set == set && ref.pool[kind] == pool {
			n++
		}
	}
	return n
}

// put places q bundles of the type in the slot (q < 0 takes them out) and opens the slot if need be. The caller has probed
// that it is allowed; taking out is always allowed.
func (s *state) put(i int, t int32, q int32) {
	if q == 0 {
		return
	}
	sl := &s.slots[i]
	if q > 0 && !sl.open {
		s.setOpen(i, true)
	}
	if s.logging {
		s.log = append(s.log, move{int32(i), t, q})
	}
	s.apply(i, t, q)
}

func (s *state) apply(i int, t int32, q int32) {
	sl := &s.slots[i]
	a := &s.m.types[t]
	tk := &a.kinds[sl.kind]
	cost, ok := s.reprice(sl, a, tk, q)
	s.hold(i, t, q)
	s.loose[t] -= q
	s.nLoose -= int(q)
	s.cable += int64(q) * a.cost[sl.place]
	sl.bundles += q
	if sl.bundles == 0 {
		sl.class = -1
	} else {
		sl.class = tk.class
	}
	if !ok {
		cost = Forbidden // only in passing: a state with such a slot is never kept
	}
	s.station += cost - sl.cost
	sl.cost = cost
}

// reprice adds q of the type to the slot's counts and returns its new cost.
func (s *state) reprice(sl *slot, a *alike, tk *typeKind, q int32) (int64, bool) {
	kind := &s.m.in.Kinds[sl.kind]
	at := 0
	for _, ref := range a.partners {
		if ref.pool[sl.kind] >= 0 {
			sl.countApart(ref.set, ref.pool[sl.kind], q)
		}
	}
	for _, pp := range tk.pools {
		j := int(pp.pool)
		g := &sl.groups[kind.Pools[j].Group]
		start := s.m.start[sl.kind][j]
		counts := sl.counts[start : int(start)+len(s.m.pools[sl.kind][j])]
		for ; at < len(tk.parts) && tk.parts[at].pool == pp.pool; at++ {
			counts[tk.parts[at].pos] += q * tk.parts[at].count
			g.LoadUA += int64(q) * tk.parts[at].load
		}
		sl.total[j] += q * pp.count
		e := s.pr.pool(int(sl.kind), j, counts, s.apart(sl, &alike{}, pp.pool, 0))
		sl.use = sl.use.Plus(e.use).Minus(sl.pool[j].use)
		g.Slots += e.use.Slots - sl.pool[j].use.Slots
		sl.pool[j] = e
	}
	sl.hash += s.m.hash(sl.kind, tk, q)
	return s.slotCost(sl)
}

// slotCost prices an open slot as it stands.
func (s *state) slotCost(sl *slot) (int64, bool) {
	cost, ok := s.m.in.Tariff.Station(int(sl.place), sl.use, sl.groups)
	extra, fine := s.learned.extra(int(sl.place), sl.hash)
	for j := range sl.pool {
		cost += sl.pool[j].cost
	}
	return cost + extra, ok && fine && cost < Forbidden
}

func (sl *slot) countApart(set, pool, q int32) {
	for i := range sl.apart {
		if c := &sl.apart[i]; c.set == set && c.pool == pool {
			c.n += q
			if c.n == 0 {
				sl.apart[i] = sl.apart[len(sl.apart)-1]
				sl.apart = sl.apart[:len(sl.apart)-1]
			}
			return
		}
	}
	sl.apart = append(sl.apart, apartCount{set, pool, q})
}

// hold keeps the two-way list of what is where.
func (s *state) hold(i int, t, q int32) {
	sl := &s.slots[i]
	for h := range s.held[t] {
		if e := &s.held[t][h]; int(e.slot) == i {
			e.qty += q
			if e.qty == 0 {
				s.held[t] = slices.Delete(s.held[t], h, h+1)
				at := slices.Index(sl.types, t)
				sl.types[at] = sl.types[len(sl.types)-1]
				sl.types = sl.types[:len(sl.types)-1]
			}
			return
		}
	}
	s.held[t] = append(s.held[t], hold{int32(i), q})
	sl.types = append(sl.types, t)
}

// in returns how many bundles of the type the slot holds.
func (s *state) in(i int, t int32) int32 {
	for _, h := range s.held[t] {
		if int(h.slot) == i {
			return h.qty
		}
	}
	return 0
}

// setOpen opens or closes an empty slot.
func (s *state) setOpen(i int, open bool) {
	sl := &s.slots[i]
	if sl.open == open {
		return
	}
	if s.logging {
		s.log = append(s.log, move{int32(i), 0, 0})
	}
	s.toggle(i)
}

func (s *state) toggle(i int) {
	sl := &s.slots[i]
	sl.open = !sl.open
	cost := int64(0)
	if sl.open {
		s.stand[sl.place]++
		s.nOpen++
		if c, ok := s.slotCost(sl); ok {
			cost = c
		} else {
			cost = Forbidden
		}
	} else {
		s.stand[sl.place]--
		s.nOpen--
	}
	s.station += cost - sl.cost
	sl.cost = cost
	s.network = s.nets.cost(s.stand)
}

// openCost returns the change of the network's cost and the cost of an empty station when the slot's place gets one more.
func (s *state) networkWith(place int32, change int) int64 {
	if s.nets == nil {
		return 0
	}
	s.stand[place] += change
	cost := s.nets.cost(s.stand)
	s.stand[place] -= change
	return cost - s.network
}

// mark starts a stretch of changes that undo takes back.
func (s *state) mark() {
	s.log = s.log[:0]
	s.logging = true
}

func (s *state) undo() {
	s.logging = false
	for i := len(s.log) - 1; i >= 0; i-- {
		m := s.log[i]
		if m.qty == 0 {
			s.toggle(int(m.slot))
		} else {
			s.apply(int(m.slot), m.typ, -m.qty)
		}
	}
	s.log = s.log[:0]
	s.logging = true
}

// closeIdle closes empty stations beyond what each place must have.
func (s *state) closeIdle() {
	for i := range s.slots {
		s.closeIfIdle(i)
	}
}

func (s *state) closeIfIdle(i int) {
	sl := &s.slots[i]
	if sl.open && sl.bundles == 0 && s.stand[sl.place] > s.m.in.Places[sl.place].Must {
		s.setOpen(i, false)
	}
}

// networks remembers what the network costs by the set of stations.
type networks struct {
	of    Network
	known map[string]int64
	key   []byte
}

func (n *networks) cost(stand []int) int64 {
	if n == nil {
		return 0
	}
	n.key = n.key[:0]
	for p, c := range stand {
		if c > 0 {
			n.key = append(n.key, byte(p), byte(p>>8), byte(c))
		}
	}
	if c, ok := n.known[string(n.key)]; ok {
		return c
	}
	c := n.of.Cost(stand)
	n.known[string(n.key)] = c
	return c
}
