package tariff

import (
	"cmp"
	"slices"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// Place is the prices that hold for a station at one site.
type Place struct {
	Env        *Env
	Site       Site
	Couplers   []*hardware.Coupler   // usable here, cheapest first
	Enclosures []*hardware.Enclosure // usable here, cheapest first
	Supplies   []Unit                // usable here, by code
	Fixed      q.Money               // least money an empty station costs, for the bound; Forbidden if none can stand here
	EndPiece   *hardware.Part        // nil where the construction needs none
	Cap        []int                 // per pool: no station here holds more of its signals
	Open       []q.Money             // per pool: the place-dependent opening charge of the bound
	Reserve    int64                 // per mille of rail kept free in the enclosure
	upsExtra   q.Money
}

// Unit is a supply unit with its output at the place's ambient.
type Unit struct {
	U      *hardware.SupplyUnit
	Output q.Microamps
	Kind   string // voltage kind that it serves
}

func (b *Book) newPlace(site Site, e *Env) *Place {
	p := &Place{Env: e, Site: site, Reserve: b.Project.Basis.Reserve["enclosure"]}
	for i := range b.List.Couplers {
		c := &b.List.Couplers[i]
		if c.Construction == site.Construction && c.Network == site.Network && site.Ambient <= c.AmbientMax && !b.Off[c.Code] {
			p.Couplers = append(p.Couplers, c)
		}
	}
	slices.SortStableFunc(p.Couplers, func(x, y *hardware.Coupler) int { return cmp.Compare(x.Price, y.Price) })
	for i := range b.List.Enclosures {
		c := &b.List.Enclosures[i]
		if (c.Outdoor || !site.Outdoor) && !b.Off[c.Code] {
			p.Enclosures = append(p.Enclosures, c)
		}
	}
	slices.SortStableFunc(p.Enclosures, func(x, y *hardware.Enclosure) int { return cmp.Compare(x.Price, y.Price) })
	for i := range b.List.Supplies {
		u := &b.List.Supplies[i]
		if site.Ambient <= u.AmbientMax && !b.Off[u.Code] {
			p.Supplies = append(p.Supplies, Unit{u, Derated(u, site.Ambient), unitKind(u.Voltage)})
		}
	}
	if code := e.Construction.EndPiece; code != "" {
		p.EndPiece, _ = b.List.Part(code)
	}
	p.bound()
	return p
}

func unitKind(v q.Voltage) string {
	if v >= 40 {
		return fit.V48
	}
	return fit.V24
}

// Derated returns the output of a supply unit at an ambient, floored to whole microamperes. The
// ambient counts in whole 1/1000 K.
func Derated(u *hardware.SupplyUnit, ambient q.Temperature) q.Microamps {
	above := int64((ambient-u.DerateFrom)*1000 + 0.5)
	if above <= 0 {
		return u.Output
	}
	left := 1_000_000 - u.DeratePerK*above
	if left <= 0 {
		return 0
	}
	return q.Microamps(int64(u.Output) * left / 1_000_000)
}

// bound fills the figures of the lower bound.
func (p *Place) bound() {
	e, b := p.Env, p.Env.Book
	p.Fixed = Forbidden
	p.Cap, p.Open = make([]int, len(e.Pools)), make([]q.Money, len(e.Pools))
	unit, okUnit := p.cheapestUnit()
	if len(p.Couplers) == 0 || len(p.Enclosures) == 0 || !okUnit {
		return
	}
	p.Fixed = p.Site.FixedCost + p.Couplers[0].Price + p.Enclosures[0].Price + unit + p.Site.Feeder + p.Site.NetworkLeast + b.Labour.Station
	if p.EndPiece != nil {
		p.Fixed += p.EndPiece.Price
	}
	var fed q.Money
	ups := 0
	for g := range e.Groups {
		group := &e.Groups[g]
		if _, ok := e.CouplerPoint(group.Key.Voltage); ok {
			fed = max(fed, group.Opening-group.rim)
		}
		if group.UPS {
			ups += len(group.Pools)
		}
	}
	p.Fixed -= fed
	p.upsExtra = unit + p.Site.UPSFeeder
	slots := p.mostSlots()
	for j := range e.Pools {
		group := &e.Groups[e.Pools[j].Group]
		p.Open[j] = group.Opening / q.Money(len(group.Pools))
		if group.UPS {
			p.Open[j] += p.upsExtra / q.Money(ups)
		}
		most := 0
		for _, pm := range e.Pools[j].Mods {
			most = max(most, pm.Channels)
		}
		p.Cap[j] = slots * most
	}
}

func (p *Place) cheapestUnit() (q.Money, bool) {
	least, ok := Forbidden, false
	for _, u := range p.Supplies {
		if u.Kind == fit.V24 && u.Output > 0 {
			least, ok = min(least, u.U.Price), true
		}
	}
	return least, ok
}

// mostSlots returns the smallest slot limit, with the most generous of the couplers.
func (p *Place) mostSlots() int {
	most := 0
	for _, c := range p.Couplers {
		most = max(most, c.MaxSlots)
	}
	if s := p.Env.Construction.MaxSlots; s > 0 {
		most = min(most, s)
	}
	if s := p.Site.MaxSlots; s > 0 {
		most = min(most, s)
	}
	return most
}
