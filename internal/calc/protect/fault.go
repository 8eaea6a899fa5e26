package protect

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/calc/conductor"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Source is what drives a fault current.
type Source struct {
	Lowest   quantity.Voltage    // at its terminals under load, for the smallest fault current
	Highest  quantity.Voltage    // for the largest
	Internal quantity.Resistance // of the source; 0: ideal
	Limit    quantity.Current    // what an electronic supply gives at most into a short; 0: no limit
	Boost    quantity.Current    // what it gives for BoostTime first; 0: no boost
	BoostFor quantity.Duration
}

func (s Source) check() error {
	return errors.Join(calc.PositiveVoltage("lowest source voltage", s.Lowest), calc.Within("highest source voltage", s.Highest, float64(s.Lowest), 1500, "V"),
		calc.Resistance("internal resistance", s.Internal), calc.Current("current limit", s.Limit),
		calc.Current("boost current", s.Boost), calc.Time("boost time", s.BoostFor))
}

// limitFor returns the most that the source gives to a device that needs time t to trip; Inf for none.
func (s Source) limitFor(t quantity.Duration) quantity.Current {
	if s.Limit == 0 {
		return quantity.Current(math.Inf(1))
	}
	if s.Boost > s.Limit && t <= s.BoostFor {
		return s.Boost
	}
	return s.Limit
}

// FormulaMinFault gives the smallest fault current at the end of a feeder.
var FormulaMinFault = &formula.Formula{
	Name: "protect.min_fault",
	Text: "min(source / (r_internal + 2 * length * r / 1000), limit)",
	Inputs: []formula.Input{
		{Name: "source", Unit: "V", Doc: "lowest source voltage"},
		{Name: "r_internal", Unit: "ohm", Doc: "source and whatever lies before the feeder"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, hot"},
		{Name: "limit", Unit: "A", Doc: "what the source gives at most"},
	},
	Result: formula.Input{Name: "i_fault", Unit: "A"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return math.Min(x[0]/(x[1]+2*x[2]*x[3]/1000), x[4]) },
}

// FormulaMaxFault gives the largest fault current at a point.
var FormulaMaxFault = &formula.Formula{
	Name: "protect.max_fault",
	Text: "min(source / (r_internal + 2 * length * r / 1000), limit)",
	Inputs: []formula.Input{
		{Name: "source", Unit: "V", Doc: "highest source voltage"},
		{Name: "r_internal", Unit: "ohm", Doc: "source and whatever lies before the feeder"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, cold"},
		{Name: "limit", Unit: "A", Doc: "what the source gives at most, boost included"},
	},
	Result: formula.Input{Name: "i_fault", Unit: "A"},
	Source: "arithmetic#ohm",
	Eval:   FormulaMinFault.Eval,
}

// FormulaFault gives the fault current of a source that does not limit it.
var FormulaFault = &formula.Formula{
	Name:   "protect.fault",
	Text:   "source / (r_internal + 2 * length * r / 1000)",
	Inputs: FormulaMinFault.Inputs[:4],
	Result: formula.Input{Name: "i_fault", Unit: "A"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] / (x[1] + 2*x[2]*x[3]/1000) },
}

// MinFault returns the smallest current of a short at the end of a feeder: lowest voltage, hot
// copper, and the source's limit for a device that needs tripTime.
//
//	I = min(U_low / (R_i + R_before + 2 l r_hot), I_limit)
//
// before is any loop resistance between source and feeder; hot the resistance of one core at the
// temperature from which a fault starts or, safer, at the insulation's limit. The result is
// infinite only for a source without resistance and limit at length 0, which is refused.
//
// Source: Ohm's law; the choice of hot and low is common practice (IEC 60909-0 2.4 has it for AC).
func MinFault(s Source, before quantity.Resistance, l quantity.Length, hot quantity.ResistancePerLength, tripTime quantity.Duration) (quantity.Current, error) {
	if err := errors.Join(s.check(), calc.Resistance("resistance before", before), calc.Length("cable length", l), calc.PerLength("resistance per length", hot), calc.Time("trip time", tripTime)); err != nil {
		return 0, err
	}
	return fault(s.Lowest, s.Internal+before+hot.Of(2*l), s.limitFor(tripTime))
}

// MaxFault returns the largest current of a short at the end of a feeder: highest voltage, cold
// copper (20 degC or the lowest ambient), boost included. The discharge of a supply's output
// capacitors, some milliseconds long, is not counted.
//
// Source: Ohm's law.
func MaxFault(s Source, before quantity.Resistance, l quantity.Length, cold quantity.ResistancePerLength) (quantity.Current, error) {
	if err := errors.Join(s.check(), calc.Resistance("resistance before", before), calc.Length("cable length", l), calc.PerLength("resistance per length", cold)); err != nil {
		return 0, err
	}
	return fault(s.Highest, s.Internal+before+cold.Of(2*l), s.limitFor(0))
}

func fault(u quantity.Voltage, r quantity.Resistance, limit quantity.Current) (quantity.Current, error) {
	if r == 0 && math.IsInf(float64(limit), 1) {
		return 0, calc.PositiveResistance("resistance of the fault loop", r)
	}
	return quantity.Current(math.Min(float64(u)/float64(r), float64(limit))), nil
}

// Verdict says whether a device clears a fault.
type Verdict struct {
	Fault    quantity.Current // smallest
	Needs    quantity.Current // the device's upper edge
	Within   quantity.Duration
	Trips    bool
	Limited  bool // the source's limit, not the cable, is what keeps the current down
	NeverCan bool // even at the terminals the source does not give what the device needs
}

// Clears reports whether a device clears a short at the end of a feeder promptly.
//
// Source: MinFault against Device.Trip.
func Clears(d Device, s Source, before quantity.Resistance, l quantity.Length, hot quantity.ResistancePerLength) (Verdict, error) {
	t, err := d.Trip()
	if err != nil {
		return Verdict{}, err
	}
	i, err := MinFault(s, before, l, hot, t.Within)
	if err != nil {
		return Verdict{}, err
	}
	limit := s.limitFor(t.Within)
	return Verdict{Fault: i, Needs: t.Trips, Within: t.Within, Trips: atMost(t.Trips, i), Limited: i == limit, NeverCan: !atMost(t.Trips, limit)}, nil
}

// FormulaLongest gives the longest feeder behind which a device still trips.
var FormulaLongest = &formula.Formula{
	Name: "protect.longest",
	Text: "max(0, (source / i_trip - r_before) / (2 * r / 1000))",
	Inputs: []formula.Input{
		{Name: "source", Unit: "V", Doc: "lowest source voltage"},
		{Name: "i_trip", Unit: "A", Doc: "surely trips the device"},
		{Name: "r_before", Unit: "ohm", Doc: "source and whatever lies before the feeder"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, hot"},
	},
	Result: formula.Input{Name: "length", Unit: "m", Doc: "one way"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return math.Max(0, (x[0]/x[1]-x[2])/(2*x[3]/1000)) },
}

// LongestFor returns the longest one-way feeder at whose end the device still trips; 0 if it does
// not even at the source, as behind a supply that limits its current.
//
//	l = (U_low / I_trip - R_i - R_before) / (2 r_hot)
//
// Source: MinFault solved for the length.
func LongestFor(d Device, s Source, before quantity.Resistance, hot quantity.ResistancePerLength) (quantity.Length, error) {
	t, err := d.Trip()
	if err = errors.Join(err, s.check(), calc.Resistance("resistance before", before), calc.PerLength("resistance per length", hot)); err != nil {
		return 0, err
	}
	if !atMost(t.Trips, s.limitFor(t.Within)) {
		return 0, nil
	}
	l := FormulaLongest.Eval([]float64{float64(s.Lowest), float64(t.Trips), float64(s.Internal + before), float64(hot) * 1000})
	return quantity.Length(math.Min(l, 100e3)), nil
}

// ConductorFor returns the smallest size of a class at which the device trips for a short at the
// end of a feeder of length l; temp is the copper's temperature. found is false if no size does.
func ConductorFor(d Device, s Source, before quantity.Resistance, l quantity.Length, class conductor.Class, temp quantity.Temperature) (area quantity.CrossSection, v Verdict, found bool, err error) {
	if _, err := conductor.At20(1, class); err != nil {
		return 0, Verdict{}, false, err
	}
	for _, area := range conductor.Sizes(class) {
		r, err := conductor.ResistancePerLength(area, class, temp)
		if err != nil {
			return 0, Verdict{}, false, err
		}
		if v, err = Clears(d, s, before, l, r); err != nil {
			return 0, Verdict{}, false, err
		}
		if v.Trips {
			return area, v, true, nil
		}
	}
	return 0, v, false, nil
}

// Breaks reports whether a device's breaking capacity covers the largest fault current; it is an
// error to ask for a device that states none.
func Breaks(d Device, largest quantity.Current) (bool, error) {
	if err := errors.Join(d.check(), calc.PositiveCurrent("breaking capacity", d.Breaking), calc.Current("largest fault current", largest)); err != nil {
		return false, err
	}
	return atMost(largest, d.Breaking), nil
}
