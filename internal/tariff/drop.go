package tariff

import (
	"railwright/internal/calc/conductor"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// HotCopper is the conductor temperature at which voltages are held against their minimum.
const HotCopper q.Temperature = 70

// AtEnd returns the voltage at the far end of a cable's two cores that carry a steady direct
// current, with copper at 70 degC: at - 2 x laid x r x I (docs/plan-rules.md section 10). An area
// that the table of IEC 60228 does not hold takes the resistance of solid copper. It serves as
// fit.AtLoad once at is known.
func AtEnd(c *hardware.Cable, laid q.Millimetres, i q.Microamps, at q.Voltage) q.Voltage {
	class := conductor.Class5
	switch c.Class {
	case 1:
		class = conductor.Class1
	case 2:
		class = conductor.Class2
	}
	return at - i.Current().Through(HotResistance(c.Area, class).Of(2*laid.Length()))
}

// HotResistance returns the resistance per length of one core at 70 degC.
func HotResistance(area q.CrossSection, class conductor.Class) q.ResistancePerLength {
	r, err := conductor.ResistancePerLength(area, class, HotCopper)
	if err != nil {
		return 0
	}
	return r
}

// LeastAtChannel returns the lowest voltage at the channels of any group that the basis allows: the
// supply's least voltage less the drop of the infeed conductors at the most group current.
func (b *Book) LeastAtChannel() q.Voltage {
	basis := &b.Project.Basis
	r := HotResistance(basis.Supply.InfeedArea, conductor.Class5)
	return b.Project.Power.SupplyMin - basis.Group.MaxCurrent.Current().Through(r.Of(2*basis.Supply.InfeedLen.Length()))
}
