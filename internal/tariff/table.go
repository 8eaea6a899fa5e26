package tariff

import (
	"encoding/binary"
	"slices"

	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Offer is a way to hold signals of one pool: so many modules of the least cost, which they are (how
// many of each of the pool's modules), and what they take.
type Offer struct {
	Modules int
	Cost    q.Money
	Use     Use
	Counts  []uint16
}

// mostModules is the most modules of one pool that are looked at; no construction has more slots.
const mostModules = 256

// mostApart is the most partners of one set that are told apart.
const mostApart = 4

// mostDims is the most dimensions of a pool that can be looked at whole.
const mostDims = 20

// mostStates bounds the selections kept for one number of modules.
const mostStates = 4000

// table holds what a pool's modules have room for. Modules have room for signals exactly if, for every
// union of the classes' channel sets, the channels in it are enough for the signals bound to it and
// the spare (the condition of Hall). Each such union is a dimension; so is, for each class with
// redundant partners, the number of modules that suit it. Rooms add up module by module.
type table struct {
	dims  []dimension
	rooms []room // of the useful modules
	mods  []int  // which of the pool's modules they are
}

// room is what modules have in each dimension, no more than is needed.
type room [mostDims]int16

// dimension is a union of channel sets of one kind and the classes bound to it; or, with suits set, the
// number of modules that suit one class.
type dimension struct {
	kind    project.Kind
	in      mask
	classes []int // positions in Pool.Classes
	whole   bool  // all sets of the kind: the spare counts here
	suits   bool
}

// selection is a set of modules that no other of as many modules beats in room and cost. Its modules
// are the last one and those of the selection it grew from.
type selection struct {
	room room
	cost q.Money
	last int32 // index into table.mods
	from int32 // index into the level before
}

func (e *Env) newTable(p *Pool) *table {
	t := &table{}
	for _, k := range p.Kinds {
		t.dims = append(t.dims, e.dimensions(p, k)...)
	}
	t.dims = append(t.dims, e.partnerDimensions(p)...)
	if len(t.dims) > mostDims {
		return t
	}
	all := make([]room, len(p.Mods))
	for m := range p.Mods {
		all[m] = e.roomOf(p, m, t.dims)
	}
	price := func(m int) q.Money { return e.Mods[p.Mods[m].Mod].Least }
	for m := range p.Mods {
		beaten := slices.ContainsFunc(t.mods, func(o int) bool {
			return price(o) <= price(m) && covers(&all[o], &all[m], len(t.dims))
		})
		for o := m + 1; o < len(p.Mods) && !beaten; o++ {
			beaten = price(o) < price(m) && covers(&all[o], &all[m], len(t.dims))
		}
		if !beaten {
			t.mods, t.rooms = append(t.mods, m), append(t.rooms, all[m])
		}
	}
	return t
}

func (e *Env) roomOf(p *Pool, m int, dims []dimension) room {
	var r room
	for d := range dims {
		if dims[d].suits {
			if e.fits(&e.Classes[p.Classes[dims[d].classes[0]]], &p.Mods[m]) {
				r[d] = 1
			}
			continue
		}
		for i, set := range p.Mods[m].Sets {
			if dims[d].in.has(p.Mods[m].First + i) {
				r[d] += int16(e.Mods[p.Mods[m].Mod].M.Channels[set].Count)
			}
		}
	}
	return r
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

// partnerDimensions returns one dimension for each class that has redundant partners of its own.
func (e *Env) partnerDimensions(p *Pool) []dimension {
	if len(p.Classes) == 1 {
		return nil // the number of modules says it all
	}
	found := map[int]bool{}
	for i, partners := range e.Book.Partners {
		c := e.ClassOf(i)
		if c < 0 || e.Classes[c].Pool != e.poolIndex(p) {
			continue
		}
		for _, j := range partners {
			found[c] = found[c] || e.ClassOf(j) == c
		}
	}
	var out []dimension
	for pos, c := range p.Classes {
		if found[c] {
			out = append(out, dimension{kind: e.Classes[c].Kind, classes: []int{pos}, suits: true})
		}
	}
	return out
}

// need returns how many channels the counts ask for in each dimension, and how many modules.
func (t *table) need(p *Pool, counts, apart []int) room {
	var out room
	for d := range t.dims {
		if c := t.dims[d].classes; t.dims[d].suits {
			if counts[c[0]] > 0 && apart != nil && apart[c[0]] > 1 {
				out[d] = int16(min(apart[c[0]], mostApart))
			}
			continue
		}
		n := 0
		for _, c := range t.dims[d].classes {
			n += counts[c]
		}
		if t.dims[d].whole {
			n += int(q.CeilDiv(int64(n)*p.Spare[t.dims[d].kind], 1000))
		}
		out[d] = int16(min(n, 1<<14))
	}
	return out
}

func covers(have, need *room, dims int) bool {
	for d := range dims {
		if have[d] < need[d] {
			return false
		}
	}
	return true
}

// Offers returns the ways to hold counts[i] signals of the pool's i-th class with their spare, by
// ascending number of modules, from least to most, and falling cost; each is the cheapest of its
// number. exact is false where the pool is too varied to look at every selection: then the offers
// can be built, but cheaper ones may exist. Currents are left aside. The answer must not be changed.
//
// apart[i], if apart is given, is how many modules must suit the pool's i-th class (redundant partners).
func (e *Env) Offers(pool int, counts, apart []int, least, most int) (offers []Offer, exact bool) {
	key := make([]byte, 0, 32)
	key = binary.AppendUvarint(key, uint64(pool))
	key = binary.AppendUvarint(key, uint64(most))
	for i, n := range counts {
		key = binary.AppendUvarint(key, uint64(n))
		if apart != nil && n > 0 && apart[i] > 1 {
			key = append(key, 0xff, byte(apart[i]))
			least = max(least, apart[i])
		}
	}
	key = binary.AppendUvarint(key, uint64(least))
	if a, ok := e.offers.get(key); ok {
		return a.list, a.exact
	}
	a := e.findOffers(pool, counts, apart, max(least, 1), most)
	e.offers.put(key, a)
	return a.list, a.exact
}

type offerList struct {
	list  []Offer
	exact bool
}

// tableOf returns the pool's table, made when first asked for.
func (e *Env) tableOf(pool int) *table {
	e.tabling.Lock()
	defer e.tabling.Unlock()
	if e.tables == nil {
		e.tables = make([]*table, len(e.Pools))
	}
	if e.tables[pool] == nil {
		e.tables[pool] = e.newTable(&e.Pools[pool])
	}
	return e.tables[pool]
}

// findOffers grows selections module by module; rooms beyond the need do not count, so that few are
// worth keeping.
func (e *Env) findOffers(pool int, counts, apart []int, from, most int) offerList {
	p := &e.Pools[pool]
	t := e.tableOf(pool)
	if len(t.dims) > mostDims {
		return offerList{}
	}
	g := growth{t: t, need: t.need(p, counts, apart), levels: [][]selection{{{}}}}
	for _, m := range t.mods {
		g.price = append(g.price, e.Mods[p.Mods[m].Mod].Least)
	}
	cheapest := slices.Min(g.price)
	a := offerList{exact: true}
	least := Forbidden
	for k := 1; k <= most && cheapest*q.Money(k) < least && len(g.levels[k-1]) > 0; k++ {
		a.exact = g.grow(least, cheapest, k < from) && a.exact
		if k < from {
			continue
		}
		level := g.levels[k]
		for i := range level {
			if level[i].cost < least && covers(&level[i].room, &g.need, len(t.dims)) {
				least = level[i].cost
				a.list = append(a.list, e.offer(p, &g, k, i))
				break
			}
		}
	}
	return a
}

// growth is the search for one question.
type growth struct {
	t      *table
	need   room
	price  []q.Money // of table.mods
	levels [][]selection
	next   []selection
}

// grow adds a level: every selection of the last one with one more module, without those that another
// beats or that cost no less than a known way. It returns false if it had to drop some.
func (g *growth) grow(least, cheapest q.Money, padding bool) bool {
	last := g.levels[len(g.levels)-1]
	dims := len(g.t.dims)
	g.next = g.next[:0]
	for i := range last {
		done := !padding && covers(&last[i].room, &g.need, dims)
		for m := range g.t.mods {
			s := selection{room: last[i].room, cost: last[i].cost + g.price[m], last: int32(m), from: int32(i)}
			if done || s.cost >= least {
				continue // what is enough needs no more modules
			}
			for d := range dims {
				s.room[d] = min(s.room[d]+g.t.rooms[m][d], g.need[d])
			}
			g.next = append(g.next, s)
		}
	}
	slices.SortStableFunc(g.next, func(a, b selection) int {
		if a.cost != b.cost {
			return int(max(-1, min(1, a.cost-b.cost)))
		}
		return slices.Compare(b.room[:dims], a.room[:dims])
	})
	var kept []selection
	exact := true
	for i := range g.next {
		s := &g.next[i]
		if slices.ContainsFunc(kept, func(k selection) bool { return covers(&k.room, &s.room, dims) }) {
			continue // kept ones cost no more
		}
		if len(kept) == mostStates {
			exact = false
			break
		}
		kept = append(kept, *s)
	}
	g.levels = append(g.levels, kept)
	return exact
}

// offer writes out a selection.
func (e *Env) offer(p *Pool, g *growth, k, i int) Offer {
	o := Offer{Modules: k, Cost: g.levels[k][i].cost, Counts: make([]uint16, len(p.Mods))}
	for ; k > 0; k-- {
		s := &g.levels[k][i]
		m := g.t.mods[s.last]
		o.Counts[m]++
		o.Use = o.Use.Plus(e.Mods[p.Mods[m].Mod].Slot)
		i = int(s.from)
	}
	return o
}
