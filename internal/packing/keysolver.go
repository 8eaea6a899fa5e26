package packing

import (
	"cmp"
	"encoding/binary"
	"slices"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// usualSteps is the budget for one group key where the order states none.
const usualSteps = 30_000

// keySolver finds the plans of one group key.
type keySolver struct {
	t      *keyTask
	first  bool // the key's first group is the station's first and is fed at the coupler
	mods   []kmod
	fits   []tariff.Fit // per pool task: all signals and the spare, against all channels
	plain  []tariff.Fit // per pool task: the new signals, against free channels; nil if nothing exists
	used   [][]int      // per pool task and option: channels that existing signals hold
	levels map[int][]level
	coup   []level
	steps  int64
	max    int64
	wide   bool          // find every plan that could be of use, not only the cheapest
	deep   bool          // the search does so too, where currents or partners decide
	open   q.Money       // least cost of opening one group
	cap    q.Microamps   // most load of one group
	load   q.Microamps   // least load of all new signals
	topK   []peak        // per kmod: most that signals of the key can draw on it
	rail   q.Millimetres // what new modules take at least; 0 = not known
	vague  bool          // a plan of equal cost but lower load may exist
	split  int           // groups that the partners need at least
}

// mostDeep is up to how many signals a key is searched for every plan that could be of use; above it
// the search for plans under currents and partners tries a few more than the cheapest.
const mostDeep = 12

// size counts the signals of a task.
func (t *keyTask) size() int {
	n := 0
	for i := range t.pools {
		n += signalsOf(&t.pools[i])
	}
	return n
}

// kmod is a module that new signals of the key may use.
type kmod struct {
	pool, pm, mod int // index into t.pools, Pool.Mods, Env.Mods
	price         q.Money
	channels      int
	rank          int
}

// peak is the most that signals can draw on one module: from the group, through its channels.
type peak struct{ load, channel q.Microamps }

// solution is what is known of a key.
type solution struct {
	plans    []keyPlan    // cheapest first; none worse than another in every figure
	complete bool         // every plan that could be of use is there
	bound    q.Money      // no plan costs less
	least    tariff.Total // figure by figure, no plan has less
}

func (s *keySolver) env() *tariff.Env { return s.t.env }

func (s *keySolver) each() bool {
	return s.t.env.Construction.Opening == hardware.ByEach
}

func newKeySolver(t *keyTask, first, wide bool, max int64) *keySolver {
	if max <= 0 {
		max = usualSteps
	}
	s := &keySolver{t: t, first: first, wide: wide, deep: wide && t.size() <= mostDeep, max: max, levels: map[int][]level{}, split: 1}
	e := t.env
	for n := range t.pools {
		p := &t.pools[n]
		s.load += p.load
		s.fits = append(s.fits, e.NewFit(p.pool, p.allRows(), p.spare))
		if len(t.insts) > 0 {
			s.plain = append(s.plain, e.NewFit(p.pool, p.rows, false))
		}
		s.used = append(s.used, s.usedOf(p))
		for m, pm := range e.Pools[p.pool].Mods {
			d := &e.Mods[pm.Mod]
			if d.Rank < t.least {
				continue // it would stand left of what is there
			}
			s.mods = append(s.mods, kmod{n, m, pm.Mod, d.Price, pm.Channels, d.Rank})
			s.topK = append(s.topK, s.peakOf(p, m))
		}
	}
	if first || len(t.groups) > 0 {
		s.coup = levelsOf(e, t.kind(), s.couplerPoints())
	}
	s.leastOpen()
	if t.level == project.LevelGroup {
		var all []item
		for n := range t.pools {
			all = append(all, t.pools[n].bound...)
		}
		s.split = clique(all)
	}
	return s
}

// allRows are the rows with those of the signals that existing modules hold.
func (p *poolTask) allRows() []tariff.Row {
	if len(p.old) == 0 {
		return p.rows
	}
	return append(slices.Clone(p.rows), p.old...)
}

// usedOf counts the channels that existing signals hold, per option of the pool.
func (s *keySolver) usedOf(p *poolTask) []int {
	e := s.env()
	pool := &e.Pools[p.pool]
	used := make([]int, len(pool.Options))
	for i := range s.t.insts {
		in := &s.t.insts[i]
		if in.pool != p.pool {
			continue
		}
		pm := &pool.Mods[in.pm]
		for t, set := range pm.Sets {
			used[pm.First+t] += e.Mods[in.mod].M.Channels[set].Count - in.free[t]
		}
	}
	return used
}

func (s *keySolver) couplerPoints() []tariff.Point {
	p, ok := s.env().CouplerPoint(s.t.kind())
	if !ok {
		return nil
	}
	return []tariff.Point{p}
}

// levelOf returns the steps of feeding a group whose first module is mod.
func (s *keySolver) levelOf(mod int) []level {
	if l, ok := s.levels[mod]; ok {
		return l
	}
	name := binary.AppendUvarint([]byte{'l'}, uint64(mod))
	known, ok := s.env().Recall(name)
	if !ok {
		l := levelsOf(s.env(), s.t.kind(), s.env().Mods[mod].Points)
		if s.each() { // the price holds the cheapest protection already
			for i := len(l) - 1; i >= 0; i-- {
				l[i].cost -= l[0].cost
			}
		}
		s.env().Remember(name, l)
		known = l
	}
	s.levels[mod] = known.([]level)
	return s.levels[mod]
}

// leastOpen finds the cheapest opening and the largest ceiling.
func (s *keySolver) leastOpen() {
	s.open = tariff.Forbidden
	for _, m := range s.mods {
		l := s.levelOf(m.mod)
		if len(l) == 0 {
			continue
		}
		s.open = min(s.open, l[0].cost)
		s.cap = max(s.cap, l[len(l)-1].cap)
	}
	if n := len(s.coup); n > 0 && s.first {
		s.cap = max(s.cap, s.coup[n-1].cap)
	}
	if s.open == tariff.Forbidden {
		s.open = 0
	}
	if s.each() {
		s.open = 0
	} else {
		s.open += s.env().Book.Labour.Group
	}
}

// peakOf sums the most that the signals of a pool draw on one module of it.
func (s *keySolver) peakOf(p *poolTask, m int) peak {
	e := s.env()
	pm := &e.Pools[p.pool].Mods[m]
	var out peak
	for t, set := range pm.Sets {
		size := e.Mods[pm.Mod].M.Channels[set].Count
		loads := top{left: size}
		channels := top{left: size}
		each := func(it item) {
			typ := &e.Types[it.typ]
			for o, at := range e.Classes[typ.Class].At {
				if at == pm.First+t {
					loads.add(typ.Load[o], len(it.signals))
					channels.add(typ.Channel[o], len(it.signals))
				}
			}
		}
		for _, it := range p.loose {
			each(it)
		}
		for _, it := range p.bound {
			each(it)
		}
		out.load += loads.sum()
		out.channel += channels.sum()
	}
	return out
}

// top sums the largest of values given with their number.
type top struct {
	left   int
	values []counted
}

type counted struct {
	v q.Microamps
	n int
}

func (t *top) add(v q.Microamps, n int) { t.values = append(t.values, counted{v, n}) }

func (t *top) sum() q.Microamps {
	slices.SortFunc(t.values, func(a, b counted) int { return cmp.Compare(b.v, a.v) })
	var sum q.Microamps
	for _, c := range t.values {
		n := min(c.n, t.left)
		sum += c.v * q.Microamps(n)
		t.left -= n
	}
	return sum
}

// solve returns the plans of the key and what bounds them.
//
// First it looks at the module counts alone; where currents,
// partners or existing parts decide, it searches over module counts in order of cost.
func (s *keySolver) solve() solution {
	out := s.find()
	out.least = s.leastTotal()
	if s.rail > 0 {
		out.least.Use.Rail = s.rail
	}
	if out.complete && len(out.plans) > 0 {
		least := out.plans[0].total
		for i := range out.plans[1:] {
			least = least.Least(&out.plans[1+i].total)
		}
		if s.wide {
			out.least = least
		}
		out.least.Use.Rail = least.Use.Rail
	}
	return out
}

// leastTotal bounds every figure from below by what each channel takes at least.
func (s *keySolver) leastTotal() (total tariff.Total) {
	if len(s.t.insts) > 0 || len(s.t.groups) > 0 {
		return total
	}
	e := s.env()
	for n := range s.t.pools {
		p := &s.t.pools[n]
		total.Use = total.Use.Plus(e.LeastUse(p.pool, s.fits[n].Total(), s.t.least))
	}
	load := s.load + total.Use.Supply
	total.Use.Supply = 0
	total.Add(s.t.key(), load)
	return total
}

func (s *keySolver) find() solution {
	var quick []choice
	simple := len(s.t.insts) == 0 // quick holds all that can be of use by channels alone
	if simple {
		quick, simple = s.combinations()
		if len(quick) == 0 {
			out := solution{complete: simple}
			if simple {
				out.bound = tariff.Forbidden
			}
			return out
		}
	}
	var out solution
	hard := len(s.t.insts) > 0
	if simple && !s.narrow() {
		s.rail = s.leastRail(quick)
	}
	for _, c := range quick {
		plan, ok, trivial := s.easy(c)
		if trivial && ok {
			out.plans = append(out.plans, plan)
		} else {
			hard = true
		}
	}
	if hard {
		return s.search(quick, simple, out.plans)
	}
	out.plans = prune(out.plans)
	out.complete = simple && !s.narrow()
	out.bound = out.plans[0].cost
	return out
}

// leastRail is the shortest rail of any modules that have the channels: the choices hold the shortest.
func (s *keySolver) leastRail(quick []choice) q.Millimetres {
	least := q.Millimetres(-1)
	for _, c := range quick {
		var rail q.Millimetres
		for k, n := range c.counts {
			rail += s.env().Mods[s.mods[k].mod].Slot.Rail * q.Millimetres(n)
		}
		if least < 0 || rail < least {
			least = rail
		}
	}
	return max(0, least)
}

// choice is how many of each of the solver's modules are new.
type choice struct {
	counts []int
	cost   q.Money // modules only
}

const mostCombinations = 256

// combinations joins the plans of the pools; complete is false if some were left out.
func (s *keySolver) combinations() (list []choice, complete bool) {
	list, complete = []choice{{make([]int, len(s.mods)), 0}}, true
	for n := range s.t.pools {
		p := &s.t.pools[n]
		plans, all := s.env().Plans(p.pool, p.rows, p.apart, p.spare, s.t.least, s.t.factor)
		complete = complete && all
		var next []choice
		for _, c := range list {
			for i := range plans {
				d := choice{slices.Clone(c.counts), c.cost + plans[i].Cost}
				for k, m := range s.mods {
					if m.pool == n {
						d.counts[k] = plans[i].Counts[m.pm]
					}
				}
				next = append(next, d)
			}
		}
		slices.SortStableFunc(next, func(a, b choice) int { return cmp.Compare(a.cost, b.cost) })
		if len(next) > mostCombinations {
			next, complete = next[:mostCombinations], false
		}
		list = next
	}
	return list, complete
}

// easy makes the plan of a choice where one group (one for each rank) takes it all whatever sits
// where. trivial is false where that is not sure.
func (s *keySolver) easy(c choice) (plan keyPlan, ok, trivial bool) {
	e := s.env()
	insts := s.instances(c)
	ranks, tight := 0, s.partnered()
	if tight && s.t.level == project.LevelGroup && !s.each() {
		return plan, false, false
	}
	for i := range insts {
		d := &e.Mods[insts[i].mod]
		if d.Alone {
			return plan, false, false
		}
		if k := s.kmodOf(&insts[i].inst); d.M.MaxTotal > 0 && s.topK[k].channel > d.M.MaxTotal {
			tight = true
		}
		if i == 0 || e.Mods[insts[i-1].mod].Rank != d.Rank {
			ranks++
		}
	}
	load, varying := s.leastLoad(insts)
	if tight && (varying || ranks > 1 && !s.each() || !s.seatFreely(insts)) || ranks > 1 && varying {
		return plan, false, false
	}
	if s.each() {
		return s.easyEach(insts, c)
	}
	plan.rank = e.Mods[insts[0].mod].Rank
	for i := 0; i < len(insts); {
		k := i
		for k < len(insts) && e.Mods[insts[k].mod].Rank == e.Mods[insts[i].mod].Rank {
			k++
		}
		g := planGroup{rank: e.Mods[insts[i].mod].Rank, old: -1, mods: insts[i:k:k], coupler: s.first && i == 0}
		peak := q.Microamps(0)
		for _, in := range g.mods {
			g.load += e.Mods[in.mod].M.Supply
			peak += s.topK[s.kmodOf(&in.inst)].load
		}
		if ranks == 1 {
			g.load += load
		} else {
			g.load += min(load, peak) // which rank draws what is open: only trivial if it does not matter
		}
		if !s.feed(&g) {
			return plan, false, false
		}
		cost := s.feedCost(&g)
		if ranks > 1 {
			least := g
			least.load = 0
			if !s.feed(&least) || s.feedCost(&least) != cost {
				return plan, false, false
			}
		}
		if cost > 2*s.open && !g.coupler || g.coupler && cost > s.open+s.coup[0].cost+e.Book.Labour.Group {
			return plan, false, false // two groups might be cheaper
		}
		plan.add(e, g, s.t, cost)
		i = k
	}
	if ranks > 1 {
		plan.fixLoads(s.t, load)
	}
	plan.cost += c.cost
	plan.firsts = s.first
	return plan, true, true
}

// partnered reports whether signals of the key have partners in it.
func (s *keySolver) partnered() bool {
	for n := range s.t.pools {
		if len(s.t.pools[n].bound) > 0 {
			return true
		}
	}
	return false
}

// seatFreely seats the signals for which partners or module currents matter, in groups without limit.
func (s *keySolver) seatFreely(insts []planMod) bool {
	groupOf := make([]int, len(insts))
	room := []q.Microamps{noCap}
	if s.each() {
		room = make([]q.Microamps, len(insts))
		for i := range insts {
			groupOf[i], room[i] = i, noCap
		}
	}
	_, ok, _ := s.seat(insts, groupOf, room, 0, false)
	return ok
}

// easyEach is easy for modules that are groups by themselves: trivial where the cheapest protection
// carries whatever may sit on the module.
func (s *keySolver) easyEach(insts []planMod, c choice) (plan keyPlan, ok, trivial bool) {
	e := s.env()
	load, _ := s.leastLoad(insts)
	plan.rank = e.Mods[insts[0].mod].Rank
	for i := range insts {
		d := &e.Mods[insts[i].mod]
		l := s.levelOf(insts[i].mod)
		if len(l) == 0 || l[0].cap < d.M.Supply+s.topK[s.kmodOf(&insts[i].inst)].load {
			return plan, false, false
		}
		g := planGroup{rank: d.Rank, old: -1, mods: insts[i : i+1 : i+1], load: d.M.Supply}
		if !s.feed(&g) {
			return plan, false, false
		}
		plan.add(e, g, s.t, 0)
	}
	plan.fixLoads(s.t, load)
	plan.cost += c.cost
	return plan, true, true
}

// fixLoads counts the signals' load once in the plan's total, where it is not yet known on which
// group each signal sits.
func (p *keyPlan) fixLoads(t *keyTask, load q.Microamps) {
	var total tariff.Total
	for i := range p.groups {
		own := p.groups[i].point.Use.Supply
		for _, m := range p.groups[i].mods {
			if m.slot == 0 {
				own += t.env.Mods[m.mod].M.Supply
			}
		}
		p.groups[i].load = own
		if p.groups[i].old >= 0 {
			total.AddLoad(t.key(), own)
		} else {
			total.Add(t.key(), own)
		}
	}
	total.AddLoad(t.key(), load)
	total.Use, total.ProtWidth = p.total.Use, p.total.ProtWidth
	p.total = total
}

// instances lists existing modules, then the new ones of a choice by rank, code and pool.
func (s *keySolver) instances(c choice) []planMod {
	e := s.env()
	n := len(s.t.insts)
	for _, k := range c.counts {
		n += k
	}
	out := make([]planMod, 0, n)
	for _, in := range s.t.insts {
		in.free = slices.Clone(in.free)
		out = append(out, planMod{inst: in})
	}
	old := len(out)
	for k, m := range s.mods {
		for range c.counts[k] {
			pool := &e.Pools[s.t.pools[m.pool].pool]
			in := inst{mod: m.mod, pool: s.t.pools[m.pool].pool, pm: m.pm, group: -1}
			for _, set := range pool.Mods[m.pm].Sets {
				in.free = append(in.free, e.Mods[m.mod].M.Channels[set].Count)
			}
			out = append(out, planMod{inst: in})
		}
	}
	slices.SortStableFunc(out[old:], func(a, b planMod) int {
		return cmp.Or(cmp.Compare(e.Mods[a.mod].Rank, e.Mods[b.mod].Rank), cmp.Compare(a.mod, b.mod), cmp.Compare(a.pool, b.pool))
	})
	return out
}

func (s *keySolver) kmodOf(in *inst) int {
	return slices.IndexFunc(s.mods, func(m kmod) bool { return m.mod == in.mod && s.t.pools[m.pool].pool == in.pool })
}

// leastLoad is the least load of all signals on the modules; varying reports whether it depends on
// which module carries them.
func (s *keySolver) leastLoad(insts []planMod) (q.Microamps, bool) {
	e := s.env()
	load, varying := s.load, false
	for n := range s.t.pools {
		p := &s.t.pools[n]
		if !slices.ContainsFunc(p.rows, func(r tariff.Row) bool { return r.Type >= 0 }) {
			continue
		}
		varying = true
		sum, _ := e.LeastLoad(&e.Pools[p.pool], p.rows, s.freeOf(n, insts))
		for _, r := range p.rows { // rows of no type are in p.load already
			if r.Type >= 0 {
				load -= slices.Min(e.Types[r.Type].Load) * q.Microamps(r.Count)
			}
		}
		load += sum
	}
	return load, varying
}

// freeOf sums the free channels per option of a pool.
func (s *keySolver) freeOf(n int, insts []planMod) []int {
	e := s.env()
	pool := s.t.pools[n].pool
	free := make([]int, len(e.Pools[pool].Options))
	for i := range insts {
		if insts[i].pool != pool {
			continue
		}
		first := e.Pools[pool].Mods[insts[i].pm].First
		for t, f := range insts[i].free {
			free[first+t] += f
		}
	}
	return free
}

// add counts a group in the plan.
func (p *keyPlan) add(e *tariff.Env, g planGroup, t *keyTask, cost q.Money) {
	for _, m := range g.mods {
		if m.slot == 0 {
			p.total.Use = p.total.Use.Plus(e.Mods[m.mod].Slot)
		}
	}
	p.total.Use = p.total.Use.Plus(g.point.Use)
	p.total.Use.Supply = 0
	if g.prot != nil {
		p.total.ProtWidth += g.prot.Width
	}
	p.total.Add(t.key(), g.load)
	p.groups = append(p.groups, g)
	p.cost += cost
}

// feed chooses infeed point and protection of a group for its load. The load grows by what an
// infeed module draws itself. ok is false where nothing feeds it.
func (s *keySolver) feed(g *planGroup) bool {
	e := s.env()
	points := s.couplerPoints()
	if !g.coupler {
		g.first = firstOf(e, g.mods)
		if g.first < 0 {
			return false
		}
		points = e.Mods[g.mods[g.first].mod].Points
	} else if slices.ContainsFunc(g.mods, func(m planMod) bool { return e.Mods[m.mod].Alone }) {
		return false
	}
	point, prot, _, ok := e.Open(points, s.t.kind(), g.load)
	if !ok {
		return false
	}
	g.point, g.prot = point, prot
	g.load += point.Use.Supply
	return true
}

// firstOf returns the module that opens the group: the one that no through base carries, else the
// first by code that can stand on an infeed base; -1 where there is none.
func firstOf(e *tariff.Env, mods []planMod) int {
	first := -1
	for i := range mods {
		d := &e.Mods[mods[i].mod]
		switch {
		case d.Alone && first >= 0 && e.Mods[mods[first].mod].Alone:
			return -1
		case d.Alone && len(d.Points) > 0:
			first = i
		case first < 0 && len(d.Points) > 0:
			first = i
		}
	}
	return first
}

// feedCost is what feeding a group costs beyond its modules' price.
func (s *keySolver) feedCost(g *planGroup) q.Money {
	e := s.env()
	if s.each() {
		return g.prot.Price + s.env().Book.Labour.Group + e.Mods[g.mods[0].mod].M.Price + e.Book.Labour.Module - e.Mods[g.mods[0].mod].Price
	}
	return g.point.Extra + g.prot.Price + e.Book.Labour.Group
}

// prune drops plans that are worse than another in every figure and sorts the rest by cost.
func prune(plans []keyPlan) []keyPlan {
	slices.SortStableFunc(plans, func(a, b keyPlan) int { return cmp.Compare(a.cost, b.cost) })
	kept := plans[:0:0]
	for i := range plans {
		worse := false
		for k := range kept {
			if kept[k].rank == plans[i].rank && kept[k].total.NoWorse(&plans[i].total) {
				worse = true
				break
			}
		}
		if !worse {
			kept = append(kept, plans[i])
		}
	}
	return kept
}
