package tariff

import (
	"encoding/binary"
	"slices"

	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Offer is a way to hold signals of one pool: so many modules of the least cost, and what they take.
type Offer struct {
	Modules int
	Cost    q.Money
	Use     Use
}

// table finds the cheapest modules for any counts of a pool's signals. Modules have room for signals
// exactly if, for every union of the classes' channel sets, the channels in it are enough for the
// signals bound to it and the spare (the condition of Hall); each such union is a dimension. Rooms add
// up module by module, so the useful selections of k modules are found among the useful ones of k-1
// with one more.
type table struct {
	dims    []dimension
	rooms   [][]int32 // per PoolMod: channels in each dimension
	levels  [][]selection
	widest  int // levels beyond it are not exact; 0 = all are
	highest []int32
}

// dimension is a union of channel sets of one kind and the classes bound to it.
type dimension struct {
	kind    project.Kind
	in      mask
	classes []int // positions in Pool.Classes
	whole   bool  // all sets of the kind: the spare counts here
}

// selection is a set of modules that no other of as many modules beats in room and cost.
type selection struct {
	room []int32
	cost q.Money
	use  Use
}

// mostSelections bounds a level; a pool that needs more is answered by its floor.
const mostSelections = 1000

// mostModules is the most modules of one pool that a station can have; no construction has more slots.
const mostModules = 256

func (e *Env) newTable(p *Pool) *table {
	t := &table{}
	for _, k := range p.Kinds {
		t.dims = append(t.dims, e.dimensions(p, k)...)
	}
	for m := range p.Mods {
		room := make([]int32, len(t.dims))
		for d := range t.dims {
			for i, set := range p.Mods[m].Sets {
				if t.dims[d].in.has(p.Mods[m].First + i) {
					room[d] += int32(e.Mods[p.Mods[m].Mod].M.Channels[set].Count)
				}
			}
		}
		t.rooms = append(t.rooms, room)
	}
	all := make([]int, len(p.Classes))
	for i := range e.TypeOf {
		if c := e.ClassOf(i); c >= 0 && e.Classes[c].Pool == e.poolIndex(p) {
			all[slices.Index(p.Classes, c)]++
		}
	}
	t.highest = t.need(p, all)
	t.levels = [][]selection{{{room: make([]int32, len(t.dims))}}}
	return t
}

func (e *Env) poolIndex(p *Pool) int { return e.Classes[p.Classes[0]].Pool }

// dimensions returns the unions of the channel sets of the pool's classes of a kind.
func (e *Env) dimensions(p *Pool, k project.Kind) []dimension {
	var unions []mask
	for _, c := range p.Classes {
		if e.Classes[c].Kind != k {
			continue
		}
		for _, u := range append([]mask{{}}, unions...) {
			if joined := u.or(e.Classes[c].mask); len(unions) < mostNeeds && !slices.Contains(unions, joined) {
				unions = append(unions, joined)
			}
		}
	}
	if all := p.kindMask[k]; !slices.Contains(unions, all) {
		unions = append(unions, all)
	}
	var out []dimension
	for _, u := range unions {
		d := dimension{kind: k, in: u, whole: p.kindMask[k].in(u)}
		for i, c := range p.Classes {
			if e.Classes[c].Kind == k && e.Classes[c].mask.in(u) {
				d.classes = append(d.classes, i)
			}
		}
		out = append(out, d)
	}
	return out
}

// need returns how many channels the counts ask for in each dimension.
func (t *table) need(p *Pool, counts []int) []int32 {
	out := make([]int32, len(t.dims))
	for d := range t.dims {
		n := 0
		for _, c := range t.dims[d].classes {
			n += counts[c]
		}
		if t.dims[d].whole {
			n += int(q.CeilDiv(int64(n)*p.Spare[t.dims[d].kind], 1000))
		}
		out[d] = int32(n)
	}
	return out
}

// grow adds a level: every selection of the last one with one more module, without those that another
// beats.
func (e *Env) grow(p *Pool, t *table) {
	last := t.levels[len(t.levels)-1]
	var next []selection
	for i := range last {
		for m := range p.Mods {
			mod := &e.Mods[p.Mods[m].Mod]
			s := selection{room: make([]int32, len(t.dims)), cost: last[i].cost + mod.Least, use: last[i].use.Plus(mod.Slot)}
			for d := range s.room {
				s.room[d] = min(last[i].room[d]+t.rooms[m][d], t.highest[d])
			}
			next = append(next, s)
		}
	}
	slices.SortStableFunc(next, func(a, b selection) int {
		if a.cost != b.cost {
			return int(max(-1, min(1, a.cost-b.cost)))
		}
		return slices.Compare(b.room, a.room)
	})
	var kept []selection
	for i := range next {
		if !beaten(kept, &next[i]) {
			kept = append(kept, next[i])
		}
	}
	if len(kept) > mostSelections {
		kept = kept[:mostSelections]
		if t.widest == 0 {
			t.widest = len(t.levels)
		}
	}
	t.levels = append(t.levels, kept)
}

// beaten reports whether one of the selections costs no more and has room for no less: whatever is
// added to s could be added to it.
func beaten(kept []selection, s *selection) bool {
	for i := range kept {
		k := &kept[i]
		if k.cost <= s.cost && covers(k.room, s.room) {
			return true
		}
	}
	return false
}

func covers(room, need []int32) bool {
	for d := range need {
		if room[d] < need[d] {
			return false
		}
	}
	return true
}

// Offers returns the ways to hold counts[i] signals of the pool's i-th class with their spare, by
// ascending number of modules, from least to most, and falling cost; each is the cheapest of its
// number. exact is false where the pool is too varied to look at every selection: then the offers
// can be built, but cheaper ones may exist. Currents are left aside. The answer must not be changed.
func (e *Env) Offers(pool int, counts []int, least, most int) (offers []Offer, exact bool) {
	key := make([]byte, 0, 24)
	key = binary.AppendUvarint(key, uint64(pool))
	key = binary.AppendUvarint(key, uint64(least))
	key = binary.AppendUvarint(key, uint64(most))
	for _, n := range counts {
		key = binary.AppendUvarint(key, uint64(n))
	}
	if a, ok := e.offers.get(key); ok {
		return a.list, a.exact
	}
	e.tabling.Lock()
	a := e.findOffers(pool, counts, max(least, 1), most)
	e.tabling.Unlock()
	e.offers.put(key, a)
	return a.list, a.exact
}

type offerList struct {
	list  []Offer
	exact bool
}

func (e *Env) findOffers(pool int, counts []int, from, most int) offerList {
	p := &e.Pools[pool]
	if e.tables == nil {
		e.tables = make([]*table, len(e.Pools))
	}
	if e.tables[pool] == nil {
		e.tables[pool] = e.newTable(p)
	}
	t := e.tables[pool]
	need := t.need(p, counts)
	a := offerList{exact: true}
	least := Forbidden
	cheapest := Forbidden
	for m := range p.Mods {
		cheapest = min(cheapest, e.Mods[p.Mods[m].Mod].Least)
	}
	for k := 1; k <= most && cheapest*q.Money(k) < least; k++ {
		if len(t.levels) <= k {
			e.grow(p, t)
		}
		a.exact = a.exact && (t.widest == 0 || k < t.widest)
		if k < from {
			continue
		}
		for i := range t.levels[k] {
			s := &t.levels[k][i]
			if s.cost >= least {
				break // they are in order of cost
			}
			if covers(s.room, need) {
				least = s.cost
				a.list = append(a.list, Offer{k, s.cost, s.use})
				break
			}
		}
	}
	return a
}
