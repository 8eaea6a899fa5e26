package checker

import (
	"cmp"
	"slices"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// bid is one bundle's wish to have its signals of one class at a place, for a negative share of its
// reduced cost.
type bid struct {
	order int // of the bundle
	count int64
	share int64
	set   int // partner set, -1 = none
}

// maxVectors is how many numbers of signals by class are looked at; beyond it classes are merged.
const maxVectors = 5_000

// station is v_p: the least over station classes and numbers of modules of the frame and what
// the modules' places are worth.
func (c *bound) station(pl project.Place) (int64, bool) {
	env := c.environment(pl)
	m := c.markets[env]
	if m == nil {
		m = c.market(env, c.served)
		c.markets[env] = m
	}
	fixed, ok := c.fixedCost(pl, m)
	if !ok {
		return 0, false
	}
	most := c.maxModules(pl, m)
	frame := make([]int64, most+1)
	for k := range frame {
		frame[k] = c.frame(pl, m, fixed, k)
	}
	bids := c.bids(pl, m)
	worth := fixed
	for _, class := range stationClasses(m) {
		for k, a := range c.classWorth(pl, m, class, bids, most) {
			if a < never && frame[k] < never {
				worth = min(worth, frame[k]+a)
			}
		}
	}
	return worth, true
}

func stationClasses(m *market) []string {
	var out []string
	for _, p := range m.pools {
		if !slices.Contains(out, p.station) {
			out = append(out, p.station)
		}
	}
	return out
}

// maxModules is the largest number of slots that a station at the place can use.
func (c *bound) maxModules(pl project.Place, m *market) int {
	return max(0, int(c.slots(pl, m))-c.floorFreeSlots())
}

// frame is the least money of a station with k modules before they are paid: coupler and enclosure
// must have room for them.
func (c *bound) frame(pl project.Place, m *market, fixed int64, k int) int64 {
	if k == 0 {
		return fixed
	}
	con := c.parts.construction[m.env.construction]
	end := int64(0)
	if e := c.parts.part[con.EndPiece]; e != nil {
		end = int64(e.Width)
	}
	narrow, unit := c.narrowest(m), int64(never)
	for i := range c.hw.Supplies {
		if u := &c.hw.Supplies[i]; c.unitAllowed(u, m.env.ambient) {
			unit = min(unit, int64(u.Width))
		}
	}
	best := int64(never)
	for i := range c.hw.Couplers {
		coupler := &c.hw.Couplers[i]
		if !c.couplerAllowed(coupler, m.env) || smallest(con.MaxSlots, coupler.MaxSlots, pl.MaxSlots) < k+c.floorFreeSlots() {
			continue
		}
		row := int64(coupler.Width) + int64(k)*narrow + end
		if e := c.enclosureFor(pl, row, ((row+unit)*(1000+c.p.Basis.Reserve["enclosure"])+999)/1000); e != nil {
			best = min(best, int64(coupler.Price)+int64(e.Price))
		}
	}
	if best == never {
		return never
	}
	coupler, enclosure := c.bareFrame(pl, m)
	return fixed - coupler - enclosure + best
}

func (c *bound) enclosureFor(pl project.Place, row, rail int64) *hardware.Enclosure {
	return cheapest(c.run, c.hw.Enclosures, func(e *hardware.Enclosure) string { return e.Code }, func(e *hardware.Enclosure) bool {
		return (e.Outdoor || !pl.Outdoor) && int64(e.Row) >= row && int64(e.Rail) >= rail
	})
}

// narrowest is the narrowest slot that a module of the environment takes.
func (c *bound) narrowest(m *market) int64 {
	con, best := c.parts.construction[m.env.construction], int64(never)
	for i := range c.hw.Modules {
		mod := &c.hw.Modules[i]
		if mod.Infeed || c.unused[mod.Code] || !slices.Contains(mod.Constructions, m.env.construction) ||
			mod.AmbientMax != 0 && float64(mod.AmbientMax) < m.env.ambient {
			continue
		}
		w := int64(mod.Width)
		if con.HasBases {
			base := int64(never)
			for b := range c.hw.Bases {
				if x := &c.hw.Bases[b]; !c.unused[x.Code] && baseSuits(x, mod, m.env.construction) {
					base = min(base, int64(x.Width))
				}
			}
			if base == never {
				continue
			}
			w = max(w, base)
		}
		best = min(best, w)
	}
	if best == never {
		return 0
	}
	return best
}

// bids splits each bundle's reduced cost at the place over the classes that it touches, by number of
// signals and price per signal.
func (c *bound) bids(pl project.Place, m *market) map[*tariffClass][]bid {
	out := map[*tariffClass][]bid{}
	for order, b := range c.bundles {
		cost, ok := c.variable(b, pl, m)
		if !ok {
			continue
		}
		var classes []*tariffClass
		count := map[*tariffClass]int64{}
		for _, x := range c.placed(b) {
			k := m.class[x.ID]
			if count[k] == 0 {
				classes = append(classes, k)
			}
			count[k]++
		}
		slices.SortFunc(classes, func(a, b *tariffClass) int { return cmp.Compare(a.key, b.key) })
		weights := make([]int64, len(classes))
		for i, k := range classes {
			weights[i] = count[k] * max(1, k.unit)
		}
		for i, share := range split(cost-c.lambda[b.id], weights) {
			if k := classes[i]; share < 0 {
				out[k] = append(out[k], bid{order, count[k], share, c.partnerSet(b, k, m)})
			}
		}
	}
	return out
}

// partnerSet numbers the sets of signals that are all partners of each other, in order of their
// first signal, and returns that of the bundle's first signal of the class that is in one.
func (c *bound) partnerSet(b *bundle, k *tariffClass, m *market) int {
	best := -1
	for _, x := range c.placed(b) {
		if m.class[x.ID] == k {
			if s := c.setOf(x); s >= 0 && (best < 0 || s < best) {
				best = s
			}
		}
	}
	return best
}

// setOf returns the number of the signal's partner set; -1 if it has no partner, or if its partners
// are not all partners of each other.
func (c *bound) setOf(x *signal) int {
	if c.sets == nil {
		c.sets = map[string]int{}
		for _, s := range c.sigs {
			if _, done := c.sets[s.ID]; done {
				continue
			}
			members := component(c.run, s)
			number := -1
			if len(members) > 1 && clique(c.run, members) {
				number = c.nextSet
				c.nextSet++
			}
			for _, id := range members {
				c.sets[id] = number
			}
		}
	}
	return c.sets[x.ID]
}

func component(r *run, x *signal) []string {
	members := []string{x.ID}
	for i := 0; i < len(members); i++ {
		for id := range r.sig[members[i]].partners {
			if !slices.Contains(members, id) {
				members = append(members, id)
			}
		}
	}
	return members
}

func clique(r *run, members []string) bool {
	for _, id := range members {
		if len(r.sig[id].partners) != len(members)-1 {
			return false
		}
	}
	return true
}

// classWorth is A(m): by number of modules, what the pools of one station class are worth.
func (c *bound) classWorth(pl project.Place, m *market, class string, bids map[*tariffClass][]bid, most int) []int64 {
	total, block := none(most), none(most)
	var groups []string
	for _, p := range m.pools {
		if p.station == class && !slices.Contains(groups, p.group) {
			groups = append(groups, p.group)
		}
	}
	for _, g := range groups {
		group, ups := none(most), false
		for _, p := range m.pools {
			if p.group == g && p.station == class {
				group, ups = join(group, c.poolByModules(m, p, bids, most)), p.ups
			}
		}
		group = charged(group, m.opening[g])
		if ups {
			block = join(block, group)
		} else {
			total = join(total, group)
		}
	}
	return join(total, charged(block, c.upsExtra(pl, m.env)))
}

// none is worth nothing with no module and not possible with any.
func none(most int) []int64 {
	w := make([]int64, most+1)
	for k := 1; k <= most; k++ {
		w[k] = never
	}
	return w
}

// join shares modules between two in the best way.
func join(a, b []int64) []int64 {
	out := none(len(a) - 1)
	for k := range out {
		out[k] = never
		for i := 0; i <= k; i++ {
			if a[i] < never && b[k-i] < never {
				out[k] = min(out[k], a[i]+b[k-i])
			}
		}
	}
	return out
}

// charged adds an opening to everything that has a module.
func charged(w []int64, opening int64) []int64 {
	for k := 1; k < len(w); k++ {
		if w[k] < never {
			w[k] += opening
		}
	}
	return w
}

// poolByModules is W_j(k) for k from 0: the least that signals of the pool on exactly k modules are
// worth.
func (c *bound) poolByModules(m *market, p *pool, bids map[*tariffClass][]bid, most int) []int64 {
	best := none(most)
	vectors := int64(1)
	for _, k := range p.classes {
		n := int64(1)
		for _, b := range bids[k] {
			n += b.count
		}
		vectors = min(maxVectors+1, vectors*n*int64(deepest(bids[k])))
	}
	if vectors > maxVectors {
		return c.merged(p, bids, best)
	}
	if p.exact == nil || p.exact.most < most {
		p.exact = c.newLeast(p, m.env.construction, most)
	}
	apart := make([]int, len(p.classes))
	var choose func(i int)
	choose = func(i int) {
		if i == len(apart) {
			p.apart(bids, apart, best)
			return
		}
		for apart[i] = 1; apart[i] <= deepest(bids[p.classes[i]]); apart[i]++ {
			choose(i + 1)
		}
	}
	choose(0)
	return best
}

// deepest is the largest number of bids of one partner set in a class: on so many modules that
// suit the class, partners are apart.
func deepest(bids []bid) int {
	most, n := 1, map[int]int{}
	for _, b := range bids {
		if b.set >= 0 {
			n[b.set]++
			most = max(most, n[b.set])
		}
	}
	return most
}

// apart lowers best to what the bids are worth of which each partner set keeps as many as there are
// modules apart for the class.
func (p *pool) apart(bids map[*tariffClass][]bid, apart []int, best []int64) {
	sums := make([][]int64, len(p.classes))
	for i, k := range p.classes {
		sums[i] = sumsByCount(kept(bids[k], apart[i]))
	}
	n := make([]int64, len(p.classes))
	var walk func(i int, sum int64)
	walk = func(i int, sum int64) {
		if i < len(n) {
			for v, s := range slices.Backward(sums[i]) { // many first: they show early what is not worth a look
				if s < never {
					n[i] = int64(v)
					walk(i+1, sum+s)
				}
			}
			n[i] = 0
			return
		}
		modules, money := p.exact.bounds(p.exact.asks(n, apart), 0)
		if modules == 0 || modules >= int64(len(best)) || p.exact.beaten(int(modules), sum+money, best) {
			return
		}
		for k, cost := range p.exact.of(n, apart)[:len(best)] {
			if k > 0 && cost < never && sum+cost < best[k] {
				p.exact.found(k, sum+cost, best)
			}
		}
	}
	walk(0, 0)
}

// kept leaves the lowest bids of each partner set, as many as there are modules.
func kept(bids []bid, modules int) []bid {
	sorted := slices.Clone(bids)
	slices.SortStableFunc(sorted, func(a, b bid) int { return cmp.Or(cmp.Compare(a.share, b.share), cmp.Compare(a.order, b.order)) })
	var out []bid
	n := map[int]int{}
	for _, b := range sorted {
		if b.set >= 0 {
			n[b.set]++
			if n[b.set] > modules {
				continue
			}
		}
		out = append(out, b)
	}
	return out
}

// sumsByCount is, by number of signals, the least sum of shares of bids with exactly so many.
func sumsByCount(bids []bid) []int64 {
	best := []int64{0}
	for _, b := range bids {
		for range b.count {
			best = append(best, never)
		}
		for n := int64(len(best)) - 1; n >= b.count; n-- {
			if v := best[n-b.count]; v < never {
				best[n] = min(best[n], v+b.share)
			}
		}
	}
	return best
}

// merged treats a pool of many classes as one, with surcharges and residual prices.
func (c *bound) merged(p *pool, bids map[*tariffClass][]bid, best []int64) []int64 {
	var all []bid
	for _, k := range p.classes {
		for _, b := range bids[k] {
			if b.share += k.surcharge * b.count; b.share < 0 {
				all = append(all, b)
			}
		}
	}
	least := int64(never)
	for n, s := range sumsByCount(all) {
		if n > 0 && s < never {
			least = min(least, s+p.step(int64(n)))
		}
	}
	for k := 1; k < len(best); k++ {
		best[k] = least
	}
	return best
}
