package voltdrop

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/calc/conductor"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaLoopResistance gives the resistance out and back of a two-core feeder.
var FormulaLoopResistance = &formula.Formula{
	Name: "voltdrop.loop_resistance",
	Text: "2 * length * r / 1000",
	Inputs: []formula.Input{
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core at its temperature"},
	},
	Result: formula.Input{Name: "r_loop", Unit: "ohm", Doc: "both cores"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return 2 * x[0] * x[1] / 1000 },
}

// FormulaDrop gives the voltage that a feeder's both cores lose.
var FormulaDrop = &formula.Formula{
	Name: "voltdrop.drop",
	Text: "2 * length * r / 1000 * current",
	Inputs: []formula.Input{
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core at its temperature"},
		{Name: "current", Unit: "A"},
	},
	Result: formula.Input{Name: "drop", Unit: "V", Doc: "in both cores"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return 2 * x[0] * x[1] / 1000 * x[2] },
}

// FormulaAtLoad gives the voltage at the end of a two-core feeder.
var FormulaAtLoad = &formula.Formula{
	Name: "voltdrop.at_load",
	Text: "source - 2 * length * r / 1000 * current",
	Inputs: []formula.Input{
		{Name: "source", Unit: "V", Doc: "voltage at the near end"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core at its temperature"},
		{Name: "current", Unit: "A"},
	},
	Result: formula.Input{Name: "u_load", Unit: "V"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] - 2*x[1]*x[2]/1000*x[3] },
}

// FormulaStep gives the voltage behind one step of a chain, from the voltage before it.
var FormulaStep = &formula.Formula{
	Name: "voltdrop.step",
	Text: "before - r_loop * current",
	Inputs: []formula.Input{
		{Name: "before", Unit: "V", Doc: "voltage at the step's near end"},
		{Name: "r_loop", Unit: "ohm", Doc: "both cores of the step"},
		{Name: "current", Unit: "A", Doc: "through the step: all loads behind it"},
	},
	Result: formula.Input{Name: "behind", Unit: "V"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] - x[1]*x[2] },
}

// FormulaPercent gives a drop in percent of the nominal voltage.
var FormulaPercent = &formula.Formula{
	Name: "voltdrop.percent",
	Text: "100 * (nominal - at_load) / nominal",
	Inputs: []formula.Input{
		{Name: "nominal", Unit: "V"},
		{Name: "at_load", Unit: "V"},
	},
	Result: formula.Input{Name: "drop_percent", Unit: "%"},
	Source: "arithmetic#ratio",
	Eval:   func(x []float64) float64 { return 100 * (x[0] - x[1]) / x[0] },
}

// FormulaLongest gives the longest feeder that leaves the load its voltage.
var FormulaLongest = &formula.Formula{
	Name: "voltdrop.longest",
	Text: "(source - at_least) / (2 * r / 1000 * current)",
	Inputs: []formula.Input{
		{Name: "source", Unit: "V"},
		{Name: "at_least", Unit: "V", Doc: "what the load needs"},
		{Name: "r", Unit: "ohm/km", Doc: "one core at its temperature"},
		{Name: "current", Unit: "A"},
	},
	Result: formula.Input{Name: "length", Unit: "m", Doc: "one way"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return (x[0] - x[1]) / (2 * x[2] / 1000 * x[3]) },
}

// FormulaConstantPower gives the voltage at a load that takes constant power.
var FormulaConstantPower = &formula.Formula{
	Name: "voltdrop.at_constant_power",
	Text: "(source + sqrt(source ^ 2 - 4 * power * r_loop)) / 2",
	Inputs: []formula.Input{
		{Name: "source", Unit: "V"},
		{Name: "power", Unit: "W", Doc: "taken by the load at any voltage"},
		{Name: "r_loop", Unit: "ohm", Doc: "both cores"},
	},
	Result: formula.Input{Name: "u_load", Unit: "V"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return (x[0] + math.Sqrt(x[0]*x[0]-4*x[1]*x[2])) / 2 },
}

// ErrCollapse says that the feeder cannot carry the loads at any voltage.
var ErrCollapse = errors.New("the feeder cannot carry the load at any voltage")

func firstError(errs ...error) error {
	return errors.Join(errs...)
}

// LoopResistance returns the resistance of a two-core feeder out and back.
//
//	R = 2 * l * r
//
// l is the one-way length (0 to 100 km), r the resistance of one core per length at conductor
// temperature. Contact resistance is not counted.
//
// Source: Ohm's law.
func LoopResistance(l quantity.Length, r quantity.ResistancePerLength) (quantity.Resistance, error) {
	if err := firstError(calc.Length("cable length", l), calc.PerLength("resistance per length", r)); err != nil {
		return 0, err
	}
	return r.Of(2 * l), nil
}

// Drop returns the voltage that a two-core feeder loses at a steady current.
//
//	dU = 2 * l * r * I
//
// Ranges and errors as LoopResistance; i from 0. Valid for steady DC.
//
// Source: Ohm's law.
func Drop(l quantity.Length, r quantity.ResistancePerLength, i quantity.Current) (quantity.Voltage, error) {
	loop, err := LoopResistance(l, r)
	if err = firstError(err, calc.Current("current", i)); err != nil {
		return 0, err
	}
	return i.Through(loop), nil
}

// AtLoad returns the voltage at the end of a two-core DC feeder that carries one steady current.
//
//	U_load = U_source - 2 * l * r * I
//
// The result is negative if the load cannot be fed: it is a figure for the caller to judge, no
// error. Ranges and errors as Drop; source from 0 (excluded) to 1500 V.
//
// Source: Ohm's law.
func AtLoad(source quantity.Voltage, l quantity.Length, r quantity.ResistancePerLength, i quantity.Current) (quantity.Voltage, error) {
	drop, err := Drop(l, r, i)
	if err = firstError(calc.PositiveVoltage("source voltage", source), err); err != nil {
		return 0, err
	}
	return source - drop, nil
}

// AtConstantPower returns the voltage at a load that takes the same power at any voltage, as
// switched-mode devices do.
//
//	U = (U_s + sqrt(U_s^2 - 4 P R)) / 2
//
// This is the upper of the two solutions, the stable one. It returns ErrCollapse if the feeder
// cannot carry P at any voltage (P > U_s^2 / 4R).
//
// Source: Ohm's law, U = U_s - R P/U solved for U.
func AtConstantPower(source quantity.Voltage, p quantity.Power, loop quantity.Resistance) (quantity.Voltage, error) {
	if err := firstError(calc.PositiveVoltage("source voltage", source), calc.Power("load power", p), calc.Resistance("loop resistance", loop)); err != nil {
		return 0, err
	}
	if 4*float64(p)*float64(loop) > float64(source)*float64(source) {
		return 0, ErrCollapse
	}
	return quantity.Voltage(FormulaConstantPower.Eval([]float64{float64(source), float64(p), float64(loop)})), nil
}

// LongestFor returns the longest one-way length at which the load still has at least atLeast.
//
//	l = (U_source - U_min) / (2 * r * I)
//
// It returns 0 if the source itself is too low, and the longest length that this package takes
// (100 km) if the current is so small that no cable would matter.
//
// Source: AtLoad solved for the length.
func LongestFor(source, atLeast quantity.Voltage, r quantity.ResistancePerLength, i quantity.Current) (quantity.Length, error) {
	if err := firstError(calc.PositiveVoltage("source voltage", source), calc.Voltage("lowest load voltage", atLeast),
		calc.PerLength("resistance per length", r), calc.Current("current", i)); err != nil {
		return 0, err
	}
	const longest = 100e3
	switch l := float64(source-atLeast) / (2 * float64(r) * float64(i)); {
	case source <= atLeast:
		return 0, nil
	case l > longest: // also i = 0
		return longest, nil
	default:
		return quantity.Length(l), nil
	}
}

// ConductorFor returns the smallest size of a class, not below atLeastArea, with which the load
// still has its voltage; t is the conductor temperature. found is false if even the largest size
// does not do.
func ConductorFor(source, atLeast quantity.Voltage, l quantity.Length, i quantity.Current, class conductor.Class, t quantity.Temperature, atLeastArea quantity.CrossSection) (area quantity.CrossSection, atLoad quantity.Voltage, found bool, err error) {
	for _, area := range conductor.Sizes(class) {
		if area < atLeastArea && !conductor.SameSize(area, atLeastArea) {
			continue
		}
		r, err := conductor.ResistancePerLength(area, class, t)
		if err != nil {
			return 0, 0, false, err
		}
		u, err := AtLoad(source, l, r, i)
		if err != nil {
			return 0, 0, false, err
		}
		if u >= atLeast {
			return area, u, true, nil
		}
		atLoad = u
	}
	if len(conductor.Sizes(class)) == 0 {
		_, err = conductor.At20(1, class)
	}
	return 0, atLoad, false, err
}
