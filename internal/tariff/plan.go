package tariff

import (
	"encoding/binary"
	"slices"

	q "railwright/internal/quantity"
)

// Plan is a set of modules that holds the signals of one pool at one station: how many of each of
// the pool's modules. No plan of a list is worse than another in every figure.
type Plan struct {
	Counts []int // per Pool.Mods
	Cost   q.Money
	Use    Use
	Load   q.Microamps // least load of the signals; Row loads only
}

// Row is a number of signals of a pool that count alike.
type Row struct {
	Class int
	Type  int // -1: any of the class, loads not counted
	Count int
	Apart int // how many modules must suit the class (redundant partners); 0 or 1: no matter
}

// Every, as the factor of Plans, says that all figures count.
const Every = -1

// planSteps bounds the search for one list of plans.
const planSteps = 20_000

// Plans returns the plans of a pool for rows of signals, cheapest first, with the spare of each
// kind; apart is how many modules they need at least (redundant partners). The list is empty if
// they cannot be held; complete is false where the search ended at its budget. Only modules of a rank
// from rank on are used. factor says which figures count: Every, or for a factor of 0 and more only cost, rail,
// slots and the current drawn, which is supply and factor thousandths of logic.
func (e *Env) Plans(pool int, rows []Row, apart int, spare bool, rank int, factor int64) (plans []Plan, complete bool) {
	key := make([]byte, 0, 64)
	key = binary.AppendUvarint(key, uint64(pool))
	key = binary.AppendUvarint(key, uint64(max(apart, 1))<<1|b2u(spare))
	key = binary.AppendUvarint(key, uint64(rank))
	key = binary.AppendVarint(key, factor)
	for _, r := range rows {
		key = binary.AppendUvarint(key, uint64(r.Class))
		key = binary.AppendUvarint(key, uint64(r.Type+1))
		key = binary.AppendUvarint(key, uint64(r.Count))
		key = binary.AppendUvarint(key, uint64(r.Apart))
	}
	if known, ok := e.plans.get(key); ok {
		return known.plans, known.complete
	}
	s := newPlanSearch(e, pool, rows, apart, spare, rank, factor)
	s.run()
	slices.SortStableFunc(s.best, func(a, b Plan) int {
		if a.Cost != b.Cost {
			return int(max(-1, min(1, a.Cost-b.Cost)))
		}
		return slices.Compare(b.Counts, a.Counts)
	})
	known := planList{s.best, s.steps <= planSteps}
	e.plans.put(key, known)
	return known.plans, known.complete
}

type planList struct {
	plans    []Plan
	complete bool
}

func b2u(b bool) uint64 {
	if b {
		return 1
	}
	return 0
}

// Fit is the question whether modules have room for rows of signals: for each set of options that
// some of the rows are bound to, the channels needed there (the condition of Hall, over the unions
// of the rows' options).
type Fit struct {
	needs []need
	total int
}

type need struct {
	in    mask
	count int
}

// mostNeeds bounds the unions; beyond it Fit is a necessary condition only.
const mostNeeds = 1024

// NewFit returns the question for rows of a pool; spare adds the channels kept free.
func (e *Env) NewFit(pool int, rows []Row, spare bool) Fit {
	p := &e.Pools[pool]
	type part struct {
		in    mask
		count int
	}
	parts := make([]part, 0, len(rows)+len(p.Kinds))
	add := func(in mask, count int) {
		if count == 0 {
			return
		}
		for i := range parts {
			if parts[i].in == in {
				parts[i].count += count
				return
			}
		}
		parts = append(parts, part{in, count})
	}
	var perKind [8]int
	for _, r := range rows {
		add(e.Classes[r.Class].mask, r.Count)
		perKind[kindRank(e.Classes[r.Class].Kind)] += r.Count
	}
	if spare {
		for _, k := range p.Kinds {
			n := perKind[kindRank(k)]
			add(p.kindMask[k], int(q.CeilDiv(int64(n)*p.Spare[k], 1000)))
		}
	}
	var f Fit
	unions := make([]mask, 0, len(parts))
	for _, a := range parts {
		f.total += a.count
		for _, u := range append([]mask{{}}, unions...) {
			if joined := u.or(a.in); len(unions) < mostNeeds && !slices.Contains(unions, joined) {
				unions = append(unions, joined)
			}
		}
	}
	for _, u := range unions {
		n := need{in: u}
		for _, a := range parts {
			if a.in.in(u) {
				n.count += a.count
			}
		}
		f.needs = append(f.needs, n)
	}
	return f
}

// Holds reports whether free channels per option of the pool hold the rows.
func (f *Fit) Holds(free []int) bool {
	for i := range f.needs {
		n := f.needs[i].count
		for o := 0; o < len(free) && n > 0; o++ {
			if f.needs[i].in.has(o) {
				n -= free[o]
			}
		}
		if n > 0 {
			return false
		}
	}
	return true
}

// planSearch finds the plans by depth-first choice of how many of each module.
type planSearch struct {
	e       *Env
	pool    *Pool
	rows    []Row
	fit     Fit
	apart   int
	order   []int // modules, least price per channel first
	size    []int // channels of each option
	counts  []int
	free    []int
	best    []Plan
	steps   int
	floorL  q.Microamps
	varying bool
	factor  int64    // see Plans
	perK    [7]ratio // least figure per channel
}

type ratio struct{ num, den int64 }

func newPlanSearch(e *Env, pool int, rows []Row, apart int, spare bool, rank int, factor int64) *planSearch {
	p := &e.Pools[pool]
	s := &planSearch{
		e: e, pool: p, rows: rows, factor: factor, fit: e.NewFit(pool, rows, spare), apart: max(apart, 1),
		counts: make([]int, len(p.Mods)), free: make([]int, len(p.Options)), size: make([]int, len(p.Options)),
	}
	for n, o := range p.Options {
		s.size[n] = e.Mods[o.Mod].M.Channels[o.Set].Count
	}
	for m := range p.Mods {
		if d := &e.Mods[p.Mods[m].Mod]; d.Rank >= rank && !d.Kept {
			s.order = append(s.order, m)
		}
	}
	price := func(m int) int64 { return int64(e.Mods[p.Mods[m].Mod].Price) }
	slices.SortStableFunc(s.order, func(a, b int) int {
		x, y := price(a)*int64(p.Mods[b].Channels), price(b)*int64(p.Mods[a].Channels)
		return int(max(-1, min(1, x-y)))
	})
	for _, r := range rows {
		if r.Type < 0 {
			continue
		}
		t := &e.Types[r.Type]
		s.floorL += slices.Min(t.Load) * q.Microamps(r.Count)
		s.varying = s.varying || t.Varying
	}
	s.ratios()
	return s
}

func figures(cost q.Money, u Use) [7]int64 {
	return [7]int64{int64(cost), u.Slots, int64(u.Rail), int64(u.Logic), u.In, u.Out, int64(u.Supply)}
}

// figures are those that count in the search.
func (s *planSearch) figures(cost q.Money, u Use) [7]int64 {
	if s.factor == Every {
		return figures(cost, u)
	}
	return [7]int64{int64(cost), int64(u.Rail), int64(u.Supply)*1000 + int64(u.Logic)*s.factor, u.Slots}
}

func (s *planSearch) ratios() {
	for d := range s.perK {
		for n, m := range s.pool.Mods {
			v, k := s.figures(s.e.Mods[m.Mod].Price, s.e.Mods[m.Mod].Slot)[d], int64(m.Channels)
			if n == 0 || v*s.perK[d].den < s.perK[d].num*k {
				s.perK[d] = ratio{v, k}
			}
		}
	}
}

func (s *planSearch) run() {
	if s.fit.total == 0 {
		s.best = []Plan{{Counts: make([]int, len(s.counts))}}
		return
	}
	s.greedy()
	s.choose(0, Plan{}, s.fit.total, 0)
}

// greedy puts a first plan on the list, so that worse ones are cut early: only modules of one code
// where one code does, cheapest such.
func (s *planSearch) greedy() {
	s.tabled()
	for _, m := range s.order {
		pm := &s.pool.Mods[m]
		n := max((s.fit.total+pm.Channels-1)/pm.Channels, s.apart)
		s.counts[m] = n
		s.setFree(m, n)
		if s.enough() {
			s.keep(Plan{Cost: s.e.Mods[pm.Mod].Price * q.Money(n), Use: s.e.Mods[pm.Mod].Slot.Times(int64(n))})
		}
		s.counts[m] = 0
		s.setFree(m, 0)
	}
}

// mostApart is the most modules that the partners of one class ask for.
func (s *planSearch) mostApart() int {
	most := 0
	for _, r := range s.rows {
		most = max(most, r.Apart)
	}
	return most
}

// enough reports whether the modules chosen have room for the rows, and whether enough of them suit the
// classes with partners.
func (s *planSearch) enough() bool {
	for _, r := range s.rows {
		if r.Apart < 2 {
			continue
		}
		n := 0
		for m, k := range s.counts {
			if k > 0 && s.e.fits(&s.e.Classes[r.Class], &s.pool.Mods[m]) {
				n += k
			}
		}
		if n < r.Apart {
			return false
		}
	}
	return s.fit.Holds(s.free)
}

// tabled puts the cheapest selections of a few numbers of modules on the list.
func (s *planSearch) tabled() {
	counts := make([]int, len(s.pool.Classes))
	apart := make([]int, len(s.pool.Classes))
	for _, r := range s.rows {
		c := slices.Index(s.pool.Classes, r.Class)
		counts[c] += r.Count
		apart[c] = max(apart[c], r.Apart)
	}
	pool := s.e.poolIndex(s.pool)
	for least, tries := s.apart, 0; tries < 3; tries++ {
		offers, _ := s.e.Offers(pool, counts, apart, least, mostModules)
		if len(offers) == 0 {
			return
		}
		for _, o := range offers {
			s.offer(o)
		}
		least = offers[0].Modules + 1
	}
}

// offer puts a selection of modules on the list if the search may use all of them.
func (s *planSearch) offer(o Offer) {
	var p Plan
	for m, n := range o.Counts {
		if n > 0 && !slices.Contains(s.order, m) {
			clear(s.counts)
			clear(s.free)
			return
		}
		s.counts[m] = int(n)
		s.setFree(m, int(n))
		mod := &s.e.Mods[s.pool.Mods[m].Mod]
		p.Cost += mod.Price * q.Money(n)
		p.Use = p.Use.Plus(mod.Slot.Times(int64(n)))
	}
	if s.enough() {
		s.keep(p)
	}
	clear(s.counts)
	clear(s.free)
}

func (s *planSearch) setFree(m, n int) {
	pm := &s.pool.Mods[m]
	for t := range pm.Sets {
		s.free[pm.First+t] = n * s.size[pm.First+t]
	}
}

// choose decides on the modules from order[depth] on.
func (s *planSearch) choose(depth int, so Plan, left, modules int) {
	if s.steps++; s.steps > planSteps || s.hopeless(so, left) {
		return
	}
	if depth == len(s.order) {
		return
	}
	m := s.order[depth]
	pm := &s.pool.Mods[m]
	most := max(0, (left+pm.Channels-1)/pm.Channels, s.apart-modules, s.mostApart())
	if len(s.pool.Mods) > 1 {
		most = max(most, s.mostFor(m))
	}
	for n := 0; n <= most; n++ {
		s.counts[m] = n
		s.setFree(m, n)
		next := Plan{Cost: so.Cost + s.e.Mods[pm.Mod].Price*q.Money(n), Use: so.Use.Plus(s.e.Mods[pm.Mod].Slot.Times(int64(n)))}
		rest := left - n*pm.Channels
		if rest <= 0 && modules+n >= s.apart && s.enough() {
			s.keep(next)
			break // more of it only adds
		}
		if n > 0 && s.hopeless(next, rest) && rest <= 0 {
			break
		}
		s.choose(depth+1, next, rest, modules+n)
	}
	s.counts[m] = 0
	s.setFree(m, 0)
}

// mostFor returns how many of a module can be of use: enough for every need that it can serve.
func (s *planSearch) mostFor(m int) int {
	pm := &s.pool.Mods[m]
	most := 0
	for _, n := range s.fit.needs {
		size := 0
		for t := range pm.Sets {
			if n.in.has(pm.First + t) {
				size += s.size[pm.First+t]
			}
		}
		if size > 0 {
			most = max(most, (n.count+size-1)/size)
		}
	}
	return most
}

// hopeless reports whether some plan kept is at least as good as anything that can follow.
func (s *planSearch) hopeless(so Plan, left int) bool {
	f := s.figures(so.Cost, so.Use)
	if left > 0 {
		for d := range f {
			f[d] += (s.perK[d].num*int64(left) + s.perK[d].den - 1) / s.perK[d].den
		}
	}
	for i := range s.best {
		if s.noWorse(&s.best[i], f, s.floorL) {
			return true
		}
	}
	return false
}

func (s *planSearch) noWorse(p *Plan, f [7]int64, load q.Microamps) bool {
	g := s.figures(p.Cost, p.Use)
	for d := range f {
		if g[d] > f[d] {
			return false
		}
	}
	return p.Load <= load
}

// keep adds a plan and drops those that it makes needless.
func (s *planSearch) keep(p Plan) {
	p.Load = s.floorL
	if s.varying {
		p.Load, _ = s.e.LeastLoad(s.pool, s.rows, s.free)
	}
	f := s.figures(p.Cost, p.Use)
	for i := range s.best {
		if s.noWorse(&s.best[i], f, p.Load) {
			return
		}
	}
	s.best = slices.DeleteFunc(s.best, func(b Plan) bool {
		return s.noWorse(&p, s.figures(b.Cost, b.Use), b.Load)
	})
	p.Counts = slices.Clone(s.counts)
	s.best = append(s.best, p)
}

// Lack returns the needs that free channels do not meet, by index, with how many channels are
// missing; nil if the rows fit.
func (f *Fit) Lack(free []int) (needs, missing []int) {
	for i := range f.needs {
		n := f.needs[i].count
		for o := range free {
			if f.needs[i].in.has(o) {
				n -= free[o]
			}
		}
		if n > 0 {
			needs, missing = append(needs, i), append(missing, n)
		}
	}
	return needs, missing
}

// Serves reports whether option o of the pool counts for a need.
func (f *Fit) Serves(need, o int) bool { return f.needs[need].in.has(o) }

// Clone returns a copy that Take may change.
func (f *Fit) Clone() Fit { return Fit{slices.Clone(f.needs), f.total} }

// Take removes n signals of a class from the question (they have been placed); negative n puts them
// back.
func (f *Fit) Take(c *Class, n int) {
	f.total -= n
	for i := range f.needs {
		if c.mask.in(f.needs[i].in) {
			f.needs[i].count -= n
		}
	}
}

// Total is how many channels the rows and their spare ask for.
func (f *Fit) Total() int { return f.total }

// LeastUse bounds from below, figure by figure, what modules of a rank from rank on take that have so
// many channels for the pool.
func (e *Env) LeastUse(pool, channels, rank int) (least Use) {
	if channels <= 0 {
		return least
	}
	p := &e.Pools[pool]
	var best [7]int64
	first := true
	for _, m := range p.Mods {
		if e.Mods[m.Mod].Rank < rank {
			continue
		}
		for d, v := range figures(0, e.Mods[m.Mod].Slot) {
			if m.Channels < channels {
				v = (v*int64(channels) + int64(m.Channels) - 1) / int64(m.Channels)
			}
			if first || v < best[d] {
				best[d] = v
			}
		}
		first = false
	}
	return Use{best[1], q.Millimetres(best[2]), q.Microamps(best[3]), best[4], best[5], q.Microamps(best[6]), 0}
}
