package tariff

import (
	"railwright/internal/fit"
	q "railwright/internal/quantity"
)

// UPSExtra is the least that the first supply group of class ups costs a station here beside the
// group itself: a supply unit and the feeder.
func (p *Place) UPSExtra() q.Money { return p.upsExtra }

// LeastFrame returns the least that a station with so many modules or more costs beside its modules
// and groups: coupler, end piece, enclosure, supply unit, feeder, labour and its least part of the
// network (docs/certificate.md). It is Forbidden where no coupler takes so many.
func (p *Place) LeastFrame(modules int) q.Money {
	if modules == 0 || p.Fixed >= Forbidden {
		return p.Fixed
	}
	best := Forbidden
	for _, c := range p.Couplers {
		if p.slotsOf(c.MaxSlots) < modules+p.Env.Book.floorFreeSlots() {
			continue
		}
		rail := c.Width + q.Millimetres(modules)*p.narrowest()
		if p.EndPiece != nil {
			rail += p.EndPiece.Width
		}
		box, ok := p.leastEnclosure(rail)
		if !ok {
			continue
		}
		best = min(best, p.Fixed-p.Couplers[0].Price-p.Enclosures[0].Price+c.Price+box)
	}
	return best
}

// slotsOf is the fewest of a coupler's, the construction's and the place's slots.
func (p *Place) slotsOf(coupler int) int {
	n := coupler
	if s := p.Env.Construction.MaxSlots; s > 0 {
		n = min(n, s)
	}
	if s := p.Site.MaxSlots; s > 0 {
		n = min(n, s)
	}
	return n
}

// narrowest is the width of the narrowest slot of the environment.
func (p *Place) narrowest() q.Millimetres {
	least := q.Millimetres(-1)
	for i := range p.Env.Mods {
		if w := p.Env.Mods[i].Slot.Rail; least < 0 || w < least {
			least = w
		}
	}
	return max(least, 0)
}

// leastEnclosure is the cheapest enclosure that takes the rail and the narrowest supply unit.
func (p *Place) leastEnclosure(rail q.Millimetres) (q.Money, bool) {
	unit := q.Millimetres(-1)
	for _, u := range p.Supplies {
		if u.Kind == fit.V24 && (unit < 0 || u.U.Width < unit) {
			unit = u.U.Width
		}
	}
	width := q.Millimetres(q.CeilDiv(int64(rail+max(unit, 0))*(1000+p.Reserve), 1000))
	for _, e := range p.Enclosures {
		if e.Row >= rail && e.Rail >= width {
			return e.Price, true
		}
	}
	return 0, false
}
