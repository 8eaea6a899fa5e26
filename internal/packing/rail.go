package packing

import (
	"cmp"
	"slices"

	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// railGroup is a supply group in its place on the rail.
type railGroup struct {
	planGroup
	task *keyTask
}

// onRail puts the new groups of the picked plans in order: by rank, then group key, then ordinal.
// Existing groups keep their places and are not in the list.
func onRail(tasks []keyTask, picks []*keyPlan) (fresh, old []railGroup) {
	for k, p := range picks {
		for _, g := range p.groups {
			g.mods = slices.Clone(g.mods)
			for i := range g.mods {
				g.mods[i].free = slices.Clone(g.mods[i].free)
				g.mods[i].hard = slices.Clone(g.mods[i].hard)
			}
			if g.old >= 0 {
				old = append(old, railGroup{g, &tasks[k]})
			} else {
				fresh = append(fresh, railGroup{g, &tasks[k]})
			}
		}
	}
	slices.SortStableFunc(fresh, func(a, b railGroup) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.task.group, b.task.group))
	})
	for i := range fresh {
		fresh[i].order()
	}
	return fresh, old
}

// order puts the module that opens the group first.
func (g *railGroup) order() {
	if g.first > 0 && !g.coupler {
		m := g.mods[g.first]
		copy(g.mods[1:g.first+1], g.mods[:g.first])
		g.mods[0] = m
		g.first = 0
	}
}

// seatAll places the signals that are not settled yet on the modules of their pools: in order of
// equipment and tag onto the modules from left to right, so that like stands with like.
func seatAll(env *tariff.Env, t *keyTask, groups []*railGroup) {
	for n := range t.pools {
		p := &t.pools[n]
		s := &seater{env: env, pool: p.pool, settled: map[int]bool{}}
		for _, g := range groups {
			for i := range g.mods {
				m := &g.mods[i]
				for _, x := range m.hard {
					s.settled[x.signal] = true
				}
				if m.pool == p.pool {
					s.mods = append(s.mods, m)
				}
			}
		}
		s.run(p)
	}
}

// seater places the loose signals of one pool.
type seater struct {
	env     *tariff.Env
	pool    int
	mods    []*planMod
	settled map[int]bool
	fit     tariff.Fit
	free    []int // per option
}

func (s *seater) run(p *poolTask) {
	var left []int
	counts := map[tariff.Row]int{}
	varying := false
	pool := &s.env.Pools[s.pool]
	for _, it := range p.loose {
		typ := &s.env.Types[it.typ]
		row := tariff.Row{Class: typ.Class, Type: it.typ}
		for _, i := range it.signals {
			if !s.settled[i] {
				left = append(left, i)
				counts[row]++
				varying = varying || typ.Varying
			}
		}
	}
	if len(left) == 0 {
		return
	}
	rows := make([]tariff.Row, 0, len(counts))
	for r, n := range counts {
		r.Count = n
		rows = append(rows, r)
	}
	slices.SortFunc(rows, func(a, b tariff.Row) int { return cmp.Or(cmp.Compare(a.Class, b.Class), cmp.Compare(a.Type, b.Type)) })
	slices.SortFunc(left, func(a, b int) int { return compareSignals(s.env.Book, a, b) })
	s.free = make([]int, len(pool.Options))
	for _, m := range s.mods {
		for t, f := range m.free {
			s.free[pool.Mods[m.pm].First+t] += f
		}
	}
	if varying {
		s.byQuota(rows, left)
		return
	}
	s.fit = s.env.NewFit(s.pool, rows, false)
	s.byOrder(left)
}

// byQuota places the signals as the least load asks.
func (s *seater) byQuota(rows []tariff.Row, left []int) {
	pool := &s.env.Pools[s.pool]
	_, quota := s.env.LeastLoad(pool, rows, s.free)
	for _, m := range s.mods {
		pm := &pool.Mods[m.pm]
		for t := range pm.Sets {
			left = slices.DeleteFunc(left, func(i int) bool {
				r := slices.IndexFunc(rows, func(r tariff.Row) bool { return r.Type == s.env.TypeOf[i] })
				if m.free[t] == 0 || quota[r][pm.First+t] == 0 {
					return false
				}
				quota[r][pm.First+t]--
				m.free[t]--
				m.hard = append(m.hard, seat{pm.Sets[t], i})
				return true
			})
		}
	}
}

// byOrder fills module after module; a signal is passed over where taking it would leave another
// without a channel, and an equipment that a fresh module would hold is not torn apart while there
// is room to spare.
func (s *seater) byOrder(left []int) {
	for k, m := range s.mods {
		fresh := 0
		for _, o := range s.mods[k+1:] {
			fresh = max(fresh, sum(o.free))
		}
		used := len(m.hard) > 0
		for x := 0; x < len(left); {
			if sum(m.free) == 0 {
				break
			}
			if used && s.tears(left, x, m, fresh) {
				break
			}
			if !s.take(m, left[x]) {
				x++
				continue
			}
			used = true
			left = slices.Delete(left, x, x+1)
		}
		first := s.env.Pools[s.pool].Mods[m.pm].First
		for t, f := range m.free {
			s.free[first+t] -= f
		}
	}
}

func sum(list []int) int {
	n := 0
	for _, v := range list {
		n += v
	}
	return n
}

// tears reports whether signal x begins an equipment that the module cannot hold whole, a later one
// can, and all signals still find room if the rest of this module stays free.
func (s *seater) tears(left []int, x int, m *planMod, fresh int) bool {
	b := s.env.Book
	name := b.Signals[left[x]].Equipment
	if name == "" || len(m.hard) > 0 && b.Signals[m.hard[len(m.hard)-1].signal].Equipment == name {
		return false
	}
	size := 0
	for _, i := range left[x:] {
		if b.Signals[i].Equipment == name {
			size++
		}
	}
	if size <= sum(m.free) || size > fresh {
		return false
	}
	first := s.env.Pools[s.pool].Mods[m.pm].First
	for t, f := range m.free {
		s.free[first+t] -= f
	}
	ok := s.fit.Holds(s.free)
	for t, f := range m.free {
		s.free[first+t] += f
	}
	return ok
}

// take seats a signal on the module if the others still fit.
func (s *seater) take(m *planMod, i int) bool {
	class := &s.env.Classes[s.env.ClassOf(i)]
	pm := &s.env.Pools[s.pool].Mods[m.pm]
	for t := range pm.Sets {
		if m.free[t] == 0 {
			continue
		}
		if _, ok := slices.BinarySearch(class.At, pm.First+t); !ok {
			continue
		}
		m.free[t]--
		s.free[pm.First+t]--
		s.fit.Take(class, 1)
		if s.fit.Holds(s.free) {
			m.hard = append(m.hard, seat{pm.Sets[t], i})
			return true
		}
		m.free[t]++
		s.free[pm.First+t]++
		s.fit.Take(class, -1)
	}
	return false
}

// loadOf is what the seated signals of a module and, if it is new, the module itself draw.
func loadOf(env *tariff.Env, m *planMod) q.Microamps {
	var load q.Microamps
	if m.slot == 0 {
		load = env.Mods[m.mod].M.Supply
	}
	for _, x := range m.hard {
		load += signalLoad(env, m, x)
	}
	return load
}

func signalLoad(env *tariff.Env, m *planMod, x seat) q.Microamps {
	t := &env.Types[env.TypeOf[x.signal]]
	for i, o := range env.Classes[t.Class].Options {
		if o.Mod == m.mod && o.Set == x.set {
			return t.Load[i]
		}
	}
	return 0
}
