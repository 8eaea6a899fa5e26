package supply

import (
	"errors"
	"fmt"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Item is one line of a load list.
type Item struct {
	Name        string
	Each        quantity.Current
	Count       int
	Coincidence float64 // share that is on at one time; 0 means 1
}

// FormulaLoad adds up the lines of a load list.
var FormulaLoad = &formula.Formula{
	Name: "supply.load", Text: "sum(i)", Variadic: true,
	Inputs: []formula.Input{{Name: "i", Unit: "A", Doc: "each line: count times current, times coincidence where the basis states one"}},
	Result: formula.Input{Name: "load", Unit: "A"},
	Source: "arithmetic#sum",
	Eval: func(x []float64) float64 {
		s := 0.0
		for _, v := range x {
			s += v
		}
		return s
	},
}

// Total returns the current of a load list: the full sum, for conductors and protections, and the
// coincident one, for the supply unit only. All faulty lines are reported together.
//
// Source: arithmetic; coincidence is the project's own figure.
func Total(items []Item) (full, coincident quantity.Current, err error) {
	var errs []error
	for k, it := range items {
		if it.Coincidence == 0 {
			it.Coincidence = 1
		}
		if err := errors.Join(calc.Current("current", it.Each), calc.Count("count", it.Count, 0, 1_000_000), calc.PositiveFraction("coincidence", it.Coincidence)); err != nil {
			errs = append(errs, fmt.Errorf("line %d (%s): %w", k+1, it.Name, err))
			continue
		}
		line := it.Each * quantity.Current(it.Count)
		full += line
		coincident += line * quantity.Current(it.Coincidence)
	}
	if err := errors.Join(errs...); err != nil {
		return 0, 0, err
	}
	return full, coincident, nil
}

// FormulaRequired gives the current that a supply must give.
var FormulaRequired = &formula.Formula{
	Name: "supply.required", Text: "load * (1 + margin / 100)",
	Inputs: []formula.Input{{Name: "load", Unit: "A"}, {Name: "margin", Unit: "%", Doc: "20 to 25 is common practice"}},
	Result: formula.Input{Name: "required", Unit: "A"},
	Source: "common-practice#supply-margin",
	Eval:   func(x []float64) float64 { return x[0] * (1 + x[1]/100) },
}

// Required returns load * (1 + margin), margin as a share (0.25 for 25 %).
//
// Source: common practice (20 to 25 %).
func Required(load quantity.Current, margin float64) (quantity.Current, error) {
	if err := errors.Join(calc.Current("load", load), calc.Within("margin", margin, 0, 5, "")); err != nil {
		return 0, err
	}
	return load * quantity.Current(1+margin), nil
}

// Derating is how a unit's output falls with the ambient: full up to Start, then PerKelvin of the
// rated value less per kelvin, nothing above Limit.
type Derating struct {
	Start     quantity.Temperature
	PerKelvin float64 // share of the rated output per kelvin, 0.025 is usual
	Limit     quantity.Temperature
}

// FormulaDerated gives a unit's current at its ambient.
var FormulaDerated = &formula.Formula{
	Name: "supply.derated",
	Text: "rated * max(0, 1 - per_kelvin / 100 * max(0, ambient - start))",
	Inputs: []formula.Input{
		{Name: "rated", Unit: "A"},
		{Name: "per_kelvin", Unit: "%", Doc: "of the rated current, per kelvin above start"},
		{Name: "ambient", Unit: "degC", Doc: "air at the unit"},
		{Name: "start", Unit: "degC", Doc: "up to which the rated current is given"},
	},
	Result: formula.Input{Name: "available", Unit: "A"},
	Source: "common-practice#linear-derating",
	Eval:   func(x []float64) float64 { return x[0] * math.Max(0, 1-x[1]/100*math.Max(0, x[2]-x[3])) },
}

// Derated returns the current that a unit gives at its ambient: linear above Start, 0 above Limit.
// It returns a calc.RangeError for an ambient below -60 or above 120 degC.
//
// Source: the maker's figures; the linear form is common practice (IEC 61204-7 has makers state it).
func Derated(rated quantity.Current, ambient quantity.Temperature, d Derating) (quantity.Current, error) {
	if err := errors.Join(calc.PositiveCurrent("rated current", rated), calc.Within("ambient", ambient, -60, 120, "degC"),
		calc.Within("start of derating", d.Start, -60, 120, "degC"), calc.Within("derating per kelvin", d.PerKelvin, 0, 1, ""),
		calc.Within("highest ambient", d.Limit, float64(d.Start), 150, "degC")); err != nil {
		return 0, err
	}
	if ambient > d.Limit {
		return 0, nil
	}
	return quantity.Current(FormulaDerated.Eval([]float64{float64(rated), d.PerKelvin * 100, float64(ambient), float64(d.Start)})), nil
}

// FormulaUnits gives the number of equal supply units.
var FormulaUnits = &formula.Formula{
	Name: "supply.units", Text: "max(1, ceil(required / available)) + redundant",
	Inputs: []formula.Input{
		{Name: "required", Unit: "A"}, {Name: "available", Unit: "A", Doc: "of one unit, derated"}, {Name: "redundant", Unit: "1", Doc: "units that may fail: 0, or 1 for n+1"},
	},
	Result: formula.Input{Name: "units", Unit: "1"},
	Source: "common-practice#n-plus-1",
	Eval:   func(x []float64) float64 { return math.Max(1, math.Ceil(x[0]/x[1])) + x[2] },
}

// Units returns how many equal units carry the required current with redundant of them failed. Units
// in parallel must be made for it and, for redundancy, decoupled (diode or transistor modules).
//
// Source: common practice (n+1).
func Units(required, available quantity.Current, redundant int) (int, error) {
	if err := errors.Join(calc.Current("required current", required), calc.Positive("current of one unit", available, 1e5, "A"), calc.Count("redundant units", redundant, 0, 10)); err != nil {
		return 0, err
	}
	// The nudge keeps 20 A / 10 A from asking for a third unit because of the last bit.
	n := math.Max(1, math.Ceil(float64(required)/float64(available)-1e-9))
	if err := calc.Within("number of units", n, 1, 1000, ""); err != nil {
		return 0, err
	}
	return int(n) + redundant, nil
}

// FormulaUtilisation gives a supply's load in percent.
var FormulaUtilisation = &formula.Formula{
	Name: "supply.utilisation", Text: "100 * load / (available * units)",
	Inputs: []formula.Input{{Name: "load", Unit: "A"}, {Name: "available", Unit: "A", Doc: "of one unit, derated"}, {Name: "units", Unit: "1", Doc: "that must carry the load: redundant ones left out"}},
	Result: formula.Input{Name: "utilisation", Unit: "%"},
	Source: "arithmetic#ratio",
	Eval:   func(x []float64) float64 { return 100 * x[0] / (x[1] * x[2]) },
}

// FormulaLoss gives the heat of a supply.
var FormulaLoss = &formula.Formula{
	Name: "supply.loss", Text: "power * (100 / efficiency - 1)",
	Inputs: []formula.Input{{Name: "power", Unit: "W", Doc: "given to the loads"}, {Name: "efficiency", Unit: "%"}},
	Result: formula.Input{Name: "heat", Unit: "W"},
	Source: "arithmetic#efficiency",
	Eval:   func(x []float64) float64 { return x[0] * (100/x[1] - 1) },
}

// Loss returns the heat that a supply gives off at a load: P (1/eta - 1), eta as a share.
//
// Source: definition of efficiency. Below some 20 % of the rated load the real losses are higher.
func Loss(p quantity.Power, efficiency float64) (quantity.Power, error) {
	if err := errors.Join(calc.Power("output power", p), calc.PositiveFraction("efficiency", efficiency)); err != nil {
		return 0, err
	}
	return quantity.Power(FormulaLoss.Eval([]float64{float64(p), efficiency * 100})), nil
}

// FormulaLowest gives the lowest voltage at a supply's terminals.
var FormulaLowest = &formula.Formula{
	Name: "supply.lowest", Text: "set * (1 - tolerance / 100) - decoupling",
	Inputs: []formula.Input{
		{Name: "set", Unit: "V", Doc: "what the output is set to"},
		{Name: "tolerance", Unit: "%", Doc: "setting and regulation together"},
		{Name: "decoupling", Unit: "V", Doc: "lost in a redundancy or battery module; 0 without"},
	},
	Result: formula.Input{Name: "u_min", Unit: "V"},
	Source: "arithmetic#tolerance",
	Eval:   func(x []float64) float64 { return x[0]*(1-x[1]/100) - x[2] },
}

// Lowest returns the lowest voltage at a supply's terminals: what it is set to, less its tolerance (a
// share), less what a decoupling module takes. It is where a worst-case voltage drop begins.
//
// Source: arithmetic on the maker's figures.
func Lowest(set quantity.Voltage, tolerance float64, decoupling quantity.Voltage) (quantity.Voltage, error) {
	if err := errors.Join(calc.PositiveVoltage("output voltage", set), calc.Fraction("tolerance", tolerance), calc.Within("decoupling drop", decoupling, 0, float64(set), "V")); err != nil {
		return 0, err
	}
	return quantity.Voltage(FormulaLowest.Eval([]float64{float64(set), tolerance * 100, float64(decoupling)})), nil
}
