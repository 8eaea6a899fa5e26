package tariff

import (
	"slices"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// priceClasses fills unit prices, surcharges, residual prices and floors as docs/certificate.md
// says.
func (e *Env) priceClasses() {
	for j := range e.Pools {
		p := &e.Pools[j]
		least := Forbidden
		for _, c := range p.Classes {
			e.Classes[c].Unit = e.unit(p, &e.Classes[c])
			least = min(least, e.Classes[c].Unit)
		}
		for _, c := range p.Classes {
			e.Classes[c].Surcharge = e.Classes[c].Unit - least
		}
		p.Weight = max(1, least)
		for m := range p.Mods {
			pm := &p.Mods[m]
			var most q.Money
			for _, c := range p.Classes {
				if e.fits(&e.Classes[c], pm) {
					most = max(most, e.Classes[c].Surcharge)
				}
			}
			pm.Residual = e.Mods[pm.Mod].Least - q.Money(pm.Channels)*most
		}
		p.Floor = floors(p)
	}
}

func (e *Env) fits(c *Class, pm *PoolMod) bool {
	return slices.ContainsFunc(c.Options, func(o Option) bool { return o.Mod == pm.Mod })
}

func (e *Env) unit(p *Pool, c *Class) q.Money {
	least := Forbidden
	for m := range p.Mods {
		if e.fits(c, &p.Mods[m]) {
			least = min(least, e.Mods[p.Mods[m].Mod].Least/q.Money(p.Mods[m].Channels))
		}
	}
	return least
}

// floors returns F(n) for n = 0 to the pool's number of signals: an unbounded covering knapsack of
// n and its spare.
func floors(p *Pool) []q.Money {
	need := func(n int) int { return n + int((int64(n)*p.LeastSpare+999)/1000) }
	top := need(p.Signals)
	cover := make([]q.Money, top+1)
	for x := 1; x <= top; x++ {
		cover[x] = Forbidden
		for _, pm := range p.Mods {
			cover[x] = min(cover[x], cover[max(0, x-pm.Channels)]+pm.Residual)
		}
	}
	out := make([]q.Money, p.Signals+1)
	for n := 1; n <= p.Signals; n++ {
		out[n] = cover[need(n)]
	}
	return out
}

// priceGroups fills the least that opening a group of each key costs.
func (e *Env) priceGroups() {
	if e.Construction.Opening == hardware.ByEach {
		for g := range e.Groups {
			e.Groups[g].Ceiling = e.ceilingOf(&e.Groups[g])
		}
		return // it is in the modules' price
	}
	for g := range e.Groups {
		group := &e.Groups[g]
		group.rim = e.Book.Labour.Group
		if p, ok := fit.ProtectionFor(e.Book.List, group.Key.Voltage, 0, 0, e.Book.Off); ok {
			group.rim += p.Price
		}
		group.Opening = e.leastPoint(group) + group.rim
		group.Ceiling = e.ceilingOf(group)
	}
}

func (e *Env) ceilingOf(g *Group) q.Microamps {
	var most q.Microamps
	for _, j := range g.Pools {
		for _, pm := range e.Pools[j].Mods {
			for _, p := range e.Mods[pm.Mod].Points {
				c := fit.Ceiling(p.Bus, &e.Book.Project.Basis)
				if c == 0 {
					return 0
				}
				most = max(most, c)
			}
		}
	}
	return most
}

// keepsInfeed reports whether an infeed module stands that is not to be bought again: what it would cost is
// no floor for what is there.
func (e *Env) keepsInfeed() bool {
	for code := range e.Book.Kept {
		if m, ok := e.Book.List.Module(code); ok && m.Infeed {
			return true
		}
	}
	return false
}

// leastPoint returns the least extra price of an infeed point for the group's modules.
func (e *Env) leastPoint(g *Group) q.Money {
	least := Forbidden
	if e.Construction.Opening == hardware.ByModule && e.keepsInfeed() {
		return 0
	}
	for _, j := range g.Pools {
		for _, pm := range e.Pools[j].Mods {
			d := &e.Mods[pm.Mod]
			if e.Construction.Opening == hardware.ByModule {
				for _, p := range d.Points {
					least = min(least, p.Extra)
				}
				continue
			}
			for _, p := range d.Points {
				least = min(least, max(0, d.M.Price+e.Book.Labour.Module+p.Base.Price-d.Least))
			}
		}
	}
	if least == Forbidden {
		return 0
	}
	return least
}
