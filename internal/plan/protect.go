package plan

import (
	"math"
	"slices"
	"strconv"

	"railwright/internal/calc/conductor"
	"railwright/internal/figure"
	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/packing"
	"railwright/internal/power"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// settle gives the supply groups of a packed station the devices that a short trips. Packing takes the
// cheapest device that is rated for a group, since only a complete station has supply units and feeders
// and so a fault current. Devices that a choice fixes stay, or come in where they are rated. The enclosure
// follows the devices' widths and all that gives off heat; where none holds them, everything stays as packed.
func (pr *problem) settle(s *site, st *packing.Station, id string) *packing.Station {
	out := *st
	out.Groups = slices.Clone(st.Groups)
	feeders := map[string]*hardware.Protection{}
	for i := range out.Groups {
		g := &out.Groups[i]
		d := pr.device(s, st, i, id, feeders)
		if d == nil || d == g.Protection || g.Protection.Code == "" {
			continue
		}
		out.Cost.Total += d.Price - g.Protection.Price
		g.Protection = d
		g.Limit = d.Rating
		if c := fit.Ceiling(busOf(s, st, g), &pr.g.p.Basis); c > 0 {
			g.Limit = min(c, d.Rating)
		}
	}
	if pr.enclose(s, &out, id) {
		return &out
	}
	return st
}

// device is the protective device of group number i: that of a choice, or the plan's; nil where the list
// has none.
func (pr *problem) device(s *site, st *packing.Station, i int, id string, feeders map[string]*hardware.Protection) *hardware.Protection {
	g := &st.Groups[i]
	b := pr.behind(s, st, g, feeders)
	if code := pr.g.choices.protection[id][startOf(g)]; code != "" {
		if d, ok := pr.g.list.Protection(code); ok && (g.Fixed || b.Rated(d)) {
			return d
		}
	}
	d, _ := power.Device(pr.g.list, b, pr.g.allowed)
	return d
}

// startOf is the slot that names a group in choices; 0 for the one that the coupler feeds.
func startOf(g *packing.Group) int {
	if g.AtCoupler {
		return 0
	}
	return g.First
}

// busOf is the most that a group's infeed point takes; 0: no limit stated.
func busOf(s *site, st *packing.Station, g *packing.Group) q.Microamps {
	c := s.prices.Env.Construction
	if g.AtCoupler {
		return c.CouplerLimit
	}
	sl := &st.Slots[g.First-1]
	if sl.Module.Infeed || c.Opening == hardware.ByEach {
		return sl.Module.BusLimit
	}
	if sl.Base != nil {
		return sl.Base.BusLimit
	}
	return 0
}

// behind gathers what a group's device must keep (docs/plan-rules.md, section 4).
func (pr *problem) behind(s *site, st *packing.Station, g *packing.Group, feeders map[string]*hardware.Protection) power.Behind {
	b := power.Behind{DC: fit.DC(g.Key.Voltage), Load: g.Load, Bus: busOf(s, st, g), Least: math.MaxInt64}
	basis := &pr.g.p.Basis
	r, err := conductor.ResistancePerLength(basis.Supply.InfeedArea, conductor.Class5, 70)
	if err != nil {
		return b
	}
	loop := 2 * basis.Supply.InfeedLen.Metres() * float64(r)
	if b.DC {
		volts := pr.g.p.Power.SupplyMin
		if g.Key.Voltage == fit.V48 {
			volts *= 2
		}
		var left q.Microamps
		left, b.Most = gives(st, feedOf(g), g.Key.Voltage)
		b.Least = power.Short(volts, loop, left)
		return b
	}
	f, ok := pr.feedFor(s, st, feedOf(g))
	if !ok {
		return b
	}
	b.Feeder = f.device
	volts, _ := figure.Mains(g.Key.Voltage, pr.g.p.Power.FeederVoltage)
	b.Least, b.Most = pr.mainsShort(&f, volts, loop)
	return b
}

// gives is what the supply units of a feed give into a short, without those that may fail and with them; 0
// where nobody knows.
func gives(st *packing.Station, class, kind string) (least, most q.Microamps) {
	i := slices.IndexFunc(st.Supplies, func(p tariff.SupplyPick) bool { return p.Class == class && p.Kind == kind })
	if i < 0 {
		return 0, 0
	}
	p := &st.Supplies[i]
	each := q.ToMicroamps(p.Unit.ShortCurrent)
	return each * q.Microamps(p.Count-p.Spare), each * q.Microamps(p.Count)
}

// mainsShort is the smallest and largest current of a short behind a feeder and an infeed loop: lowest
// mains, hot copper; highest mains, cold copper and no more than at the board.
func (pr *problem) mainsShort(f *feed, volts q.Voltage, infeed float64) (least, most q.Microamps) {
	basis := &pr.g.p.Basis
	class := conductor.Class(strconv.Itoa(f.cable.Class))
	hot, err1 := conductor.ResistancePerLength(f.cable.Area, class, 70)
	cold, err2 := conductor.ResistancePerLength(f.cable.Area, class, 20)
	if err1 != nil || err2 != nil {
		return math.MaxInt64, 0
	}
	low, high := volts*q.Voltage(1000-basis.Circuit.MainsLow)/1000, volts*q.Voltage(1000+basis.Circuit.MainsHigh)/1000
	way := 2 * f.from.Laid.Metres()
	least = power.Short(low, float64(basis.Feeder.BoardLoop)+way*float64(hot)+infeed, 0)
	return least, power.Short(high, way*float64(cold), q.ToMicroamps(basis.Feeder.BoardFault))
}
