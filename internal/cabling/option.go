package cabling

import (
	"math"
	"strconv"

	"railwright/internal/calc/conductor"
	"railwright/internal/calc/voltdrop"
	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// HotCopper is the conductor temperature at which voltages are computed: the limit of PVC insulation.
const HotCopper q.Temperature = 70

// Option is a bundle's field cable to one place.
type Option struct {
	Type    *hardware.Cable // nil: no cable may go there, Why says why
	Laid    q.Millimetres
	Ordered q.Millimetres
	Cost    q.Money // cable and pulling; ends and terminations are the same for every place
	Why     fit.NoCable
}

// Chooser finds field cables on one project's terms.
type Chooser struct {
	List  *hardware.List
	Basis *project.Basis
	Power project.Power
}

// Option returns the cable of a need over the given length of routes; kind is the voltage kind of the
// bundle's signals, ambient the place's highest. Least voltages are kept from a fully loaded group (docs/plan-rules.md, section 10);
// those of mains loads are no matter of a supply unit and are left to the checks.
func (c Chooser) Option(need fit.CableNeed, kind string, routes q.Millimetres, ambient q.Temperature) Option {
	laid := project.Laid(routes, c.Basis.Cable.AllowDevice, c.Basis.Cable.AllowStation)
	var at fit.AtLoad
	if fit.DC(kind) {
		at = c.atLoad(kind)
	}
	cable, why := fit.CableFor(c.List, need, laid, at, loopAt(ambient))
	o := Option{Type: cable, Laid: laid, Why: why}
	if cable == nil {
		return o
	}
	o.Ordered = c.Basis.Cable.Ordered(laid)
	o.Cost = cable.Price.Of(o.Ordered) + c.Basis.Prices.Labour(c.Basis.Prices.PullPerMetre).Of(laid)
	return o
}

// Constant returns what a bundle costs wherever it goes: two cable ends, two terminations for each
// conductor, one check for each signal.
func (c Chooser) Constant(conductors, signals int) q.Money {
	p := c.Basis.Prices
	return 2*p.Labour(p.CableEnd) + q.Money(2*conductors)*p.Labour(p.Termination) + q.Money(signals)*p.Labour(p.SignalCheck)
}

// SupplyFloor returns the lowest mean voltage at the terminals of the supply units of a voltage kind:
// what the project states for 24 V, twice that for 48 V.
func SupplyFloor(power project.Power, kind string) q.Voltage {
	if kind == fit.V48 {
		return 2 * power.SupplyMin
	}
	return power.SupplyMin
}

// GroupVoltage returns the lowest voltage at the infeed point of a DC group of the voltage kind that
// draws the current.
func GroupVoltage(power project.Power, b *project.Basis, kind string, load q.Current) q.Voltage {
	r, err := conductor.ResistancePerLength(b.Supply.InfeedArea, conductor.Class5, HotCopper)
	if err != nil {
		return 0
	}
	u, err := voltdrop.AtLoad(SupplyFloor(power, kind), b.Supply.InfeedLen.Length(), r, load)
	if err != nil {
		return 0
	}
	return u
}

// atLoad computes the voltage at the far end of a field cable from a fully loaded group. A conductor
// whose resistance nobody knows is taken to carry nothing.
func (c Chooser) atLoad(kind string) fit.AtLoad {
	source := GroupVoltage(c.Power, c.Basis, kind, c.Basis.Group.MaxCurrent.Current())
	return func(cable *hardware.Cable, laid q.Millimetres, i q.Microamps) q.Voltage {
		r, err := conductor.ResistancePerLength(cable.Area, conductor.Class(strconv.Itoa(cable.Class)), HotCopper)
		if err != nil {
			return 0
		}
		u, err := voltdrop.AtLoad(source, laid.Length(), r, i.Current())
		if err != nil {
			return 0
		}
		return u
	}
}

// loopAt computes the resistance of both cores of a cable in milliohms. A conductor whose resistance nobody
// knows keeps no line.
func loopAt(ambient q.Temperature) fit.LoopOf {
	return func(cable *hardware.Cable, laid q.Millimetres, warm bool) int64 {
		t := HotCopper
		if warm {
			t = ambient
		}
		r, err := conductor.ResistancePerLength(cable.Area, conductor.Class(strconv.Itoa(cable.Class)), t)
		if err != nil {
			return math.MaxInt64
		}
		return int64(math.Ceil(1000*2*laid.Metres()*float64(r) - 1e-6))
	}
}

// AtChannels returns the lowest voltage at the channels of a group of a voltage kind that carries the most
// that the basis allows; of mains the lowest that the basis allows.
func (c Chooser) AtChannels(kind string) q.Voltage {
	low := q.Voltage(1000-c.Basis.Circuit.MainsLow) / 1000
	switch kind {
	case fit.V120:
		return 120 * low
	case fit.V230:
		return 230 * low
	}
	return GroupVoltage(c.Power, c.Basis, kind, c.Basis.Group.MaxCurrent.Current())
}

// Drop returns the voltage that both cores of a cable lose at the current and hot copper; 0 where
// nobody knows the conductor's resistance.
func Drop(cable *hardware.Cable, laid q.Millimetres, i q.Microamps) q.Voltage {
	r, err := conductor.ResistancePerLength(cable.Area, conductor.Class(strconv.Itoa(cable.Class)), HotCopper)
	if err != nil {
		return 0
	}
	return 2 * i.Current().Through(r.Of(laid.Length()))
}
