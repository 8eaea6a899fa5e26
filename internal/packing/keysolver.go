package packing

import (
	"cmp"
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
	loose  bool          // a choice of dearer modules might make a cheaper group
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
			if d.Rank < t.least || d.Kept {
				continue // it would stand left of what is there, or is not to be bought
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
	exists := len(s.t.insts) > 0 || len(s.t.groups) > 0
	simple := !exists // quick holds all that can be of use by channels alone
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
	hard := exists
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
	if hard || s.loose && s.deep {
		return s.search(quick, simple, out.plans)
	}
	out.plans = prune(out.plans)
	out.complete = simple && !s.narrow() && !s.loose
	out.bound = out.plans[0].cost
	if s.loose {
		out.bound = min(out.bound, s.lower(quick))
	}
	return out
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
