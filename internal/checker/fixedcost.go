package checker

import (
	"math"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// fixedCost is Fixed[p]: what a station at the place costs at least before it serves anything.
func (c *bound) fixedCost(pl project.Place, m *market) (int64, bool) {
	con := c.parts.construction[m.env.construction]
	if con == nil {
		return 0, false
	}
	coupler, enclosure := c.bareFrame(pl, m)
	supply, ok := c.cheapestUnit(m.env.ambient)
	feeder, fed := c.feederMoney(pl, "normal")
	if coupler >= never || enclosure >= never || !ok || !fed {
		return 0, false
	}
	network := c.networkLeast(pl)
	if network >= never {
		return 0, false
	}
	sum := int64(pl.FixedCost) + coupler + enclosure + supply + feeder + c.labour("station") + network
	if con.EndPiece != "" {
		sum += c.parts.price[con.EndPiece]
	}
	if con.CouplerFeeds {
		most := int64(0)
		for _, p := range m.pools {
			if len(p.group) > 5 && p.group[:5] == "24vdc" {
				most = max(most, m.bare[p.group])
			}
		}
		sum -= most
	}
	return sum, true
}

// bareFrame is the cheapest coupler and the cheapest enclosure of any size; never: none.
func (c *bound) bareFrame(pl project.Place, m *market) (coupler, enclosure int64) {
	k := cheapest(c.run, c.hw.Couplers, func(k *hardware.Coupler) string { return k.Code }, func(k *hardware.Coupler) bool {
		return c.couplerAllowed(k, m.env)
	})
	e := c.enclosureFor(pl, 0, 0)
	if k == nil || e == nil {
		return never, never
	}
	return int64(k.Price), int64(e.Price)
}

func (c *bound) unitAllowed(u *hardware.SupplyUnit, ambient float64) bool {
	return !c.unused[u.Code] && (u.AmbientMax == 0 || float64(u.AmbientMax) >= ambient) && math.Abs(float64(u.Voltage)-24) < 0.5
}

func (c *bound) cheapestUnit(ambient float64) (int64, bool) {
	u := cheapest(c.run, c.hw.Supplies, func(u *hardware.SupplyUnit) string { return u.Code }, func(u *hardware.SupplyUnit) bool {
		return c.unitAllowed(u, ambient)
	})
	if u == nil {
		return 0, false
	}
	return int64(u.Price), true
}

// feederMoney is a feeder's cable, pull, ends, terminations and cheapest protection.
func (c *bound) feederMoney(pl project.Place, class string) (int64, bool) {
	source, ok := c.source(&station{docStation: &docStation{Place: pl.ID}}, class)
	cable := c.feederType()
	laid, way := c.linkLaid(source, pl.ID)
	device := c.protectionFor(false, 0, 0)
	if !ok || !way || cable == nil || device == nil {
		return 0, false
	}
	return cableMoney(c.ordered(laid), int64(cable.Price)) + cableMoney(laid, c.labour("pull")) +
		2*c.labour("cable_end") + 6*c.labour("termination") + int64(device.Price), true
}

// upsExtra is what the first ups group at a place costs beside its opening.
func (c *bound) upsExtra(pl project.Place, env environment) int64 {
	supply, _ := c.cheapestUnit(env.ambient)
	feeder, _ := c.feederMoney(pl, "ups")
	return supply + feeder
}

// networkLeast is the least that joining the place to the network costs; never or more: no way.
func (c *bound) networkLeast(pl project.Place) int64 {
	profile := c.parts.network[c.p.Network.Profile]
	if profile == nil {
		return 0
	}
	cable := func(to string) int64 {
		laid, ok := c.linkLaid(pl.ID, to)
		if !ok {
			return never
		}
		return cableMoney(c.ordered(laid), c.parts.price[profile.Cable]) + cableMoney(laid, c.labour("pull")) +
			2*c.labour("network_end") + 2*c.parts.price[profile.EndPart]
	}
	controller := c.nodePlace("")
	if c.p.Network.Topology == "star" {
		sum := cable(controller)
		if profile.SwitchPart != "" && profile.SwitchPorts > 0 {
			sum += c.parts.price[profile.SwitchPart] / int64(profile.SwitchPorts)
		}
		return sum
	}
	others := []string{controller}
	for _, o := range c.p.Places {
		if o.ID != pl.ID && (c.mayStand(o) || c.fixedStations(o.ID) > 0) {
			others = append(others, o.ID)
		}
	}
	if pl.MaxStations > 1 {
		others = append(others, pl.ID) // a second station of this place may be the nearest
	}
	least := int64(never)
	for _, o := range others {
		least = min(least, cable(o))
	}
	return least
}
