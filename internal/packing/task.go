package packing

import (
	"cmp"
	"slices"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// keyTask is the part of a station that one group key makes: keys share no module and no group, so
// each is solved alone and the results are joined.
type keyTask struct {
	env    *tariff.Env
	group  int // index into Env.Groups
	only   int // the one pool of the task where pools are solved apart; -1 = all of the group's
	pools  []poolTask
	insts  []inst     // modules that exist already, in order of slot
	groups []oldGroup // groups that exist already
	grow   int        // index into groups of the one that new modules may join; -1 = none
	level  project.Level
	factor int64 // see tariff.Env.Plans
	least  int   // rank of the last module on the rail: new ones stand at its right
}

// poolTask is the signals of one pool that are still to be placed.
type poolTask struct {
	pool  int
	rows  []tariff.Row // for the module count
	bound []item       // signals with a partner in this key, one each
	loose []item       // the others by type
	apart int          // modules that the partners need at least
	load  q.Microamps  // least load of all signals
	spare bool         // the spare is asked for
	held  int          // signals that existing modules hold
	old   []tariff.Row // signals that existing modules hold: they count for the spare
}

// item is a number of signals that are alike.
type item struct {
	typ      int
	signals  []int // by equipment, tag
	partners []int // signals of this key that must not share its module (or group)
}

// inst is one module.
type inst struct {
	mod   int // index into Env.Mods
	pool  int // -1: not yet known (an existing module without signals)
	pm    int // index into Pool.Mods
	group int // index into keyTask.groups; -1 = new
	slot  int // slot number of an existing module; 0 = new
	free  []int
	sum   q.Microamps // channel currents that existing signals draw
	holds []int       // existing signals
}

// oldGroup is a supply group that exists.
type oldGroup struct {
	rank    int
	cap     q.Microamps // most load
	load    q.Microamps // of existing modules and signals
	points  []tariff.Point
	coupler bool
}

// newTasks parts the signals by group key, in the order of the keys. sorted gives each signal's
// place in the order of equipment and tag.
func newTasks(env *tariff.Env, signals []int) []keyTask {
	b := env.Book
	level := fit.RedundancyLevel(&b.Project.Basis)
	var tasks []keyTask
	for _, i := range signals {
		pool := env.Classes[env.ClassOf(i)].Pool
		g := env.Pools[pool].Group
		only := -1 // where every module is a group by itself, pools have nothing in common
		if env.Construction.Opening == hardware.ByEach {
			only = pool
		}
		at, ok := slices.BinarySearchFunc(tasks, [2]int{g, only}, func(t keyTask, g [2]int) int {
			return cmp.Or(cmp.Compare(t.group, g[0]), cmp.Compare(t.only, g[1]))
		})
		if !ok {
			tasks = slices.Insert(tasks, at, keyTask{env: env, group: g, only: only, grow: -1, level: level})
		}
		t := &tasks[at]
		n, ok := slices.BinarySearchFunc(t.pools, pool, func(p poolTask, pool int) int { return cmp.Compare(p.pool, pool) })
		if !ok {
			t.pools = slices.Insert(t.pools, n, poolTask{pool: pool, spare: true, apart: 1})
		}
		t.pools[n].add(env, i)
	}
	for k := range tasks {
		tasks[k].linkPartners(signals)
		for n := range tasks[k].pools {
			tasks[k].pools[n].finish(env)
		}
	}
	return tasks
}

func (p *poolTask) add(env *tariff.Env, signal int) {
	typ := env.TypeOf[signal]
	at, ok := slices.BinarySearchFunc(p.loose, typ, func(it item, t int) int { return cmp.Compare(it.typ, t) })
	if !ok {
		p.loose = slices.Insert(p.loose, at, item{typ: typ})
	}
	p.loose[at].signals = append(p.loose[at].signals, signal)
}

// linkPartners moves the signals whose partners matter in this key to items of their own.
func (t *keyTask) linkPartners(signals []int) {
	b := t.env.Book
	any := false
	for _, i := range signals {
		any = any || len(b.Partners[i]) > 0
	}
	if !any {
		return
	}
	here := map[int]int{} // signal -> pool
	for _, p := range t.pools {
		for _, it := range p.loose {
			for _, i := range it.signals {
				here[i] = p.pool
			}
		}
	}
	for _, in := range t.insts {
		for _, i := range in.holds {
			here[i] = in.pool
		}
	}
	for _, p := range t.pools {
		for _, it := range p.bound {
			here[it.signals[0]] = p.pool
		}
	}
	for n := range t.pools {
		p := &t.pools[n]
		partners := func(i int) (mine []int) {
			for _, o := range b.Partners[i] {
				if pool, ok := here[o]; ok && (pool == p.pool || t.level == project.LevelGroup) {
					mine = append(mine, o)
				}
			}
			return mine
		}
		for k := range p.bound {
			p.bound[k].partners = partners(p.bound[k].signals[0])
		}
		for k := range p.loose {
			it := &p.loose[k]
			it.signals = slices.DeleteFunc(it.signals, func(i int) bool {
				mine := partners(i)
				if len(mine) == 0 {
					return false
				}
				p.bound = append(p.bound, item{typ: it.typ, signals: []int{i}, partners: mine})
				return true
			})
		}
		p.loose = slices.DeleteFunc(p.loose, func(it item) bool { return len(it.signals) == 0 })
		p.apart = max(1, clique(p.bound))
	}
}

// clique returns a lower bound on how many modules the partners need: the largest set found of
// items that are all partners of each other, grown from each item in turn.
func clique(bound []item) int {
	most := 1
	for i := range bound {
		set := []int{bound[i].signals[0]}
		for k := range bound {
			s := bound[k].signals[0]
			all := true
			for _, m := range set {
				all = all && m != s && slices.Contains(bound[k].partners, m)
			}
			if all {
				set = append(set, s)
			}
		}
		most = max(most, len(set))
	}
	return most
}

// spread notes in the rows how many modules the partners of each class need.
func (p *poolTask) spread(env *tariff.Env) {
	byClass := map[int][]item{}
	for _, it := range p.bound {
		c := env.Types[it.typ].Class
		byClass[c] = append(byClass[c], it)
	}
	for i := range p.rows {
		p.rows[i].Apart = clique(byClass[p.rows[i].Class])
	}
}

// finish orders the signals and makes the rows: signals of a class that draw the same wherever
// they sit are one row, and their load is known.
func (p *poolTask) finish(env *tariff.Env) {
	order := func(a, b int) int { return compareSignals(env.Book, a, b) }
	for k := range p.loose {
		slices.SortFunc(p.loose[k].signals, order)
	}
	slices.SortFunc(p.bound, func(a, b item) int { return order(a.signals[0], b.signals[0]) })
	p.rows, p.load = p.rows[:0], 0
	count := func(it item) {
		typ := &env.Types[it.typ]
		p.load += slices.Min(typ.Load) * q.Microamps(len(it.signals))
		row := tariff.Row{Class: typ.Class, Type: -1, Count: len(it.signals)}
		if typ.Varying {
			row.Type = it.typ
		}
		at, ok := slices.BinarySearchFunc(p.rows, row, func(a, b tariff.Row) int {
			return cmp.Or(cmp.Compare(a.Class, b.Class), cmp.Compare(a.Type, b.Type))
		})
		if ok {
			p.rows[at].Count += row.Count
		} else {
			p.rows = slices.Insert(p.rows, at, row)
		}
	}
	defer p.spread(env)
	for _, it := range p.loose {
		count(it)
	}
	for _, it := range p.bound {
		count(it)
	}
}

// compareSignals orders like with like: equipment, tag, then id.
func compareSignals(b *tariff.Book, x, y int) int {
	s, t := &b.Signals[x], &b.Signals[y]
	return cmp.Or(cmp.Compare(s.Equipment, t.Equipment), cmp.Compare(s.Tag, t.Tag), cmp.Compare(s.ID, t.ID))
}
