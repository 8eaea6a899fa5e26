package tariff

import (
	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// PoolCost returns the least that modules, bases and labour cost which hold counts[i] signals of
// the pool's i-th class with the spare, and what they take; apart is how many modules redundant
// partners need at least. It leaves currents aside, so packing may pay more. A cost of Forbidden
// says that they cannot be held. The answer does not keep counts.
func (e *Env) PoolCost(pool int, counts []int, apart int) (q.Money, Use) {
	var buf [16]Row
	rows := buf[:0]
	for i, n := range counts {
		if n > 0 {
			rows = append(rows, Row{Class: e.Pools[pool].Classes[i], Type: -1, Count: n})
		}
	}
	if len(rows) == 0 {
		return 0, Use{}
	}
	if offers, _ := e.Offers(pool, counts, nil, apart, mostModules); len(offers) > 0 {
		best := &offers[len(offers)-1]
		return best.Cost, best.Use
	}
	plans, _ := e.Plans(pool, rows, apart, true, 0, 0)
	if len(plans) == 0 {
		return Forbidden, Use{}
	}
	return plans[0].Cost, plans[0].Use
}

// GroupUse is what one group key of a station holds.
type GroupUse struct {
	Slots int64
	Load  q.Microamps // of its signals
}

// StationCost returns what a station costs beyond its pools when these take use and its groups
// (one entry per Env.Groups) are as given: groups and their protections, coupler, enclosure,
// supply units, feeders, labour. bar is the limit that is broken, if one is.
func (p *Place) StationCost(use Use, groups []GroupUse) (q.Money, *Bar) {
	e := p.Env
	t := Total{Use: use}
	var cost q.Money
	first := true
	for g := range groups {
		if groups[g].Slots == 0 {
			continue
		}
		group := &e.Groups[g]
		n := int64(1)
		if e.Construction.Opening == hardware.ByEach {
			n = groups[g].Slots
		} else if group.Ceiling > 0 {
			n = max(1, q.CeilDiv(int64(groups[g].Load), int64(group.Ceiling)))
		}
		for i := range n {
			load := q.Microamps(0)
			if i == 0 {
				load = groups[g].Load
			}
			t.Add(group.Key, load)
		}
		cost += q.Money(n) * group.Opening
		opened := n
		if _, ok := e.CouplerPoint(group.Key.Voltage); ok && first {
			cost -= group.Opening - group.rim
			opened--
		}
		first = false
		if e.Construction.Opening == hardware.ByModule && opened > 0 {
			if pt, ok := e.firstPoint(group); ok {
				t.Use = t.Use.Plus(pt.Use.Times(opened))
			}
		}
	}
	f, bar := p.Frame(&t, Keep{})
	return cost + f.Cost, bar
}

func (e *Env) firstPoint(g *Group) (Point, bool) {
	for _, j := range g.Pools {
		for _, m := range e.Pools[j].Mods {
			if pts := e.Mods[m.Mod].Points; len(pts) > 0 {
				return pts[0], true
			}
		}
	}
	return Point{}, false
}

// Demand is what signals of one class ask of a station.
type Demand struct {
	Class int
	Count int
	Load  q.Microamps // least, on the supply group
}

// Demands joins signals to demands by class, ascending; ok is false if one of them cannot be served
// in the environment.
func (e *Env) Demands(signals []int) (list []Demand, ok bool) {
	at := map[int]int{}
	for _, i := range signals {
		t := e.TypeOf[i]
		if t < 0 {
			return nil, false
		}
		c := e.Types[t].Class
		n, seen := at[c]
		if !seen {
			n = len(list)
			at[c] = n
			list = append(list, Demand{Class: c})
		}
		list[n].Count++
		least := e.Types[t].Load[0]
		for _, l := range e.Types[t].Load {
			least = min(least, l)
		}
		list[n].Load += least
	}
	for i := 1; i < len(list); i++ {
		for k := i; k > 0 && list[k].Class < list[k-1].Class; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
	return list, true
}

// Floor returns a lower bound of what any station at the place pays that serves the signals: the
// fixed part (without the network's), opening charges, floors and surcharges of the certificate.
// Demands must be those of one station class.
func (p *Place) Floor(demands []Demand) q.Money {
	if p.Fixed >= Forbidden {
		return Forbidden
	}
	total := p.Fixed - p.Site.NetworkLeast
	counts := map[int]int{}
	for _, d := range demands {
		c := &p.Env.Classes[d.Class]
		counts[c.Pool] += d.Count
		total += q.Money(d.Count) * c.Surcharge
	}
	for j := range p.Env.Pools {
		if n := counts[j]; n > 0 {
			pool := &p.Env.Pools[j]
			total += p.Open[j] + pool.Floor[min(n, len(pool.Floor)-1)]
		}
	}
	return total
}

// Roof returns an upper bound of what packing pays for the signals where it finds a station at all
// and the dearest coupler, enclosure and supply units may be needed. It spreads every class over
// modules of its own, each in a group of its own.
func (p *Place) Roof(signals []int) q.Money {
	e := p.Env
	type heap struct {
		count, apart  int
		load, channel q.Microamps
	}
	heaps := map[int]*heap{}
	for _, i := range signals {
		c := e.ClassOf(i)
		if c < 0 {
			return Forbidden
		}
		h := heaps[c]
		if h == nil {
			h = &heap{}
			heaps[c] = h
		}
		t := &e.Types[e.TypeOf[i]]
		h.count++
		h.apart = max(h.apart, len(e.Book.Partners[i])+1)
		var load, channel q.Microamps
		for o := range t.Load {
			load, channel = max(load, t.Load[o]), max(channel, t.Channel[o])
		}
		h.load += load
		h.channel += channel
	}
	dearest := p.dearestFrame()
	total := dearest
	for c := range e.Classes {
		if h := heaps[c]; h != nil {
			total += e.roofOf(&e.Classes[c], h.count, h.apart, h.load, h.channel)
		}
	}
	return total
}

// roofOf prices a class alone: first fit never needs more than twice the bins of a sum, plus one.
func (e *Env) roofOf(c *Class, count, apart int, load, channel q.Microamps) q.Money {
	least := Forbidden
	pool := &e.Pools[c.Pool]
	need := int64(count) + q.CeilDiv(int64(count)*pool.Spare[c.Kind], 1000)
	for _, o := range c.Options {
		d := &e.Mods[o.Mod]
		if len(d.Points) == 0 || d.Kept {
			continue
		}
		n := q.CeilDiv(need, int64(d.M.Channels[o.Set].Count)) + int64(apart)
		if d.M.MaxTotal > 0 {
			n += 2*q.CeilDiv(int64(channel), int64(d.M.MaxTotal)) + 1
		}
		var dear q.Money
		room := q.Microamps(0)
		for _, pt := range d.Points {
			ceiling := fit.Ceiling(pt.Bus, &e.Book.Project.Basis)
			if _, prot, cost, ok := e.Open([]Point{pt}, d.M.SupplyKind, max(0, ceiling-pt.Use.Supply)); ok || prot != nil {
				dear, room = max(dear, cost), max(room, ceiling-d.M.Supply-pt.Use.Supply)
			} else {
				dear, room = max(dear, pt.Extra+e.dearestProtection(d.M.SupplyKind)), max(room, (ceiling-d.M.Supply-pt.Use.Supply)/2)
			}
		}
		if room > 0 {
			n += 2*q.CeilDiv(int64(load), int64(room)) + 1
		}
		least = min(least, q.Money(n)*(d.Price+dear+e.Book.Labour.Group))
	}
	return least
}

func (e *Env) dearestProtection(kind string) q.Money {
	var most q.Money
	for i := range e.Book.List.Protections {
		if p := &e.Book.List.Protections[i]; p.DC && fit.DC(kind) || p.AC && !fit.DC(kind) {
			most = max(most, p.Price)
		}
	}
	return most
}

func (p *Place) dearestFrame() q.Money {
	total := p.Site.FixedCost + p.Site.Feeder + p.Site.UPSFeeder + p.Env.Book.Labour.Station
	if p.EndPiece != nil {
		total += p.EndPiece.Price
	}
	var most q.Money
	for _, c := range p.Couplers {
		most = max(most, c.Price)
	}
	total += most
	if n := len(p.Enclosures); n > 0 {
		total += p.Enclosures[n-1].Price
	}
	for _, u := range p.Supplies {
		most = max(most, u.U.Price)
	}
	return total + 4*mostUnits*most
}
