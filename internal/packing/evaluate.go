package packing

import (
	"container/heap"
	"slices"

	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// mostPartitions bounds how many ways of parting modules into groups are tried for one choice.
const mostPartitions = 400

// evaluate finds the cheapest way to part the modules of a choice into groups and to seat the
// signals, if it is below limit. exact is false where the budget or the number of partitions ended
// the search.
func (s *keySolver) evaluate(c choice, limit q.Money) (best keyPlan, ok, exact bool) {
	insts := s.instances(c)
	exact = true
	tried := 0
	top := len(insts) + len(s.t.groups)
	if s.each() {
		top = len(s.t.groups) + len(insts)
	}
	for groups := len(s.t.groups); groups <= top; groups++ {
		least := c.cost + s.groupsCost(groups-len(s.t.groups))
		if least >= limit {
			break
		}
		s.partitions(insts, groups, func(groupOf []int) bool {
			if tried++; groupOf == nil || tried > mostPartitions {
				exact = false
				return false
			}
			plan, found, sure := s.arrange(c, insts, groupOf, groups, limit)
			exact = exact && sure
			if found && plan.cost < limit {
				best, ok, limit = plan, true, plan.cost
			}
			return least < limit
		})
		if s.steps > s.max || tried > mostPartitions {
			break
		}
	}
	return best, ok, exact
}

// groupsCost is the least that n new groups cost.
func (s *keySolver) groupsCost(n int) q.Money {
	if s.each() || n <= 0 {
		return 0
	}
	total := q.Money(n) * s.open
	if s.first && len(s.coup) > 0 {
		total += min(0, s.coup[0].cost+s.env().Book.Labour.Group-s.open)
	}
	return total
}

// partitions calls do for every way to part the instances into exactly so many groups (existing
// groups first), until do returns false. Modules of one group have one rank; alike neighbours are
// tried in one order only.
func (s *keySolver) partitions(insts []planMod, groups int, do func([]int) bool) {
	e := s.env()
	groupOf := make([]int, len(insts))
	old := len(s.t.groups)
	rankOf := make([]int, 0, groups)
	for i := range s.t.groups {
		rankOf = append(rankOf, s.t.groups[i].rank)
	}
	var choose func(i int) bool
	choose = func(i int) bool {
		if s.steps++; s.steps > s.max {
			do(nil)
			return false
		}
		if i == len(insts) {
			return len(rankOf) != groups || do(groupOf)
		}
		if len(insts)-i < groups-len(rankOf) {
			return true
		}
		in := &insts[i]
		if in.slot > 0 {
			groupOf[i] = in.group
			return choose(i + 1)
		}
		rank := e.Mods[in.mod].Rank
		from := 0
		if i > 0 && insts[i-1].slot == 0 && insts[i-1].mod == in.mod && insts[i-1].pool == in.pool {
			from = groupOf[i-1]
		}
		if s.each() {
			from = len(rankOf)
		}
		for g := from; g < len(rankOf); g++ {
			if rankOf[g] != rank || g < old && g != s.t.grow {
				continue
			}
			groupOf[i] = g
			if !choose(i + 1) {
				return false
			}
		}
		if len(rankOf) == groups {
			return true
		}
		groupOf[i] = len(rankOf)
		rankOf = append(rankOf, rank)
		ok := choose(i + 1)
		rankOf = rankOf[:len(rankOf)-1]
		return ok
	}
	choose(0)
}

// arrange finds the cheapest feeding of the groups of one partition that lets all signals sit.
// Where the first group is the coupler's, each new group of the least rank is tried as the first.
func (s *keySolver) arrange(c choice, insts []planMod, groupOf []int, groups int, limit q.Money) (best keyPlan, ok, exact bool) {
	exact = true
	firsts := []int{-1}
	if s.first && len(s.t.groups) == 0 {
		firsts = s.firstGroups(insts, groupOf, groups)
	}
	for _, f := range firsts {
		plan, found, sure := s.feedAll(c, insts, groupOf, groups, f, limit)
		exact = exact && sure
		if found && plan.cost < limit {
			best, ok, limit = plan, true, plan.cost
		}
	}
	return best, ok, exact
}

func (s *keySolver) firstGroups(insts []planMod, groupOf []int, groups int) (out []int) {
	least := 1 << 30
	rank := make([]int, groups)
	for i := range insts {
		rank[groupOf[i]] = s.env().Mods[insts[i].mod].Rank
		least = min(least, rank[groupOf[i]])
	}
	for g := range groups {
		if rank[g] == least {
			out = append(out, g)
		}
	}
	return out
}

// feedAll tries the steps of the groups' feeding in order of their cost.
func (s *keySolver) feedAll(c choice, insts []planMod, groupOf []int, groups, coupler int, limit q.Money) (keyPlan, bool, bool) {
	parts := make([][]planMod, groups)
	for i := range insts {
		parts[groupOf[i]] = append(parts[groupOf[i]], insts[i])
	}
	steps := make([][]level, groups)
	for g := range groups {
		if steps[g] = s.stepsOf(g, parts[g], g == coupler); len(steps[g]) == 0 {
			return keyPlan{}, false, true
		}
	}
	load, varying := s.leastLoad(insts)
	for i := range insts {
		load += s.newSupply(&insts[i].inst)
	}
	exact := true
	w := &ways{seen: map[string]bool{}}
	w.push(steps, make([]int, groups))
	for w.Len() > 0 {
		way := heap.Pop(w).(feedWay)
		if c.cost+way.cost >= limit {
			break
		}
		if s.steps++; s.steps > s.max {
			return keyPlan{}, false, false
		}
		room := make([]q.Microamps, groups)
		var all q.Microamps
		for g := range groups {
			room[g] = steps[g][way.at[g]].cap
			all += min(room[g], noCap/64)
		}
		if all >= load {
			seats := s.clone(insts)
			loads, found, sure := s.seat(seats, groupOf, room, load, varying)
			exact = exact && sure
			if found {
				return s.assemble(c, seats, groupOf, groups, coupler, loads), true, true
			}
		}
		for g := range groups {
			if way.at[g]+1 < len(steps[g]) {
				at := slices.Clone(way.at)
				at[g]++
				w.push(steps, at)
			}
		}
	}
	return keyPlan{}, false, exact
}

func (s *keySolver) clone(insts []planMod) []planMod {
	out := slices.Clone(insts)
	for i := range out {
		out[i].free = slices.Clone(out[i].free)
		out[i].hard = nil
	}
	return out
}

// stepsOf returns the steps of feeding one group: load caps and what they cost.
func (s *keySolver) stepsOf(g int, mods []planMod, coupler bool) []level {
	e := s.env()
	if g < len(s.t.groups) {
		if slices.ContainsFunc(mods, func(m planMod) bool { return m.slot == 0 && e.Mods[m.mod].Alone }) {
			return nil // no base carries it on behind another
		}
		old := &s.t.groups[g]
		return []level{{old.cap - old.load, 0}}
	}
	alone := 0
	for i := range mods {
		if e.Mods[mods[i].mod].Alone {
			alone++
		}
	}
	var from []level
	switch {
	case coupler && alone == 0:
		from = s.coup
	case coupler || alone > 1:
		return nil
	default:
		first := firstOf(e, mods)
		if first < 0 {
			return nil
		}
		from = s.levelOf(mods[first].mod)
	}
	if s.each() {
		return from
	}
	out := slices.Clone(from)
	for i := range out {
		out[i].cost += e.Book.Labour.Group
	}
	return out
}

// seat places the signals with the groups' caps. Where nothing can bind it leaves them to be placed
// later, like with like, and says what the groups then draw.
func (s *keySolver) seat(insts []planMod, groupOf []int, room []q.Microamps, load q.Microamps, varying bool) (loads []q.Microamps, ok, exact bool) {
	bound, all := false, false
	for n := range s.t.pools {
		bound = bound || len(s.t.pools[n].bound) > 0
	}
	peaks := make([]q.Microamps, len(room))
	for i := range insts {
		p := s.peakOfInst(&insts[i])
		peaks[groupOf[i]] += p.load + s.newSupply(&insts[i].inst)
		if m := s.env().Mods[insts[i].mod].M; m.MaxTotal > 0 && insts[i].sum+p.channel > m.MaxTotal {
			all = true
		}
	}
	for g := range room {
		if peaks[g] > room[g] && (len(room) > 1 || load > room[g]) {
			all = true
		}
	}
	all = all || varying && bound
	if !all && !bound {
		if len(room) == 1 {
			return []q.Microamps{load}, true, true
		}
		return nil, true, true
	}
	p := newPlacer(s, insts, groupOf, room, all)
	loads, ok, exact = p.run()
	if ok && all {
		for i := range insts {
			loads[groupOf[i]] += s.newSupply(&insts[i].inst)
		}
		return loads, true, true
	}
	return nil, ok, exact
}

// peakOfInst is the most that new signals can draw on an instance.
func (s *keySolver) peakOfInst(in *planMod) peak {
	if k := s.kmodOf(&in.inst); k >= 0 {
		return s.topK[k]
	}
	for n := range s.t.pools {
		if s.t.pools[n].pool == in.pool {
			return s.peakOf(&s.t.pools[n], in.pm)
		}
	}
	return peak{}
}

// assemble makes the plan of a seated arrangement. loads are what the groups draw, nil if that is
// only known once all signals are placed.
func (s *keySolver) assemble(c choice, insts []planMod, groupOf []int, groups, coupler int, loads []q.Microamps) keyPlan {
	e := s.env()
	plan := keyPlan{cost: c.cost, rank: 1 << 30, firsts: s.first}
	out := make([]planGroup, groups)
	for i := range insts {
		g := &out[groupOf[i]]
		g.mods = append(g.mods, insts[i])
		g.rank = e.Mods[insts[i].mod].Rank
		if loads == nil {
			g.load += s.newSupply(&insts[i].inst)
		}
	}
	for g := range out {
		out[g].old = -1
		if loads != nil {
			out[g].load = loads[g]
		}
		if g < len(s.t.groups) {
			out[g].old = g
			out[g].rank = s.t.groups[g].rank
			plan.addOld(e, s.t, &out[g])
			continue
		}
		out[g].coupler = g == coupler
		plan.rank = min(plan.rank, out[g].rank)
		s.feed(&out[g])
		plan.add(e, out[g], s.t, s.feedCost(&out[g]))
	}
	if loads == nil {
		load, _ := s.leastLoad(insts)
		plan.fixLoads(s.t, load)
	}
	slices.SortStableFunc(plan.groups, func(a, b planGroup) int {
		if a.old >= 0 || b.old >= 0 {
			return b2i(a.old < 0) - b2i(b.old < 0)
		}
		if a.rank != b.rank {
			return a.rank - b.rank
		}
		return b2i(b.coupler) - b2i(a.coupler)
	})
	return plan
}

// addOld counts what new signals and modules add to an existing group.
func (p *keyPlan) addOld(e *tariff.Env, t *keyTask, g *planGroup) {
	for _, m := range g.mods {
		if m.slot == 0 {
			p.total.Use = p.total.Use.Plus(e.Mods[m.mod].Slot)
		}
	}
	p.total.Use.Supply = 0
	p.total.AddLoad(t.key(), g.load)
	p.groups = append(p.groups, *g)
}

// ways is the queue of feeding steps, cheapest first.
type ways struct {
	list []feedWay
	seen map[string]bool
}

type feedWay struct {
	at   []int
	cost q.Money
}

func (w *ways) push(steps [][]level, at []int) {
	key := make([]byte, len(at))
	var cost q.Money
	for g, n := range at {
		key[g] = byte(n)
		cost += steps[g][n].cost
	}
	if w.seen[string(key)] {
		return
	}
	w.seen[string(key)] = true
	heap.Push(w, feedWay{at, cost})
}

func (w *ways) Len() int { return len(w.list) }
func (w *ways) Less(i, j int) bool {
	if w.list[i].cost != w.list[j].cost {
		return w.list[i].cost < w.list[j].cost
	}
	return slices.Compare(w.list[i].at, w.list[j].at) < 0
}
func (w *ways) Swap(i, j int) { w.list[i], w.list[j] = w.list[j], w.list[i] }
func (w *ways) Push(x any)    { w.list = append(w.list, x.(feedWay)) }
func (w *ways) Pop() any {
	n := w.list[len(w.list)-1]
	w.list = w.list[:len(w.list)-1]
	return n
}
