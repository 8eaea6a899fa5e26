package packing

import (
	"cmp"
	"container/heap"
	"encoding/binary"
	"slices"

	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// search finds the cheapest plan of a key where currents, partners or existing parts decide. It
// goes through module counts in order of a lower bound of their cost; each that has the channels is
// tried for the cheapest way to part it into groups. quick are choices to begin with, have are plans
// known to be right. counted says that quick holds the cheapest modules by channels alone, so that they
// bound every plan.
func (s *keySolver) search(quick []choice, counted bool, have []keyPlan) solution {
	out := solution{plans: have, bound: tariff.Forbidden, complete: s.deep}
	if s.hopeless() {
		return solution{complete: true, bound: tariff.Forbidden}
	}
	best := func() q.Money {
		least := tariff.Forbidden
		for i := range out.plans {
			least = min(least, out.plans[i].cost)
		}
		return least
	}
	if counted && !s.deep {
		if lower := s.lower(quick); s.tryQuick(&out, quick, lower) {
			out.plans = prune(out.plans)
			out.bound = lower
			return out
		}
	}
	start := choice{counts: make([]int, len(s.mods))}
	if len(quick) > 0 {
		start = quick[0]
	}
	if plan, ok := s.fill(start); ok {
		out.plans = append(out.plans, plan)
	}
	if s.wide && !s.deep {
		for _, c := range quick[:min(len(quick), mostTried)] {
			if plan, ok, _ := s.evaluate(c, tariff.Forbidden); ok {
				out.plans = append(out.plans, plan)
			}
		}
	}
	f := &frontier{seen: map[string]bool{}}
	s.push(f, choice{counts: make([]int, len(s.mods))})
	for f.Len() > 0 {
		n := heap.Pop(f).(node)
		if n.bound >= best() {
			out.bound = min(out.bound, n.bound)
			if !s.deep {
				break
			}
		}
		if s.deep && s.worse(n, out.plans) {
			continue
		}
		if s.steps++; s.steps > s.max {
			out.bound = min(out.bound, n.bound)
			out.complete = false
			break
		}
		pool, need, lacks := s.lack(n.choice)
		if lacks {
			for k, m := range s.mods {
				if m.pool == pool && s.serves(k, need) {
					s.push(f, s.with(n.choice, k))
				}
			}
			continue
		}
		limit := tariff.Forbidden
		if !s.deep {
			limit = best()
		}
		plan, ok, exact := s.evaluate(n.choice, limit)
		if ok {
			out.plans = append(out.plans, plan)
		}
		if !exact {
			out.bound = min(out.bound, n.bound)
			out.complete = false
		}
		for k := range s.mods {
			s.push(f, s.with(n.choice, k))
		}
	}
	if len(out.plans) == 0 {
		return out
	}
	if s.vague || s.loose && !s.deep || s.varies() {
		out.complete = false
	}
	out.plans = prune(out.plans)
	out.bound = min(out.bound, out.plans[0].cost)
	return out
}

// worse reports whether a plan is known that is at least as good in every figure as any plan with at
// least the node's modules.
func (s *keySolver) worse(n node, plans []keyPlan) bool {
	e := s.env()
	var least tariff.Total
	load := s.load
	rank, ranks := -1, 0
	for k, count := range n.counts {
		if count == 0 {
			continue
		}
		d := &e.Mods[s.mods[k].mod]
		use := d.Slot.Times(int64(count))
		load += use.Supply
		use.Supply = 0
		least.Use = least.Use.Plus(use)
		if s.mods[k].rank != rank {
			rank, ranks = s.mods[k].rank, ranks+1
		}
	}
	for g := range s.newGroups(n.choice) {
		if g == 0 {
			least.Add(s.t.key(), load)
		} else {
			least.Add(s.t.key(), 0)
		}
	}
	coupler := e.Construction.CouplerFeeds
	for i := range plans {
		if plans[i].cost <= n.bound && plans[i].total.NoWorse(&least) && (!coupler || ranks <= 1 && plans[i].rank == rank) {
			return true
		}
	}
	return false
}

// lower is the least that any plan costs, where quick holds the cheapest modules by channels alone.
func (s *keySolver) lower(quick []choice) q.Money {
	groups := max(1, s.newGroups(choice{counts: make([]int, len(s.mods))}))
	return quick[0].cost + s.groupsCost(groups)
}

// tryQuick tries the cheapest choices by channels alone, as long as their cost is below what is
// known; it reports whether a plan is found that nothing can beat.
func (s *keySolver) tryQuick(out *solution, quick []choice, lower q.Money) bool {
	least := tariff.Forbidden
	for i := range out.plans {
		least = min(least, out.plans[i].cost)
	}
	for _, c := range quick[:min(len(quick), mostTried)] {
		if least <= lower {
			return true
		}
		if s.bound(c) >= least {
			continue
		}
		if plan, ok, _ := s.evaluate(c, least); ok {
			out.plans = append(out.plans, plan)
			least = plan.cost
		}
	}
	return least <= lower
}

// mostTried is how many choices of modules are tried beyond the cheapest for a large key.
const mostTried = 12

// hopeless reports whether some signal fits on no module at all, even alone.
func (s *keySolver) hopeless() bool {
	e := s.env()
	for n := range s.t.pools {
		p := &s.t.pools[n]
		for _, list := range [][]item{p.loose, p.bound} {
			for _, it := range list {
				if !s.sits(it.typ, p.pool, e) {
					return true
				}
			}
		}
	}
	return false
}

func (s *keySolver) sits(typ, pool int, e *tariff.Env) bool {
	t := &e.Types[typ]
	class := &e.Classes[t.Class]
	for i, at := range class.At {
		o := e.Pools[pool].Options[at]
		d := &e.Mods[o.Mod]
		if d.M.MaxTotal > 0 && t.Channel[i] > d.M.MaxTotal {
			continue
		}
		cap := s.cap // of any group of the key: another module may open it
		for _, g := range s.t.groups {
			cap = max(cap, g.cap)
		}
		if t.Load[i]+d.M.Supply <= cap {
			return true
		}
	}
	return false
}

// frontier is the queue of module counts, least bound first, then by counts.
type frontier struct {
	nodes []node
	seen  map[string]bool
}

type node struct {
	choice
	bound q.Money
}

func (f *frontier) Len() int { return len(f.nodes) }
func (f *frontier) Less(i, j int) bool {
	a, b := &f.nodes[i], &f.nodes[j]
	return cmp.Or(cmp.Compare(a.bound, b.bound), slices.Compare(b.counts, a.counts)) < 0
}
func (f *frontier) Swap(i, j int) { f.nodes[i], f.nodes[j] = f.nodes[j], f.nodes[i] }
func (f *frontier) Push(x any)    { f.nodes = append(f.nodes, x.(node)) }
func (f *frontier) Pop() any {
	n := f.nodes[len(f.nodes)-1]
	f.nodes = f.nodes[:len(f.nodes)-1]
	return n
}

func (s *keySolver) with(c choice, k int) choice {
	d := choice{slices.Clone(c.counts), c.cost + s.mods[k].price}
	d.counts[k]++
	return d
}

func (s *keySolver) push(f *frontier, c choice) {
	var key []byte
	for _, n := range c.counts {
		key = binary.AppendUvarint(key, uint64(n))
	}
	if f.seen[string(key)] {
		return
	}
	f.seen[string(key)] = true
	if sum(c.counts) > s.mostModules() {
		return
	}
	heap.Push(f, node{c, s.bound(c)})
}

// varies reports whether a dearer feeding might lower loads or rail, which the search does not weigh:
// where loads depend on the module, or an infeed point is narrower than what it replaces.
func (s *keySolver) varies() bool {
	for n := range s.t.pools {
		for _, r := range s.t.pools[n].rows {
			if r.Type >= 0 {
				return true
			}
		}
	}
	return s.narrow()
}

// narrow reports whether opening a group can make the rail shorter.
func (s *keySolver) narrow() bool {
	for _, m := range s.mods {
		for _, p := range s.env().Mods[m.mod].Points {
			if p.Use.Rail < 0 {
				return true
			}
		}
	}
	return false
}

// mostModules is how many new modules can be of use: each carries a signal or spare.
func (s *keySolver) mostModules() int {
	most := 0
	for n := range s.fits {
		most += s.fits[n].Total()
	}
	if k := s.env().Construction.MaxSlots; k > 0 {
		most = min(most, k)
	}
	return most
}

// bound is the least that any plan costs which has at least these modules.
func (s *keySolver) bound(c choice) q.Money {
	total := c.cost
	free := s.freeChannels(c)
	for n := range s.t.pools {
		needs, missing := s.fits[n].Lack(s.plus(n, free[n]))
		var most q.Money
		for i := range needs {
			least := tariff.Forbidden
			for k, m := range s.mods {
				if m.pool == n {
					if size := s.sizeFor(k, needs[i]); size > 0 {
						least = min(least, q.Money(int64(m.price)*int64(missing[i])/int64(size)))
					}
				}
			}
			most = max(most, least)
		}
		total += most
	}
	return total + s.openings(c)
}

// openings is the least that the new groups of a choice cost.
func (s *keySolver) openings(c choice) q.Money { return s.groupsCost(s.newGroups(c)) }

// newGroups is the least number of new groups that a choice needs.
func (s *keySolver) newGroups(c choice) int {
	ranks := map[int]bool{}
	load := s.load
	modules, alone := 0, 0
	for k, n := range c.counts {
		if n > 0 {
			ranks[s.mods[k].rank] = true
			d := &s.env().Mods[s.mods[k].mod]
			load += d.M.Supply * q.Microamps(n)
			modules += n
			if d.Alone {
				alone += n
			}
		}
	}
	if s.each() {
		return modules
	}
	groups := len(ranks)
	for _, g := range s.t.groups {
		load -= g.cap - g.load
	}
	if s.cap > 0 && load > 0 {
		groups = max(groups, int(q.CeilDiv(int64(load), int64(s.cap))))
	}
	if len(s.t.groups) == 0 {
		groups = max(groups, s.split, alone)
	} else if s.t.grow >= 0 && groups > 0 {
		groups-- // new modules may join the last group
	}
	return groups
}

// freeChannels sums, per pool task, the free channels per option that a choice has.
func (s *keySolver) freeChannels(c choice) [][]int {
	e := s.env()
	out := make([][]int, len(s.t.pools))
	for n := range s.t.pools {
		pool := &e.Pools[s.t.pools[n].pool]
		out[n] = make([]int, len(pool.Options))
		for i := range s.t.insts {
			in := &s.t.insts[i]
			if in.pool == s.t.pools[n].pool {
				for t, f := range in.free {
					out[n][pool.Mods[in.pm].First+t] += f
				}
			}
		}
	}
	for k, count := range c.counts {
		if count == 0 {
			continue
		}
		m := s.mods[k]
		pm := &e.Pools[s.t.pools[m.pool].pool].Mods[m.pm]
		for t, set := range pm.Sets {
			out[m.pool][pm.First+t] += count * e.Mods[m.mod].M.Channels[set].Count
		}
	}
	return out
}

// lack returns a pool and a need of it that the choice does not meet; need is -1 where only the
// number of modules is short.
func (s *keySolver) lack(c choice) (pool, need int, lacks bool) {
	free := s.freeChannels(c)
	for n := range s.t.pools {
		if needs, _ := s.fits[n].Lack(s.plus(n, free[n])); len(needs) > 0 {
			return n, needs[0], true
		}
		if len(s.plain) > 0 && !s.plain[n].Holds(free[n]) {
			return n, -1, true
		}
		modules := 0
		for k, m := range s.mods {
			if m.pool == n {
				modules += c.counts[k]
			}
		}
		for i := range s.t.insts {
			if s.t.insts[i].pool == s.t.pools[n].pool {
				modules++
			}
		}
		if modules < s.t.pools[n].apart {
			return n, -1, true
		}
	}
	return 0, 0, false
}

// plus adds the channels that existing signals hold.
func (s *keySolver) plus(n int, free []int) []int {
	if len(s.plain) == 0 {
		return free
	}
	out := slices.Clone(free)
	for o, u := range s.used[n] {
		out[o] += u
	}
	return out
}

func (s *keySolver) serves(k, need int) bool { return need < 0 || s.sizeFor(k, need) > 0 }

// sizeFor is how many channels of one module count for a need of its pool.
func (s *keySolver) sizeFor(k, need int) int {
	e := s.env()
	m := s.mods[k]
	pm := &e.Pools[s.t.pools[m.pool].pool].Mods[m.pm]
	size := 0
	for t, set := range pm.Sets {
		if s.fits[m.pool].Serves(need, pm.First+t) {
			size += e.Mods[m.mod].M.Channels[set].Count
		}
	}
	return size
}
