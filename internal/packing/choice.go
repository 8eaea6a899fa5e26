package packing

import (
	"cmp"
	"slices"

	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

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
