package checker

import (
	"fmt"
	"math"
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
	for _, pl := range r.p.Places {
		sum += c.place(pl)
	}
	if math.Abs(r.d.Siting.LowerBound*1e4-float64(sum)) > cent {
		r.bad("CERT", "design", fmt.Sprintf("lower_bound %.4f", float64(sum)/1e4), "%v", r.d.Siting.LowerBound)
	}
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
}

// place is V_p.
func (c *bound) place(pl project.Place) int64 {
	must := int64(c.fixedStations(pl.ID))
	if !c.mayStand(pl) && must == 0 {
		return 0
	}
	copies := max(must, int64(max(1, pl.MaxStations)))
	v, ok := c.station(pl)
	if !ok {
		return 0
	}
	return must*v + (copies-must)*min(0, v)
}

// split shares out a total by weights: each share rounded down, what is left going one by one to
// the largest remainders, the earlier first among equals.
func split(total int64, weights []int64) []int64 {
	share, rest, sum := make([]int64, len(weights)), make([]int64, len(weights)), int64(0)
	for _, w := range weights {
		sum += w
	}
	left := total
	for j, w := range weights {
		share[j] = floorDiv(total*w, sum)
		rest[j] = total*w - share[j]*sum
		left -= share[j]
	}
	for ; left > 0; left-- {
		best := 0
		for j := range rest {
			if rest[j] > rest[best] {
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
	cable := c.cableFor(b, list, laid, m.env)
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

// slots is the most slots that any station at the place can have.
func (c *bound) slots(pl project.Place, m *market) int64 {
	most := 0
	for i := range c.hw.Couplers {
		if k := &c.hw.Couplers[i]; c.couplerAllowed(k, m.env) {
			most = max(most, k.MaxSlots)
		}
	}
	con := c.parts.construction[m.env.construction]
	return int64(smallest(con.MaxSlots, most, pl.MaxSlots))
}

func (c *bound) couplerAllowed(k *hardware.Coupler, env environment) bool {
	return !c.unused[k.Code] && k.Construction == env.construction && k.Network == c.p.Network.Profile &&
		(k.AmbientMax == 0 || float64(k.AmbientMax) >= env.ambient) // too cold a place is an error finding, no bar
}
