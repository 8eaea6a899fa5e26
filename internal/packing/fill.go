package packing

import (
	"cmp"
	"slices"

	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// mostFill bounds how many modules fill adds.
const mostFill = 300

// fill makes some plan quickly: signals by falling load onto the first module and group that has
// room, modules added where there is none. It gives the search something to beat.
func (s *keySolver) fill(start choice) (keyPlan, bool) {
	c := choice{slices.Clone(start.counts), start.cost}
	for range mostFill {
		if pool, need, lacks := s.lack(c); lacks {
			k := s.cheapest(func(k int) bool { return s.mods[k].pool == pool && s.serves(k, need) })
			if k < 0 {
				return keyPlan{}, false
			}
			c = s.with(c, k)
			continue
		}
		plan, typ, ok := s.fillChoice(c)
		if ok {
			return plan, true
		}
		k := s.cheapest(func(k int) bool { return s.takes(k, typ) })
		if k < 0 {
			return keyPlan{}, false
		}
		c = s.with(c, k)
	}
	return keyPlan{}, false
}

// cheapest returns the module of least price per channel among those wanted, -1 if none is.
func (s *keySolver) cheapest(want func(int) bool) int {
	best := -1
	for k, m := range s.mods {
		if want(k) && (best < 0 || int64(m.price)*int64(s.mods[best].channels) < int64(s.mods[best].price)*int64(m.channels)) {
			best = k
		}
	}
	return best
}

// takes reports whether module k can carry a signal of the type when it is empty.
func (s *keySolver) takes(k, typ int) bool {
	e := s.env()
	t := &e.Types[typ]
	class := &e.Classes[t.Class]
	m := s.mods[k]
	if s.t.pools[m.pool].pool != class.Pool {
		return false
	}
	d := &e.Mods[m.mod]
	for i, at := range class.At {
		if e.Pools[class.Pool].Options[at].Mod != m.mod || d.M.MaxTotal > 0 && t.Channel[i] > d.M.MaxTotal {
			continue
		}
		if t.Load[i]+d.M.Supply <= s.cap {
			return true
		}
	}
	return false
}

// filler is the state of one quick fill: a placer whose groups are opened on the way.
type filler struct {
	*placer
	s     *keySolver
	caps  []q.Microamps // left in each group
	ranks []int
}

// fillChoice seats all signals on the modules of a choice; typ is the type of a signal that found no
// room.
func (s *keySolver) fillChoice(c choice) (plan keyPlan, typ int, ok bool) {
	insts := s.clone(s.instances(c))
	groupOf := make([]int, len(insts))
	f := &filler{s: s}
	for _, g := range s.t.groups {
		f.caps = append(f.caps, g.cap-g.load)
		f.ranks = append(f.ranks, g.rank)
	}
	for i := range insts {
		groupOf[i] = insts[i].group // -1: not yet in a group
	}
	room := make([]q.Microamps, len(insts)+len(s.t.groups)+1)
	zero := make([]int, len(insts))
	f.placer = newPlacer(s, insts, zero, room, true)
	f.groupOf = groupOf
	loads := slices.Clone(f.caps)
	for k := range f.items {
		it := &f.items[k]
		for range it.size {
			w := f.seatOne(k)
			if w < 0 {
				return plan, it.typ, false
			}
		}
	}
	for i := range insts { // modules that nobody needed still stand somewhere
		if groupOf[i] < 0 && !f.join(i, 0, nil) {
			return plan, f.items[0].typ, false
		}
	}
	f.collect()
	groups := len(f.caps)
	out := make([]q.Microamps, groups)
	for g := range groups {
		start := s.capOf(g, loads)
		out[g] = start - f.caps[g]
	}
	coupler := -1
	if s.first && len(s.t.groups) == 0 {
		coupler = s.couplerGroup(insts, groupOf, groups, out)
		if coupler < 0 {
			return plan, f.items[0].typ, false
		}
	}
	for g := len(s.t.groups); g < groups; g++ {
		if !s.feedable(insts, groupOf, g, out[g], g == coupler) {
			return plan, f.items[0].typ, false
		}
	}
	return s.assemble(c, insts, groupOf, groups, coupler, out), 0, true
}

// capOf is the load that group g could carry at first.
func (s *keySolver) capOf(g int, old []q.Microamps) q.Microamps {
	if g < len(old) {
		return old[g]
	}
	return s.fillCap()
}

// fillCap is the load that fill gives a new group: what every one can carry.
func (s *keySolver) fillCap() q.Microamps {
	cap := s.cap
	for _, m := range s.mods {
		if l := s.levelOf(m.mod); len(l) > 0 {
			cap = min(cap, l[len(l)-1].cap)
		}
	}
	if l := s.coup; s.first && len(l) > 0 {
		cap = min(cap, l[len(l)-1].cap)
	}
	return cap
}

// couplerGroup picks the group that the coupler feeds: of the least rank, the one whose opening
// costs most otherwise; all have loads that the coupler carries.
func (s *keySolver) couplerGroup(insts []planMod, groupOf []int, groups int, loads []q.Microamps) int {
	best, saved := -1, q.Money(-1)
	for _, g := range s.firstGroups(insts, groupOf, groups) {
		if !s.feedable(insts, groupOf, g, loads[g], true) {
			continue
		}
		var mods []planMod
		for i := range insts {
			if groupOf[i] == g {
				mods = append(mods, insts[i])
			}
		}
		own := planGroup{mods: mods, load: loads[g], old: -1}
		cost := tariff.Forbidden
		if s.feed(&own) {
			cost = s.feedCost(&own)
		}
		if cost > saved {
			best, saved = g, cost
		}
	}
	return best
}

func (s *keySolver) feedable(insts []planMod, groupOf []int, g int, load q.Microamps, coupler bool) bool {
	var mods []planMod
	for i := range insts {
		if groupOf[i] == g {
			mods = append(mods, insts[i])
		}
	}
	group := planGroup{mods: mods, load: load, coupler: coupler, old: -1}
	return s.feed(&group)
}

// seatOne seats one signal of item k on the first way with room; it returns the way or -1. Modules
// that stand in a group already come first, then fresh ones.
func (f *filler) seatOne(k int) int {
	it := &f.items[k]
	order := make([]int, len(it.ways))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(b2i(f.groupOf[it.ways[a].inst] < 0), b2i(f.groupOf[it.ways[b].inst] < 0))
	})
	for _, j := range order {
		w := it.ways[j]
		in := &f.insts[w.inst]
		if in.free[w.t] == 0 || w.channel > 0 && f.chRoom[w.inst] < w.channel {
			continue
		}
		if f.groupOf[w.inst] < 0 {
			if len(it.partners) > 0 && f.clash(it, w.inst) || !f.join(w.inst, w.load, it.partners) {
				continue
			}
		}
		g := f.groupOf[w.inst]
		if f.caps[g] < w.load || len(it.partners) > 0 && f.clash(it, w.inst) {
			continue
		}
		f.move(k, j, 1)
		if !f.fits[it.pool].Holds(f.free[it.pool]) {
			f.move(k, j, -1)
			continue
		}
		f.caps[g] -= w.load
		return j
	}
	return -1
}

// join puts a fresh module into the first group of its rank that has room for it and a load, or a
// new one.
func (f *filler) join(i int, load q.Microamps, partners []int) bool {
	d := &f.s.env().Mods[f.insts[i].mod]
	need := d.M.Supply + load
	if !f.s.each() && !d.Alone {
		for g := range f.caps {
			if f.ranks[g] == d.Rank && f.caps[g] >= need && (g >= len(f.s.t.groups) || g == f.s.t.grow) && !f.meets(g, partners) {
				f.groupOf[i] = g
				f.caps[g] -= d.M.Supply
				return true
			}
		}
	}
	if f.s.fillCap() < need {
		return false
	}
	f.groupOf[i] = len(f.caps)
	f.caps = append(f.caps, f.s.fillCap()-d.M.Supply)
	f.ranks = append(f.ranks, d.Rank)
	return true
}

// collect writes the seats into the modules.
func (f *filler) collect() {
	next := make([]int, len(f.items))
	for _, m := range f.stack {
		it := &f.items[m.item]
		w := it.ways[m.way]
		in := &f.insts[w.inst]
		set := f.s.env().Pools[in.pool].Mods[in.pm].Sets[w.t]
		for range m.n {
			in.hard = append(in.hard, seat{set, it.signals[next[m.item]]})
			next[m.item]++
		}
	}
}

// meets reports whether the group holds a partner that must not share it.
func (f *filler) meets(g int, partners []int) bool {
	if f.s.t.level != project.LevelGroup {
		return false
	}
	for i := range f.on {
		if f.groupOf[i] == g && slices.ContainsFunc(f.on[i], func(x int) bool { return slices.Contains(partners, x) }) {
			return true
		}
	}
	return false
}
