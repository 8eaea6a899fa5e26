package tariff

import (
	"cmp"
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
	room    room
}

// mostModules is the most modules of one pool that are looked at; no construction has more slots.
const mostModules = 256

// mostApart is the most partners of one set that are told apart.
const mostApart = 4

// mostDims is the most dimensions of a pool that can be looked at whole.
const mostDims = 20

// A question of more signals than mostExact in a pool of many dimensions is answered by the best of
// mostStates selections for each number of modules, and is not exact.
const (
	mostExact  = 120
	mostStates = 600
)

// table holds what a pool's modules have room for. Modules have room for signals exactly if, for every
// union of the classes' channel sets, the channels in it are enough for the signals bound to it and
// the spare (the condition of Hall). Each such union is a dimension; so is, for each class with
// redundant partners, the number of modules that suit it. Rooms add up module by module.
type table struct {
	dims  []dimension
	words int    // of a room that are in use
	rooms []room // of the useful modules
	mods  []int  // which of the pool's modules they are
}

// room is what modules have in each dimension, no more than is needed: four dimensions of 15 bits in a
// word, so that rooms are added and compared four at a time.
type room [mostDims / 4]uint64

// tops is the top bit of each dimension; it stays 0 in rooms.
const tops = 0x8000_8000_8000_8000

// mostRoom is the largest figure of a dimension.
const mostRoom = 1 << 14

func (r *room) set(d, v int) { r[d/4] |= uint64(min(v, mostRoom)) << (d % 4 * 16) }

func (r *room) at(d int) int { return int(r[d/4] >> (d % 4 * 16) & 0xffff) }

// covers reports whether have is at least need in every dimension of the first words.
func covers(have, need *room, words int) bool {
	for w := range words {
		if ((have[w]|tops)-need[w])&tops != tops {
			return false
		}
	}
	return true
}

// plus adds b to a up to most in each dimension.
func (r *room) plus(b, most *room, words int) {
	for w := range words {
		sum := r[w] + b[w]
		over := ((sum | tops) - most[w]) & tops
		mask := over | (over - over>>15)
		r[w] = most[w]&mask | sum&^mask
	}
}

// total is the sum of all dimensions.
func (r *room) total(words int) int32 {
	n := int32(0)
	for w := range words {
		for v := r[w]; v != 0; v >>= 16 {
			n += int32(v & 0xffff)
		}
	}
	return n
}

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
	sum  int32 // of the room
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
	t.words = (len(t.dims) + 3) / 4
	all := make([]room, len(p.Mods))
	for m := range p.Mods {
		all[m] = e.roomOf(p, m, t.dims)
	}
	price := func(m int) q.Money { return e.Mods[p.Mods[m].Mod].Least }
	for m := range p.Mods {
		beaten := slices.ContainsFunc(t.mods, func(o int) bool {
			return price(o) <= price(m) && covers(&all[o], &all[m], t.words)
		})
		for o := m + 1; o < len(p.Mods) && !beaten; o++ {
			beaten = price(o) < price(m) && covers(&all[o], &all[m], t.words)
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
				r.set(d, 1)
			}
			continue
		}
		n := 0
		for i, set := range p.Mods[m].Sets {
			if dims[d].in.has(p.Mods[m].First + i) {
				n += e.Mods[p.Mods[m].Mod].M.Channels[set].Count
			}
		}
		r.set(d, n)
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
				out.set(d, min(apart[c[0]], mostApart))
			}
			continue
		}
		n := 0
		for _, c := range t.dims[d].classes {
			n += counts[c]
		}
		if t.dims[d].whole {
			n += int(q.CeilDiv(int64(n)*p.FloorSpare[t.dims[d].kind], 1000))
		}
		out.set(d, n)
	}
	return out
}

// Offers returns the ways to hold counts[i] signals of the pool's i-th class with their spare, by
// ascending number of modules, from least to most, and falling cost; each is the cheapest of its
// number. exact is false where the pool is too varied to look at every selection: then the offers
// can be built, but cheaper ones may exist. Currents are left aside. The answer must not be changed.
//
// apart[i], if apart is given, is how many modules must suit the pool's i-th class (redundant partners).
func (e *Env) Offers(pool int, counts, apart []int, least, most int) (offers []Offer, exact bool) {
	for i, n := range counts {
		if apart != nil && n > 0 {
			least = max(least, apart[i])
		}
	}
	var buf [48]byte
	key := offerKey(buf[:0], pool, counts, apart, least, most)
	if a, ok := e.offers.get(key); ok {
		return a.list, a.exact
	}
	a, known, ok := e.asBefore(pool, counts, apart, least, most)
	if !ok {
		a = e.findOffers(pool, counts, apart, max(least, 1), most, known)
	}
	e.offers.put(key, a)
	return a.list, a.exact
}

func offerKey(key []byte, pool int, counts, apart []int, least, most int) []byte {
	key = binary.AppendUvarint(key, uint64(pool))
	key = binary.AppendUvarint(key, uint64(most))
	key = binary.AppendUvarint(key, uint64(least))
	for i, n := range counts {
		key = binary.AppendUvarint(key, uint64(n))
		if apart != nil && n > 0 && apart[i] > 1 {
			key = append(key, 0xff, byte(apart[i]))
		}
	}
	return key
}

// asBefore looks for the answer to the same question with one signal less, if it is known: where every
// one of those ways has room for the signal too, they are the answer here, since more signals never
// need less. Otherwise such a way with one more module is known to do.
func (e *Env) asBefore(pool int, counts, apart []int, least, most int) (offerList, way, bool) {
	var buf [48]byte
	known := way{cost: Forbidden}
	for c := range counts {
		if counts[c] < 2 {
			continue
		}
		counts[c]--
		a, ok := e.offers.get(offerKey(buf[:0], pool, counts, apart, least, most))
		counts[c]++
		if !ok || !a.exact || len(a.list) == 0 {
			continue
		}
		t := e.tableOf(pool)
		need := t.need(&e.Pools[pool], counts, apart)
		if !slices.ContainsFunc(a.list, func(o Offer) bool { return !covers(&o.room, &need, t.words) }) {
			return a, known, true
		}
		known.extend(e, pool, t, a.list, &need)
	}
	return offerList{}, known, false
}

// way is a number of modules that is known to do, and its cost.
type way struct {
	modules int
	cost    q.Money
}

// extend takes the cheapest of the offers with one more module that has room for the need.
func (w *way) extend(e *Env, pool int, t *table, offers []Offer, need *room) {
	for _, o := range offers {
		for m, r := range t.rooms {
			sum := o.room
			sum.plus(&r, &unlimited, t.words)
			if cost := o.Cost + e.Mods[e.Pools[pool].Mods[t.mods[m]].Mod].Least; cost < w.cost && covers(&sum, need, t.words) {
				w.modules, w.cost = o.Modules+1, cost
			}
		}
	}
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
func (e *Env) findOffers(pool int, counts, apart []int, from, most int, known way) offerList {
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
	a := offerList{exact: len(t.dims) <= 3 || g.signals(&g.need) <= mostExact}
	g.measure(e, p)
	if a.exact {
		g.known, g.states = known, 1<<30
	} else {
		g.known, g.states = way{cost: Forbidden}, mostStates
	}
	least := Forbidden
	for k := 1; k <= most && cheapest*q.Money(k) < least && len(g.levels[k-1]) > 0; k++ {
		g.grow(least, from)
		if k < from {
			continue
		}
		level := g.levels[k]
		for i := range level {
			if level[i].cost < least && covers(&level[i].room, &g.need, t.words) {
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
	known  way
	states int // most selections of a level

	highest       [mostDims]int // per dimension: the most room of one module
	cents, fields int64         // the least price per channel, as a ratio
}

// measure finds the figures by which selections that cannot win are told.
func (g *growth) measure(e *Env, p *Pool) {
	for i, r := range g.t.rooms {
		for d := range g.t.dims {
			g.highest[d] = max(g.highest[d], r.at(d))
		}
		channels := int64(p.Mods[g.t.mods[i]].Channels)
		if price := int64(g.price[i]); g.fields == 0 || price*g.fields < g.cents*channels {
			g.cents, g.fields = price, channels
		}
	}
}

// signals is how many channels a need asks for, all kinds together.
func (g *growth) signals(need *room) int {
	n := 0
	for d := range g.t.dims {
		if g.t.dims[d].whole {
			n += need.at(d)
		}
	}
	return n
}

// useless reports whether whatever follows from a selection of k modules costs no less than a known
// way, or more than the known one that has no more modules.
func (g *growth) useless(s *selection, k int, least q.Money) bool {
	left, more := 0, 0
	for d := range g.t.dims {
		lack := g.need.at(d) - s.room.at(d)
		if lack <= 0 {
			continue
		}
		if g.t.dims[d].whole {
			left += lack
		}
		if g.highest[d] == 0 {
			return true
		}
		more = max(more, (lack+g.highest[d]-1)/g.highest[d])
	}
	bound := s.cost + q.Money(int64(left)*g.cents/g.fields)
	return bound >= least || k+more >= g.known.modules && bound > g.known.cost
}

// grow adds a level: every selection of the last one with one more module, without those that another
// beats or that are useless.
func (g *growth) grow(least q.Money, from int) {
	k := len(g.levels)
	last := g.levels[k-1]
	words := g.t.words
	g.next = g.next[:0]
	for i := range last {
		done := k > from && covers(&last[i].room, &g.need, words)
		for m := range g.t.mods {
			s := selection{room: last[i].room, cost: last[i].cost + g.price[m], last: int32(m), from: int32(i)}
			if done || s.cost >= least {
				continue // what is enough needs no more modules
			}
			s.room.plus(&g.t.rooms[m], &g.need, words)
			s.sum = s.room.total(words)
			if k >= from && g.useless(&s, k, least) {
				continue
			}
			g.next = append(g.next, s)
		}
	}
	slices.SortFunc(g.next, func(a, b selection) int {
		if a.cost != b.cost {
			return int(max(-1, min(1, a.cost-b.cost)))
		}
		return cmp.Or(cmp.Compare(b.sum, a.sum), cmp.Compare(a.from, b.from), cmp.Compare(a.last, b.last))
	})
	var kept []selection
	for i := range g.next {
		s := &g.next[i]
		if beaten(kept, s, words) {
			continue
		}
		if len(kept) == g.states {
			break
		}
		kept = append(kept, *s)
	}
	g.levels = append(g.levels, kept)
}

// beaten reports whether one of the selections, none of which costs more, has room for no less.
func beaten(kept []selection, s *selection, words int) bool {
	for i := range kept {
		if kept[i].sum >= s.sum && covers(&kept[i].room, &s.room, words) {
			return true
		}
	}
	return false
}

// unlimited is a room that nothing exceeds.
var unlimited = func() (r room) {
	for d := range mostDims {
		r.set(d, mostRoom)
	}
	return r
}()

// offer writes out a selection.
func (e *Env) offer(p *Pool, g *growth, k, i int) Offer {
	o := Offer{Modules: k, Cost: g.levels[k][i].cost, Counts: make([]uint16, len(p.Mods))}
	for ; k > 0; k-- {
		s := &g.levels[k][i]
		m := g.t.mods[s.last]
		o.Counts[m]++
		o.room.plus(&g.t.rooms[s.last], &unlimited, g.t.words)
		o.Use = o.Use.Plus(e.Mods[p.Mods[m].Mod].Slot)
		i = int(s.from)
	}
	return o
}
