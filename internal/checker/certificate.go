package checker

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// certificateLaw evaluates the lower bound that the certificate's multipliers give, in integers:
//
//	L = sum of multipliers + sum over places of what a station there is worth at least
//
// Any multipliers give a valid bound, so a place's worth is all that has to be right. See
// docs/certificate.md.
func certificateLaw(r *run) {
	if r.opt.NoCertificate {
		return
	}
	c := &bound{run: r, lambda: r.d.Siting.Certificate, markets: map[environment]*market{}}
	for _, b := range r.bundles {
		if list := r.placed(b); len(list) > 0 {
			c.bundles = append(c.bundles, b)
			c.served = append(c.served, list...)
		}
	}
	known := map[string]bool{}
	sum := int64(0)
	for _, b := range c.bundles {
		known[b.id] = true
		if _, ok := c.lambda[b.id]; !ok {
			r.bad("CERT", "bundle:"+b.id, "a multiplier", "none")
		}
		sum += c.lambda[b.id]
	}
	for id := range c.lambda {
		if !known[id] {
			r.bad("CERT", "bundle:"+id, "a bundle of the project that is served", "multiplier for another")
		}
	}
	// The second form of the bound, or the first that it replaced: both are valid.
	var seen []string
	for _, c.first = range []bool{false, true} {
		l := sum
		for _, pl := range r.p.Places {
			l += c.place(pl)
		}
		if math.Abs(r.d.Siting.LowerBound*1e4-float64(l)) <= cent {
			return
		}
		seen = append(seen, fmt.Sprintf("%.4f", float64(l)/1e4))
	}
	r.bad("CERT", "design", "lower_bound "+strings.Join(seen, " or in the first form "), "%v", r.d.Siting.LowerBound)
}

// bound evaluates one certificate.
type bound struct {
	*run
	lambda  map[string]int64
	bundles []*bundle // those served
	served  []*signal
	markets map[environment]*market
	sets    map[string]int // partner set by signal id
	nextSet int
	first   bool // the bound's first form
}

// place is V_p.
func (c *bound) place(pl project.Place) int64 {
	must := int64(c.fixedStations(pl.ID))
	if !c.mayStand(pl) && must == 0 {
		return 0
	}
	copies := max(must, int64(max(1, pl.MaxStations)))
	worth := c.stationWorth
	if c.first {
		worth = c.station
	}
	v, ok := worth(pl)
	if !ok {
		return 0
	}
	return must*v + (copies-must)*min(0, v)
}

// station is v_p: what a station there costs at least, with the bundles that pay to be there.
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
	items := c.items(pl, m)
	best := map[string]int64{}
	for j, p := range m.pools {
		best[p.station] += c.poolWorth(pl, m, p, items[j])
	}
	least, first := int64(0), true
	for _, w := range best {
		if first || w < least {
			least, first = w, false
		}
	}
	return fixed + least, true
}

// item is one bundle's part in a pool: how many signals, and its share of the reduced cost.
type item struct{ count, reduced int64 }

// items splits each allowed bundle's reduced cost over the pools that it touches: by weight, each
// share rounded down, what is left going one by one to the largest remainders, the earlier pool
// first among equals.
func (c *bound) items(pl project.Place, m *market) [][]item {
	out := make([][]item, len(m.pools))
	for _, b := range c.bundles {
		reduced, ok := c.variable(b, pl, m)
		if !ok {
			continue
		}
		count, weight := make([]int64, len(m.pools)), int64(0)
		for _, x := range c.placed(b) {
			reduced += m.class[x.ID].surcharge
			j := slices.Index(m.pools, m.pool[x.ID])
			count[j]++
			weight += m.pools[j].unit
		}
		reduced -= c.lambda[b.id]
		for j, share := range split(reduced, count, m.pools, weight) {
			if count[j] > 0 {
				out[j] = append(out[j], item{count[j], share})
			}
		}
	}
	return out
}

func split(total int64, count []int64, pools []*pool, weight int64) []int64 {
	share, rest := make([]int64, len(count)), make([]int64, len(count))
	left := total
	for j, n := range count {
		w := n * pools[j].unit
		share[j] = floorDiv(total*w, weight)
		rest[j] = total*w - share[j]*weight
		left -= share[j]
	}
	for ; left > 0; left-- {
		best := -1
		for j := range rest {
			if count[j] > 0 && (best < 0 || rest[j] > rest[best]) {
				best = j
			}
		}
		share[best]++
		rest[best] = -1
	}
	return share
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

// variable is the price of the bundle's field cable to the place, and what its going there
// changes; false if it may not.
func (c *bound) variable(b *bundle, pl project.Place, m *market) (int64, bool) {
	list := c.placed(b)
	for _, x := range list {
		if m.class[x.ID] == nil {
			return 0, false
		}
	}
	laid, ok := c.fieldLaid(b.place, pl.ID)
	cable := c.cableFor(b, list, laid)
	if cable == nil || !ok {
		return 0, false
	}
	if most := c.longest(list, cable); most > 0 && laid > most {
		return 0, false
	}
	cost := cableMoney(c.ordered(laid), int64(cable.Price)) + cableMoney(laid, c.labour("pull"))
	for _, x := range list {
		change, allowed := c.wish(x, pl.ID)
		if !allowed {
			return 0, false
		}
		cost += change
	}
	return cost, true
}

// wish reads the decisions that tie a signal to a place or to a station whose place is decided.
func (c *bound) wish(x *signal, place string) (int64, bool) {
	cost := int64(0)
	for _, property := range []string{"place", "station", "channel"} {
		for _, d := range c.decisions("signal:"+x.ID, property) {
			at := d.Value
			if property != "place" {
				id, _, _ := strings.Cut(d.Value, "/")
				at = c.stationPlace(id)
			}
			if at == "" {
				continue
			}
			switch {
			case d.Strength == project.Fixed && at != place, d.Strength == project.Forbidden && at == place && property == "place":
				return 0, false
			case d.Strength == project.Preferred && at != place && property != "channel":
				cost += int64(d.ChangeCost)
			}
		}
	}
	return cost, true
}

// poolWorth is W_pj: the least of nothing and of some bundles with their modules and the opening.
func (c *bound) poolWorth(pl project.Place, m *market, p *pool, items []item) int64 {
	room := c.slots(pl, m) * p.most
	best := []int64{0} // least sum of shares by number of signals
	for _, it := range items {
		if it.reduced >= 0 || it.count == 0 {
			continue
		}
		for n := int64(len(best)); n <= min(int64(len(best))-1+it.count, room); n++ {
			best = append(best, never)
		}
		for n := int64(len(best)) - 1; n >= it.count; n-- {
			if v := best[n-it.count]; v < never && v+it.reduced < best[n] {
				best[n] = v + it.reduced
			}
		}
	}
	least, open := int64(0), c.open(pl, m, p)
	for n := 1; n < len(best); n++ {
		if best[n] < never {
			least = min(least, best[n]+p.step(int64(n))+open)
		}
	}
	return least
}

// slots is the most slots that any station at the place can have.
func (c *bound) slots(pl project.Place, m *market) int64 {
	most := 0
	for i := range c.hw.Couplers {
		if k := &c.hw.Couplers[i]; c.couplerAllowed(k, pl, m.env) {
			most = max(most, k.MaxSlots)
		}
	}
	con := c.parts.construction[m.env.construction]
	return int64(smallest(con.MaxSlots, most, pl.MaxSlots))
}

func (c *bound) couplerAllowed(k *hardware.Coupler, pl project.Place, env environment) bool {
	return !c.unused[k.Code] && k.Construction == env.construction && k.Network == c.p.Network.Profile &&
		c.couplerOutside(&station{place: pl, env: env}, k) == ""
}

// open is the pool's share of what its group key costs to open at the place.
func (c *bound) open(pl project.Place, m *market, p *pool) int64 {
	sharing, upsPools := int64(0), int64(0)
	for _, q := range m.pools {
		if q.group == p.group {
			sharing++
		}
		if q.ups {
			upsPools++
		}
	}
	open := m.opening[p.group] / sharing
	if p.ups {
		open += c.upsExtra(pl, m.env) / upsPools
	}
	return open
}
