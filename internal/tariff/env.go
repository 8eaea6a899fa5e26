package tariff

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Env is what the modules allowed at a place make of the project's signals. Slices are in an order
// that does not depend on the rows of a file.
type Env struct {
	Book         *Book
	Construction *hardware.Construction
	Mods         []Mod   // modules that can stand here, by code
	Types        []Type  // signals alike in every respect
	Classes      []Class // by pool, then kind, then options
	Pools        []Pool  // by module key, then lowest module code
	Groups       []Group // by group key
	TypeOf       []int   // per signal of the book; -1: no module here may carry it
	Stations     []string
	ambient      q.Temperature
	plans        memo[planList]
	offers       memo[offerList]
	tabling      sync.Mutex
	tables       []*table // per pool, made when first asked for
	notes        memo[any]
}

// Type is a set of signals that the environment treats alike in every respect.
type Type struct {
	Class   int
	Load    []q.Microamps // on the group, per option of the class
	Channel []q.Microamps // through the channel, per option of the class
	Varying bool          // Load differs between options
}

// Option is a channel set that a class may use: Mods[Mod].M.Channels[Set].
type Option struct{ Mod, Set int }

// Class is a set of signals with one module key, one kind and the same options.
type Class struct {
	Pool      int
	Kind      project.Kind
	Options   []Option // by module, then set
	Unit      q.Money  // u_c
	Surcharge q.Money  // s_c
	At        []int    // per option: its index in Pool.Options
	mask      mask     // of the pool's options
}

// Pool is a connected set of classes: those of one module key that may share modules, directly or
// through others.
type Pool struct {
	Key          fit.ModuleKey
	Group        int
	StationClass int // index into Env.Stations
	Classes      []int
	Mods         []PoolMod
	Kinds        []project.Kind // of its classes, in the order of project.Kinds
	Spare        map[project.Kind]int64
	FloorSpare   map[project.Kind]int64 // what the floor counts with: none where anything is installed
	LeastSpare   int64                  // per mille: the least of its kinds, for the floor
	Weight       q.Money                // u_j
	Signals      int                    // of the whole project
	Floor        []q.Money
	Options      []Option // channel sets that some class may use, by module, then set
	kindMask     map[project.Kind]mask
}

// PoolMod is a module of a pool.
type PoolMod struct {
	Mod      int
	Sets     []int // channel sets that some class of the pool may use
	Channels int   // in those sets: K
	Residual q.Money
	First    int // index of its first option in Pool.Options
}

// Group is a group key and what opening one of its groups costs at least.
type Group struct {
	Key     fit.GroupKey
	UPS     bool
	Pools   []int
	Opening q.Money // section "group opening" of docs/certificate.md, without what ups adds
	rim     q.Money // its labour and protection
	Ceiling q.Microamps
}

func (b *Book) newEnv(c *hardware.Construction, ambient q.Temperature) *Env {
	e := &Env{Book: b, Construction: c, ambient: ambient}
	e.gatherMods()
	e.classify()
	e.priceClasses()
	e.priceGroups()
	return e
}

// Where returns what fit needs to know of the environment.
func (e *Env) Where() fit.Where {
	off := e.Book.Off
	if len(e.Book.Kept) > 0 {
		off = maps.Clone(off)
		maps.DeleteFunc(off, func(code string, _ bool) bool { return e.Book.Kept[code] })
	}
	return fit.Where{Construction: e.Construction.Code, Ambient: e.ambient, Off: off}
}

// Why says why signal number i cannot be served here; "" if it can.
func (e *Env) Why(i int) string {
	if e.TypeOf[i] >= 0 {
		return ""
	}
	s := &e.Book.Signals[i]
	if w := fit.Why(s, &e.Book.Project.Basis, e.Book.List, e.Where(), e.Book.Chosen[i]); w != "" {
		return w
	}
	return fmt.Sprintf("the modules of construction %s that take %s have no base that suits", e.Construction.Code, fit.Describe(s))
}

// ClassOf returns the class of signal number i, -1 if no module here may carry it.
func (e *Env) ClassOf(i int) int {
	if t := e.TypeOf[i]; t >= 0 {
		return e.Types[t].Class
	}
	return -1
}

// Sets returns the channel sets that signal number i may use here.
func (e *Env) Sets(i int) []*hardware.ChannelSet {
	c := e.ClassOf(i)
	if c < 0 {
		return nil
	}
	var out []*hardware.ChannelSet
	for _, o := range e.Classes[c].Options {
		out = append(out, &e.Mods[o.Mod].M.Channels[o.Set])
	}
	return out
}

// classify finds the options of every signal and joins signals to types, classes and pools.
func (e *Env) classify() {
	b := e.Book
	e.TypeOf = make([]int, len(b.Signals))
	draft := map[string]int{} // class text -> draft class
	var keys []fit.ModuleKey
	types := map[string]int{}
	for i := range b.Signals {
		if first := b.look[i]; first != i {
			e.TypeOf[i] = e.TypeOf[first]
			continue
		}
		e.TypeOf[i] = -1
		options := e.optionsOf(i)
		if len(options) == 0 {
			continue
		}
		s := &b.Signals[i]
		text := b.key[i].String() + "|" + string(s.Kind) + "|" + fmt.Sprint(options)
		c, seen := draft[text]
		if !seen {
			c = len(e.Classes)
			draft[text] = c
			e.Classes = append(e.Classes, Class{Kind: s.Kind, Options: options})
			keys = append(keys, b.key[i])
		}
		t := e.newType(i, c)
		typeText := fmt.Sprint(c, t.Load, t.Channel)
		n, seen := types[typeText]
		if !seen {
			n = len(e.Types)
			types[typeText] = n
			e.Types = append(e.Types, t)
		}
		e.TypeOf[i] = n
	}
	e.pool(keys)
}

// optionsOf lists the channel sets that signal number i may use. Of those that suit, only those with the
// fewest flaws count, so that a module is chosen for what the signal asks and not for its price alone;
// a signal whose channel is fixed may keep it whatever its flaws.
func (e *Env) optionsOf(i int) []Option {
	b := e.Book
	w := e.Where()
	var out, kept []Option
	var least fit.Flaws
	for m := range e.Mods {
		for t := range e.Mods[m].M.Channels {
			if _, ok := fit.MayUse(&b.Signals[i], &b.Project.Basis, e.Mods[m].M, t, w, b.Chosen[i]); !ok {
				continue
			}
			if b.Told[i] {
				out = append(out, Option{m, t})
				continue
			}
			if e.Mods[m].Kept {
				kept = append(kept, Option{m, t})
				continue
			}
			flaws := fit.FlawsOf(&b.Signals[i], &b.Project.Basis, e.Mods[m].M, t, b.least)
			switch c := flaws.Compare(least); {
			case len(out) == 0 || c < 0:
				out, least = []Option{{m, t}}, flaws
			case c == 0:
				out = append(out, Option{m, t})
			}
		}
	}
	none := len(out) == 0
	for _, o := range kept { // only what is there already: no better and no worse than what may be bought
		if flaws := fit.FlawsOf(&b.Signals[i], &b.Project.Basis, e.Mods[o.Mod].M, o.Set, b.least); none || flaws.Compare(least) <= 0 {
			out = append(out, o)
		}
	}
	slices.SortFunc(out, compareOptions)
	return out
}

func (e *Env) newType(i, class int) Type {
	s := &e.Book.Signals[i]
	t := Type{Class: class}
	for _, o := range e.Classes[class].Options {
		set := &e.Mods[o.Mod].M.Channels[o.Set]
		t.Load = append(t.Load, fit.LoadOf(s, e.Book.current[i], set))
		t.Channel = append(t.Channel, fit.ChannelCurrentOf(s, e.Book.current[i], set))
		t.Varying = t.Varying || t.Load[len(t.Load)-1] != t.Load[0]
	}
	return t
}

// pool joins the classes to pools, puts both in order and fills the pools.
func (e *Env) pool(keys []fit.ModuleKey) {
	root := make([]int, len(e.Classes))
	for c := range root {
		root[c] = c
	}
	var find func(int) int
	find = func(c int) int {
		if root[c] != c {
			root[c] = find(root[c])
		}
		return root[c]
	}
	owner := map[string]int{}
	for c := range e.Classes {
		for _, o := range e.Classes[c].Options {
			text := fmt.Sprint(o.Mod, "|", keys[c])
			if first, ok := owner[text]; ok {
				root[find(c)] = find(first)
			} else {
				owner[text] = c
			}
		}
	}
	lowest := make([]int, len(e.Classes)) // per root: lowest module
	for c := range e.Classes {
		r := find(c)
		if m := e.Classes[c].Options[0].Mod; lowest[r] == 0 || m+1 < lowest[r] {
			lowest[r] = m + 1
		}
	}
	order := make([]int, len(e.Classes))
	for c := range order {
		order[c] = c
	}
	slices.SortFunc(order, func(x, y int) int {
		return cmp.Or(strings.Compare(keys[x].String(), keys[y].String()), cmp.Compare(lowest[find(x)], lowest[find(y)]),
			cmp.Compare(kindRank(e.Classes[x].Kind), kindRank(e.Classes[y].Kind)), slices.CompareFunc(e.Classes[x].Options, e.Classes[y].Options, compareOptions))
	})
	place := make([]int, len(order))
	sorted := make([]Class, len(order))
	poolOf := map[int]int{}
	for n, c := range order {
		place[c] = n
		r := find(c)
		p, ok := poolOf[r]
		if !ok {
			p = len(e.Pools)
			poolOf[r] = p
			e.Pools = append(e.Pools, Pool{Key: keys[c]})
		}
		sorted[n] = e.Classes[c]
		sorted[n].Pool = p
		e.Pools[p].Classes = append(e.Pools[p].Classes, n)
	}
	e.Classes = sorted
	for t := range e.Types {
		e.Types[t].Class = place[e.Types[t].Class]
	}
	e.fillPools()
}

func compareOptions(a, b Option) int {
	return cmp.Or(cmp.Compare(a.Mod, b.Mod), cmp.Compare(a.Set, b.Set))
}

func kindRank(k project.Kind) int { return slices.Index(project.Kinds, k) }

func (e *Env) fillPools() {
	for i := range e.TypeOf {
		if c := e.ClassOf(i); c >= 0 {
			e.Pools[e.Classes[c].Pool].Signals++
		}
	}
	groups := map[fit.GroupKey]bool{}
	stations := map[string]bool{}
	for j := range e.Pools {
		e.fillPool(&e.Pools[j])
		groups[e.Pools[j].Key.Group] = true
		stations[e.stationClass(&e.Pools[j])] = true
	}
	for k := range groups {
		e.Groups = append(e.Groups, Group{Key: k, UPS: k.Supply == "ups"})
	}
	slices.SortFunc(e.Groups, func(a, b Group) int { return a.Key.Compare(b.Key) })
	for s := range stations {
		e.Stations = append(e.Stations, s)
	}
	slices.Sort(e.Stations)
	for j := range e.Pools {
		p := &e.Pools[j]
		p.Group = slices.IndexFunc(e.Groups, func(g Group) bool { return g.Key == p.Key.Group })
		p.StationClass = slices.Index(e.Stations, e.stationClass(p))
		e.Groups[p.Group].Pools = append(e.Groups[p.Group].Pools, j)
	}
}

func (e *Env) stationClass(p *Pool) string {
	if seg := p.Key.Group.Segregate; fit.SegregationLevel(seg, &e.Book.Project.Basis) == project.LevelStation {
		return seg
	}
	return ""
}

func (e *Env) fillPool(p *Pool) {
	used := map[Option]bool{}
	for _, c := range p.Classes {
		for _, o := range e.Classes[c].Options {
			used[o] = true
		}
		if k := e.Classes[c].Kind; !slices.Contains(p.Kinds, k) {
			p.Kinds = append(p.Kinds, k)
		}
	}
	for o := range used {
		p.Options = append(p.Options, o)
	}
	slices.SortFunc(p.Options, compareOptions)
	p.Options = p.Options[:min(len(p.Options), maskBits)]
	p.kindMask = map[project.Kind]mask{}
	for n, o := range p.Options {
		if len(p.Mods) == 0 || p.Mods[len(p.Mods)-1].Mod != o.Mod {
			p.Mods = append(p.Mods, PoolMod{Mod: o.Mod, First: n})
		}
		pm := &p.Mods[len(p.Mods)-1]
		set := &e.Mods[o.Mod].M.Channels[o.Set]
		pm.Sets = append(pm.Sets, o.Set)
		pm.Channels += set.Count
		p.kindMask[set.Kind] = p.kindMask[set.Kind].with(n)
	}
	for _, c := range p.Classes {
		for _, o := range e.Classes[c].Options {
			if n, ok := slices.BinarySearchFunc(p.Options, o, compareOptions); ok {
				e.Classes[c].mask = e.Classes[c].mask.with(n)
				e.Classes[c].At = append(e.Classes[c].At, n)
			}
		}
	}
	slices.SortFunc(p.Kinds, func(a, b project.Kind) int { return cmp.Compare(kindRank(a), kindRank(b)) })
	p.Spare = map[project.Kind]int64{}
	p.FloorSpare = map[project.Kind]int64{}
	p.LeastSpare = 1 << 30
	for _, k := range p.Kinds {
		p.Spare[k] = e.Book.Project.Basis.Spare[k]
		if !e.Book.Built { // what is installed may be filled below the spare
			p.FloorSpare[k] = p.Spare[k]
		}
		p.LeastSpare = min(p.LeastSpare, p.FloorSpare[k])
	}
}

// Recall returns what a later room remembered of the environment under a key. What is remembered
// must follow from the key and the environment alone.
func (e *Env) Recall(key []byte) (any, bool) { return e.notes.get(key) }

// Remember keeps a value for Recall.
func (e *Env) Remember(key []byte, v any) { e.notes.put(key, v) }
