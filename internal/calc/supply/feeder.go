package supply

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaInputCurrentSingle gives the current that a single-phase supply draws.
var FormulaInputCurrentSingle = &formula.Formula{
	Name: "supply.input_current",
	Text: "power / (efficiency / 100 * mains * power_factor)",
	Inputs: []formula.Input{
		{Name: "power", Unit: "W", Doc: "given to the loads"}, {Name: "efficiency", Unit: "%"}, {Name: "mains", Unit: "V", Doc: "lowest"}, {Name: "power_factor", Unit: "1"},
	},
	Result: formula.Input{Name: "current", Unit: "A"},
	Source: "arithmetic#power",
	Eval:   func(x []float64) float64 { return x[0] / (x[1] / 100 * x[2] * x[3]) },
}

// FormulaInputCurrentThree gives the current that a three-phase supply draws in each phase.
var FormulaInputCurrentThree = &formula.Formula{
	Name:   "supply.input_current_three",
	Text:   "power / (sqrt(3) * efficiency / 100 * mains * power_factor)",
	Inputs: FormulaInputCurrentSingle.Inputs,
	Result: formula.Input{Name: "current", Unit: "A", Doc: "in each phase; mains is between phases"},
	Source: "arithmetic#power",
	Eval:   func(x []float64) float64 { return x[0] / (math.Sqrt(3) * x[1] / 100 * x[2] * x[3]) },
}

// InputCurrent returns the current that a supply draws from one phase (phases 1) or from each of
// three (phases 3, mains then between phases).
//
//	I = P / (eta U cos phi), or / sqrt 3
//
// For the feeder take the lowest mains voltage; its drop is voltdrop.DropAC.
//
// Source: definition of efficiency and power factor.
func InputCurrent(phases int, p quantity.Power, efficiency float64, mains quantity.Voltage, powerFactor float64) (quantity.Current, error) {
	if phases != 1 && phases != 3 {
		return 0, &calc.ChoiceError{Name: "phases", Seen: quantity.Short(float64(phases)), Allowed: "1, 3"}
	}
	if err := errors.Join(calc.Power("output power", p), calc.PositiveFraction("efficiency", efficiency), calc.PositiveVoltage("mains voltage", mains), calc.PositiveFraction("power factor", powerFactor)); err != nil {
		return 0, err
	}
	f := FormulaInputCurrentSingle
	if phases == 3 {
		f = FormulaInputCurrentThree
	}
	return quantity.Current(f.Eval([]float64{float64(p), efficiency * 100, float64(mains), powerFactor})), nil
}

// FormulaInrush gives the first current into a discharged capacitor.
var FormulaInrush = &formula.Formula{
	Name: "supply.inrush", Text: "voltage / resistance",
	Inputs: []formula.Input{
		{Name: "voltage", Unit: "V", Doc: "peak of the mains, or the DC voltage"}, {Name: "resistance", Unit: "ohm", Doc: "inrush limiter, source and cable"},
	},
	Result: formula.Input{Name: "current", Unit: "A"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] / x[1] },
}

// Inrush returns the first current into a discharged input capacitor behind a resistance, and the time
// constant with which it falls.
//
// Source: charging of a capacitor through a resistor.
func Inrush(peak quantity.Voltage, r quantity.Resistance, c quantity.Capacitance) (quantity.Current, quantity.Duration, error) {
	if err := errors.Join(calc.PositiveVoltage("voltage", peak), calc.PositiveResistance("resistance", r), calc.Within("capacitance", c, 0, 1e4, "F")); err != nil {
		return 0, 0, err
	}
	return peak.Over(r), quantity.Duration(float64(r) * float64(c)), nil
}

// FormulaStartTime gives how long a current-limited supply takes to raise its output.
var FormulaStartTime = &formula.Formula{
	Name: "supply.start_time", Text: "c * voltage / (limit - load) * 1000",
	Inputs: []formula.Input{
		{Name: "c", Unit: "F", Doc: "input capacitors of all loads"}, {Name: "voltage", Unit: "V"}, {Name: "limit", Unit: "A", Doc: "that the supply gives"}, {Name: "load", Unit: "A", Doc: "taken meanwhile"},
	},
	Result: formula.Input{Name: "time", Unit: "ms"},
	Source: "arithmetic#capacitor",
	Eval:   func(x []float64) float64 { return x[0] * x[1] / (x[2] - x[3]) * 1000 },
}

// StartTime returns how long a current-limited supply takes to charge its loads' capacitors: C U / (I_lim
// - I_load). It returns a calc.RangeError if the load takes all that the supply gives: it would
// never start.
//
// Source: charge of a capacitor by a constant current.
func StartTime(c quantity.Capacitance, u quantity.Voltage, limit, load quantity.Current) (quantity.Duration, error) {
	if err := errors.Join(calc.Within("capacitance", c, 0, 1e4, "F"), calc.PositiveVoltage("voltage", u), calc.PositiveCurrent("current limit", limit),
		calc.Within("load while starting", load, 0, float64(limit)*(1-1e-9), "A")); err != nil {
		return 0, err
	}
	return quantity.Duration(float64(c) * float64(u) / float64(limit-load)), nil
}

// FormulaUnitsPerBreaker gives how many supplies may start together behind one breaker.
var FormulaUnitsPerBreaker = &formula.Formula{
	Name: "supply.units_per_breaker", Text: "floor(multiple * rated / inrush)",
	Inputs: []formula.Input{
		{Name: "multiple", Unit: "1", Doc: "lower edge of the breaker's trip band"}, {Name: "rated", Unit: "A"}, {Name: "inrush", Unit: "A", Doc: "peak of one unit"},
	},
	Result: formula.Input{Name: "units", Unit: "1"},
	Source: "common-practice#inrush-below-lower-edge",
	Eval:   func(x []float64) float64 { return math.Floor(x[0] * x[1] / x[2]) },
}

// The limits of a 24 V DC supply.
//
// Source: IEC 61131-2 (-15 / +20 %: 20.4 to 28.8 V as the mean; with 5 % ripple the lowest
// instantaneous value is 19.2 V). A computed mean is held against Lowest.
const (
	Nominal24              quantity.Voltage = 24
	Lowest24               quantity.Voltage = 20.4
	Highest24              quantity.Voltage = 28.8
	LowestInstantaneous24  quantity.Voltage = 19.2
	HighestInstantaneous24 quantity.Voltage = 30
)
