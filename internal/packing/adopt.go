package packing

import (
	"cmp"
	"slices"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/tariff"
)

// adopt gives the existing groups to the tasks of their keys. A group without signals goes to the
// key that can make most use of its modules.
func (a *attempt) adopt(left []int) {
	env := a.place.Env
	for g := range a.exists.groups {
		if run := &a.exists.groups[g]; run.known {
			run.task = a.taskOf(run)
			a.holdPools(run)
		}
	}
	for g := range a.exists.groups {
		if run := &a.exists.groups[g]; !run.known {
			run.key, run.task = a.guessKey(run, a.kindOf(run))
		}
	}
	a.sortTasks()
	rank := 0
	for i := range a.exists.slots {
		rank = max(rank, a.rankOf(a.exists.slots[i].module))
	}
	for k := range a.tasks {
		a.tasks[k].least = rank
	}
	for g := range a.exists.groups {
		a.adoptGroup(g)
	}
	for k := range a.tasks {
		a.tasks[k].linkPartners(slices.Concat(left, a.heldSignals()))
		for n := range a.tasks[k].pools {
			p := &a.tasks[k].pools[n]
			p.finish(env)
			a.spareOf(&a.tasks[k], p)
		}
	}
}

// taskOf finds the task that an existing group belongs to, and makes it where only existing signals
// have that key; -1 if none can have it.
func (a *attempt) taskOf(run *oldRun) int {
	env := a.place.Env
	only := -1
	if env.Construction.Opening == hardware.ByEach {
		c := env.ClassOf(a.exists.slots[run.first-1].used[0].Signal)
		if c < 0 {
			return -1
		}
		only = env.Classes[c].Pool
	}
	if k := slices.IndexFunc(a.tasks, func(t keyTask) bool { return t.key() == run.key && t.only == only }); k >= 0 {
		return k
	}
	at := slices.IndexFunc(env.Groups, func(o tariff.Group) bool { return o.Key == run.key })
	if at < 0 {
		return -1
	}
	a.tasks = append(a.tasks, keyTask{env: env, group: at, only: only, grow: -1, level: fit.RedundancyLevel(&env.Book.Project.Basis)})
	return len(a.tasks) - 1
}

// holdPools makes sure that the task of an existing group has the pools of its signals, and counts them.
func (a *attempt) holdPools(run *oldRun) {
	if run.task < 0 {
		return
	}
	env, t := a.place.Env, &a.tasks[run.task]
	for n := run.first; n <= run.last; n++ {
		for _, c := range a.exists.slots[n-1].used {
			k := env.ClassOf(c.Signal)
			if k < 0 || env.Pools[env.Classes[k].Pool].Group != t.group || t.only >= 0 && t.only != env.Classes[k].Pool {
				continue
			}
			pool := env.Classes[k].Pool
			at, ok := slices.BinarySearchFunc(t.pools, pool, func(p poolTask, pool int) int { return cmp.Compare(p.pool, pool) })
			if !ok {
				t.pools = slices.Insert(t.pools, at, poolTask{pool: pool, spare: true, apart: 1})
			}
			t.pools[at].held++
		}
	}
}

func (a *attempt) sortTasks() {
	order := make([]int, len(a.tasks))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(x, y int) int {
		return cmp.Or(cmp.Compare(a.tasks[x].group, a.tasks[y].group), cmp.Compare(a.tasks[x].only, a.tasks[y].only))
	})
	sorted := make([]keyTask, len(order))
	at := make([]int, len(order))
	for n, k := range order {
		sorted[n], at[k] = a.tasks[k], n
	}
	a.tasks = sorted
	for g := range a.exists.groups {
		if k := a.exists.groups[g].task; k >= 0 {
			a.exists.groups[g].task = at[k]
		}
	}
}

func (a *attempt) heldSignals() (out []int) {
	for i := range a.exists.slots {
		for _, c := range a.exists.slots[i].used {
			out = append(out, c.Signal)
		}
	}
	return out
}

func (a *attempt) rankOf(m *hardware.Module) int {
	if m.Infeed {
		return 0
	}
	return max(0, slices.Index(a.place.Env.Construction.Order, m.Rank))
}

// guessKey finds the key, and its task, for a group of which no signal is known.
func (a *attempt) guessKey(run *oldRun, kind string) (fit.GroupKey, int) {
	best, key, task := 0, fit.GroupKey{Voltage: kind, Supply: "normal", Function: "any"}, -1
	for k := range a.tasks {
		t := &a.tasks[k]
		if t.kind() != kind {
			continue
		}
		use := 0
		for n := run.first; n <= run.last; n++ {
			if p, _ := a.poolFor(t, a.exists.slots[n-1].module); p >= 0 {
				use += signalsOf(&t.pools[p])
			}
		}
		if use > best {
			best, key, task = use, t.key(), k
		}
	}
	return key, task
}

func signalsOf(p *poolTask) int {
	n := len(p.bound) + p.held
	for _, it := range p.loose {
		n += len(it.signals)
	}
	return n
}

// poolFor returns the pool of the task that can make most use of a module, and its index there.
func (a *attempt) poolFor(t *keyTask, m *hardware.Module) (pool, pm int) {
	best, bestPM := -1, -1
	for n := range t.pools {
		p := &a.place.Env.Pools[t.pools[n].pool]
		at := slices.IndexFunc(p.Mods, func(x tariff.PoolMod) bool { return a.place.Env.Mods[x.Mod].M == m })
		if at >= 0 && (best < 0 || signalsOf(&t.pools[n]) > signalsOf(&t.pools[best])) {
			best, bestPM = n, at
		}
	}
	return best, bestPM
}

// adoptGroup makes an existing group known to the task of its key.
func (a *attempt) adoptGroup(g int) {
	env, run := a.place.Env, &a.exists.groups[g]
	a.exists.total.Add(run.key, run.load)
	if run.prot != nil {
		a.exists.total.ProtWidth += run.prot.Width
	}
	if run.task < 0 {
		return
	}
	t := &a.tasks[run.task]
	old := oldGroup{load: run.load, points: []tariff.Point{run.point}, coupler: run.coupler, cap: run.load}
	if l := levelsOf(env, a.kindOf(run), old.points); len(l) > 0 {
		old.cap = l[len(l)-1].cap
	}
	if run.prot != nil {
		old.cap = fit.Ceiling(run.point.Bus, &env.Book.Project.Basis)
		if old.cap == 0 || run.prot.Rating < old.cap {
			old.cap = run.prot.Rating
		}
	}
	run.local = len(t.groups)
	for n := run.first; n <= run.last; n++ {
		s := &a.exists.slots[n-1]
		old.rank = a.rankOf(s.module)
		if s.module.Infeed {
			old.rank = t.least
			continue
		}
		a.adoptModule(t, s, n, run.local)
	}
	if g == len(a.exists.groups)-1 && env.Construction.Opening != hardware.ByEach {
		t.grow = run.local
	}
	t.groups = append(t.groups, old)
}

// adoptModule makes an existing module known to the pool that uses it.
func (a *attempt) adoptModule(t *keyTask, s *oldSlot, slot, group int) {
	env := a.place.Env
	pool, pm := -1, -1
	for _, c := range s.used {
		if k := env.ClassOf(c.Signal); k >= 0 && pool < 0 {
			p := env.Classes[k].Pool
			if at := slices.IndexFunc(env.Pools[p].Mods, func(x tariff.PoolMod) bool { return env.Mods[x.Mod].M == s.module }); at >= 0 {
				pool, pm = p, at
			}
		}
	}
	if pool >= 0 && !slices.ContainsFunc(t.pools, func(p poolTask) bool { return p.pool == pool }) {
		return // built against the rules of sharing: nothing is added there
	}
	if n, at := a.poolFor(t, s.module); pool < 0 && n >= 0 && len(s.used) == 0 {
		pool, pm = t.pools[n].pool, at
	}
	if pool < 0 {
		return
	}
	p := &t.pools[slices.IndexFunc(t.pools, func(p poolTask) bool { return p.pool == pool })]
	in := inst{mod: env.Pools[pool].Mods[pm].Mod, pool: pool, pm: pm, group: group, slot: slot}
	for _, set := range env.Pools[pool].Mods[pm].Sets {
		free := s.module.Channels[set].Count
		for _, c := range s.used {
			if c.Set == set {
				free--
			}
		}
		in.free = append(in.free, free)
	}
	for _, c := range s.used {
		in.holds = append(in.holds, c.Signal)
		in.sum += fit.ChannelCurrentOf(&env.Book.Signals[c.Signal], env.Book.Current(c.Signal), &s.module.Channels[c.Set])
		if k := env.ClassOf(c.Signal); k >= 0 && env.Classes[k].Pool == pool {
			p.addOld(k)
		}
	}
	t.insts = append(t.insts, in)
}

func (p *poolTask) addOld(class int) {
	for i := range p.old {
		if p.old[i].Class == class {
			p.old[i].Count++
			return
		}
	}
	p.old = append(p.old, tariff.Row{Class: class, Type: -1, Count: 1})
	slices.SortFunc(p.old, func(a, b tariff.Row) int { return cmp.Compare(a.Class, b.Class) })
}

// spareOf drops the demand for spare where what is built has room for all that is new: that is what
// the spare was kept for.
func (a *attempt) spareOf(t *keyTask, p *poolTask) {
	env := a.place.Env
	pool := &env.Pools[p.pool]
	free := make([]int, len(pool.Options))
	built := false
	for i := range t.insts {
		in := &t.insts[i]
		if in.pool != p.pool || !a.exists.slots[in.slot-1].Built {
			continue
		}
		built = true
		for k, f := range in.free {
			free[pool.Mods[in.pm].First+k] += f
		}
	}
	if !built {
		return
	}
	f := env.NewFit(p.pool, p.rows, false)
	p.spare = !f.Holds(free)
}
