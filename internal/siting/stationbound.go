package siting

// stationBound finds the least reduced cost of one station: v_p of docs/certificate.md. One value serves one goroutine.
type stationBound struct {
	m      *model
	pools  []poolBound
	split  []int64
	active []int // pools with bids
	merged bool  // take the classes of every pool as one: quick, and still a bound
}

// steps is the result of joining choices by their number of modules, and how much the last one took.
type steps struct {
	value []int64
	take  []int
}

// join adds the choice more to a: the least sum for each number of modules up to frameLimit. more[0] is 0.
func join(a, more []int64) steps {
	top := min(len(a)+len(more)-2, frameLimit)
	s := steps{value: make([]int64, top+1), take: make([]int, top+1)}
	for m := range s.value {
		s.value[m] = Forbidden
		for k := max(0, m-len(a)+1); k < len(more) && k <= m; k++ {
			if more[k] < Forbidden && a[m-k] < Forbidden {
				if v := a[m-k] + more[k]; v < s.value[m] {
					s.value[m], s.take[m] = v, k
				}
			}
		}
	}
	return s
}

// chain is a number of choices joined one after the other.
type chain struct {
	members []int // what was joined, in order
	steps   []steps
	value   []int64
}

func newChain() chain { return chain{value: []int64{0}} }

func (c *chain) add(member int, values []int64) {
	s := join(c.value, values)
	c.members, c.steps, c.value = append(c.members, member), append(c.steps, s), s.value
}

// charged returns the values with an opening charge on everything but nothing.
func (c *chain) charged(open int64) []int64 {
	out := make([]int64, len(c.value))
	for k, v := range c.value {
		if k > 0 && v < Forbidden {
			v += open
		}
		out[k] = v
	}
	return out
}

// undo tells how many modules each member has when all have m.
func (c *chain) undo(m int, visit func(member, modules int)) {
	for i := len(c.members) - 1; i >= 0; i-- {
		k := c.steps[i].take[m]
		visit(c.members[i], k)
		m -= k
	}
}

func newStationBound(m *model) *stationBound {
	most := 0
	for k := range m.in.Kinds {
		most = max(most, len(m.in.Kinds[k].Pools))
	}
	return &stationBound{m: m, pools: make([]poolBound, most)}
}

// begin makes ready for the bids of one place.
func (b *stationBound) begin(kind int) {
	for j := range b.m.in.Kinds[kind].Pools {
		b.pools[j].reset(len(b.m.pools[kind][j]))
	}
}

// bid adds one type with reduced cost r (cable and choices less multiplier) per unit.
func (b *stationBound) bid(kind int, typ int32, many int32, r int64) {
	a := &b.m.types[typ]
	tk := &a.kinds[kind]
	b.split = append(b.split[:0], make([]int64, len(tk.split))...)
	shares(r, tk.split, b.split)
	for i, part := range tk.parts {
		if b.split[i] < 0 {
			pool := &b.pools[part.pool]
			set := int32(-1)
			if a.sets != nil {
				set = a.sets[kind][i]
			}
			pool.bids[part.pos] = append(pool.bids[part.pos], classBid{typ, part.count, many, set, b.split[i], tk.fraction[i]})
		}
	}
}

// solve returns the least reduced cost of a station at the place and, if visit is given, tells which units of which bids it
// takes.
func (b *stationBound) solve(p int, visit func(x classBid, units int32)) int64 {
	in := &b.m.in
	place := &in.Places[p]
	kind := &in.Kinds[place.Kind]
	b.active = b.active[:0]
	for j := range kind.Pools {
		if b.fill(place.Kind, j) {
			b.active = append(b.active, j)
		}
	}
	best := in.Relaxed.Frame(p, 0)
	var bestOf *stationChoice
	for _, class := range b.classes(kind) {
		c := b.combine(place, kind, class)
		for m, v := range c.all.value {
			if v >= Forbidden {
				continue
			}
			if total := v + in.Relaxed.Frame(p, m); total < best {
				best = total
				c.modules = m
				bestOf = &c
			}
		}
	}
	if visit != nil && bestOf != nil {
		b.tell(bestOf, visit)
	}
	return best
}

// fill solves one pool; it reports whether anything of it is worth taking before opening charges.
func (b *stationBound) fill(kind, j int) bool {
	pool := &b.pools[j]
	any := false
	for _, bids := range pool.bids {
		any = any || len(bids) > 0
	}
	if !any {
		return false
	}
	in := &b.m.in
	classes := b.m.pools[kind][j]
	surcharge := make([]int64, len(classes))
	for i, c := range classes {
		surcharge[i] = in.Kinds[kind].Classes[c].Surcharge
	}
	if b.merged && len(classes) > 1 {
		pool.ways = []poolWay{{}}
		pool.merge(in.Kinds[kind].Pools[j].Floor, surcharge, mostHeld)
		return pool.ways[1].value < 0
	}
	pool.solve(func(counts, apart []int) ([]Offer, bool) { return in.Relaxed.Offers(kind, j, counts, apart) },
		in.Kinds[kind].Pools[j].Floor, surcharge, mostHeld)
	for k := 1; k < len(pool.ways); k++ {
		if pool.ways[k].value < 0 {
			return true
		}
	}
	return false
}

// mostHeld is the most signals of one class that the bound lets one station hold: more than any construction can.
const mostHeld = 2048

func (b *stationBound) classes(kind *Kind) []int {
	var out []int
	seen := map[int]bool{}
	for _, j := range b.active {
		if c := kind.Pools[j].StationClass; !seen[c] {
			seen[c] = true
			out = append(out, c)
		}
	}
	return out
}

// stationChoice is a station's joined choices: pools to groups, groups of a block to the block, all to the station.
type stationChoice struct {
	groups  map[int]*chain
	blocks  map[int]*chain
	all     chain
	modules int
	of      []member // what the members of all are
}

// member is a group or a block.
type member struct {
	block bool
	index int
}

func (b *stationBound) combine(place *Place, kind *Kind, class int) stationChoice {
	c := stationChoice{groups: map[int]*chain{}, blocks: map[int]*chain{}, all: newChain()}
	var order, blocks []int
	for _, j := range b.active {
		if kind.Pools[j].StationClass != class {
			continue
		}
		g := kind.Pools[j].Group
		if c.groups[g] == nil {
			ch := newChain()
			c.groups[g] = &ch
			order = append(order, g)
		}
		values := make([]int64, len(b.pools[j].ways))
		for k := range values {
			values[k] = b.pools[j].ways[k].value
		}
		c.groups[g].add(j, values)
	}
	for _, g := range order {
		values := c.groups[g].charged(place.openGroup(g))
		if block := kind.block(g); block >= 0 {
			if c.blocks[block] == nil {
				ch := newChain()
				c.blocks[block] = &ch
				blocks = append(blocks, block)
			}
			c.blocks[block].add(g, values)
			continue
		}
		c.all.add(len(c.of), values)
		c.of = append(c.of, member{false, g})
	}
	for _, block := range blocks {
		c.all.add(len(c.of), c.blocks[block].charged(place.OpenBlock[block]))
		c.of = append(c.of, member{true, block})
	}
	return c
}

func (b *stationBound) tell(c *stationChoice, visit func(x classBid, units int32)) {
	pool := func(j, k int) { b.pools[j].bidsOf(k, visit) }
	group := func(g, k int) { c.groups[g].undo(k, pool) }
	c.all.undo(c.modules, func(i, k int) {
		if k == 0 {
			return
		}
		if of := c.of[i]; of.block {
			c.blocks[of.index].undo(k, group)
		} else {
			group(of.index, k)
		}
	})
}

func (p *Place) openGroup(g int) int64 {
	if p.OpenGroup == nil {
		return 0
	}
	return p.OpenGroup[g]
}

func (k *Kind) block(g int) int {
	if k.Blocks == nil {
		return -1
	}
	return k.Blocks[g]
}
