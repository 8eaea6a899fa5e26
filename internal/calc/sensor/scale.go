package sensor

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaLinear gives the value that belongs to another on a straight line.
var FormulaLinear = &formula.Formula{
	Name: "sensor.linear",
	Text: "out_low + (x - in_low) / (in_high - in_low) * (out_high - out_low)",
	Inputs: []formula.Input{
		{Name: "x", Unit: "1", Doc: "in the unit of in_low"},
		{Name: "in_low", Unit: "1"},
		{Name: "in_high", Unit: "1"},
		{Name: "out_low", Unit: "1"},
		{Name: "out_high", Unit: "1"},
	},
	Result: formula.Input{Name: "y", Unit: "1", Doc: "in the unit of out_low"},
	Source: "arithmetic#straight-line",
	Eval:   func(x []float64) float64 { return x[3] + (x[0]-x[1])/(x[2]-x[1])*(x[4]-x[3]) },
}

// FormulaExpectedCurrent gives the loop current at a share of the range.
var FormulaExpectedCurrent = &formula.Formula{
	Name: "sensor.expected_current",
	Text: "low + percent / 100 * (high - low)",
	Inputs: []formula.Input{
		{Name: "percent", Unit: "%"}, {Name: "low", Unit: "mA", Doc: "current at 0 %"}, {Name: "high", Unit: "mA", Doc: "current at 100 %"},
	},
	Result: formula.Input{Name: "current", Unit: "mA"},
	Source: "iec-60381-1",
	Eval:   func(x []float64) float64 { return x[1] + x[0]/100*(x[2]-x[1]) },
}

// Span is a range with its two ends; Low may be above High (a reversed signal), but not equal to it.
type Span struct{ Low, High float64 }

// The usual electrical spans.
var (
	MilliAmps4To20 = Span{4, 20}
	MilliAmps0To20 = Span{0, 20}
	Volts0To10     = Span{0, 10}
	VoltsPlusMinus = Span{-10, 10}
	Percent        = Span{0, 100}
)

func (s Span) check(name string) error {
	if err := errors.Join(finite(name+", low end", s.Low), finite(name+", high end", s.High)); err != nil {
		return err
	}
	if s.Low == s.High {
		return &calc.RangeError{Name: name + ", width", Value: 0, Min: 0, Max: 1e12, Above: true}
	}
	return nil
}

func finite(name string, x float64) error { return calc.Within(name, x, -1e12, 1e12, "") }

// Linear maps x from one span to another: raw counts to milliamperes, milliamperes to bar, and back.
// A value outside the span is mapped on the same line; judging it is the caller's (see
// loop.Classify).
//
// Source: straight line through both ends.
func Linear(x float64, from, to Span) (float64, error) {
	if err := errors.Join(finite("value", x), from.check("input span"), to.check("output span")); err != nil {
		return 0, err
	}
	return FormulaLinear.Eval([]float64{x, from.Low, from.High, to.Low, to.High}), nil
}

// SquareRoot maps a differential pressure signal x on its span to a flow on its span:
// flow = low + sqrt(share) * width. A share below 0 gives the low end.
//
// Source: flow through a restriction grows with the root of the pressure difference.
func SquareRoot(x float64, from, to Span) (float64, error) {
	if err := errors.Join(finite("value", x), from.check("input span"), to.check("output span")); err != nil {
		return 0, err
	}
	return to.Low + math.Sqrt(math.Max(0, (x-from.Low)/(from.High-from.Low)))*(to.High-to.Low), nil
}

// FormulaResolution gives the engineering value of one count.
var FormulaResolution = &formula.Formula{
	Name: "sensor.resolution",
	Text: "abs(high - low) / counts",
	Inputs: []formula.Input{
		{Name: "low", Unit: "1", Doc: "engineering value at the low end"},
		{Name: "high", Unit: "1", Doc: "at the high end"},
		{Name: "counts", Unit: "1", Doc: "steps between the raw values of the two ends"},
	},
	Result: formula.Input{Name: "step", Unit: "1", Doc: "engineering unit"},
	Source: "arithmetic#ratio",
	Eval:   func(x []float64) float64 { return math.Abs(x[1]-x[0]) / x[2] },
}

// Resolution returns how much of the engineering unit one raw count is worth.
func Resolution(engineering, raw Span) (float64, error) {
	if err := errors.Join(engineering.check("engineering span"), raw.check("raw span")); err != nil {
		return 0, err
	}
	return FormulaResolution.Eval([]float64{engineering.Low, engineering.High, math.Abs(raw.High - raw.Low)}), nil
}

// FormulaModuleError gives a module's error at its temperature.
var FormulaModuleError = &formula.Formula{
	Name: "sensor.module_error",
	Text: "abs(high - low) * (basic / 100 + drift / 1000000 * abs(ambient - reference))",
	Inputs: []formula.Input{
		{Name: "low", Unit: "1", Doc: "low end of the module's range"},
		{Name: "high", Unit: "1", Doc: "high end"},
		{Name: "basic", Unit: "%", Doc: "of the span, at the reference temperature"},
		{Name: "drift", Unit: "ppm/K", Doc: "of the span"},
		{Name: "ambient", Unit: "degC", Doc: "at the module"},
		{Name: "reference", Unit: "degC", Doc: "25 degC unless the maker says otherwise"},
	},
	Result: formula.Input{Name: "error", Unit: "1", Doc: "unit of the range, either way"},
	Source: "iec-61131-2#analogue-error",
	Eval: func(x []float64) float64 {
		return math.Abs(x[1]-x[0]) * (x[2]/100 + x[3]/1e6*math.Abs(x[4]-x[5]))
	},
}

// ModuleError returns a module's largest error, either way, at ambient: its basic error in percent
// of the span plus its drift in parts per million of the span and kelvin away from 25 degC.
//
// Source: IEC 61131-2 (how makers state analogue errors).
func ModuleError(span Span, basicPercent, driftPPM float64, ambient quantity.Temperature) (float64, error) {
	if err := errors.Join(span.check("module range"), calc.Within("basic error", basicPercent, 0, 100, "%"),
		calc.Within("drift", driftPPM, 0, 1e5, "ppm/K"), calc.Within("ambient", ambient, -60, 120, "degC")); err != nil {
		return 0, err
	}
	return FormulaModuleError.Eval([]float64{span.Low, span.High, basicPercent, driftPPM, float64(ambient), 25}), nil
}

// FormulaWorstError adds up errors that may all be at their worst together.
var FormulaWorstError = &formula.Formula{
	Name: "sensor.worst_error", Text: "sum(e)", Variadic: true,
	Inputs: []formula.Input{{Name: "e", Unit: "1", Doc: "amounts in one unit"}},
	Result: formula.Input{Name: "error", Unit: "1"},
	Source: "arithmetic#sum",
	Eval: func(x []float64) float64 {
		s := 0.0
		for _, e := range x {
			s += e
		}
		return s
	},
}

// FormulaProbableError adds up independent errors by their squares.
var FormulaProbableError = &formula.Formula{
	Name: "sensor.probable_error",
	Text: "sqrt(sensor ^ 2 + line ^ 2 + module ^ 2 + resolution ^ 2)",
	Inputs: []formula.Input{
		{Name: "sensor", Unit: "1", Doc: "tolerance"},
		{Name: "line", Unit: "1", Doc: "lead or cold junction"},
		{Name: "module", Unit: "1", Doc: "at its temperature"},
		{Name: "resolution", Unit: "1", Doc: "one step"},
	},
	Result: formula.Input{Name: "error", Unit: "1"},
	Source: "common-practice#root-sum-square",
	Eval:   func(x []float64) float64 { return math.Sqrt(x[0]*x[0] + x[1]*x[1] + x[2]*x[2] + x[3]*x[3]) },
}

// Budget is what errors add up to: Worst if all are at their limit together, Probable if they are
// independent (root of the sum of squares).
type Budget struct{ Worst, Probable float64 }

// ErrorBudget adds up the amounts of errors, all in one unit and none negative: sensor tolerance,
// line, module, resolution, in any number.
//
// Source: worst case by adding; root sum square is common practice for independent errors.
func ErrorBudget(amounts ...float64) (Budget, error) {
	var errs []error
	squares := 0.0
	for _, a := range amounts {
		errs = append(errs, calc.Within("error amount", a, 0, 1e12, ""))
		squares += a * a
	}
	if err := errors.Join(errs...); err != nil {
		return Budget{}, err
	}
	return Budget{Worst: FormulaWorstError.Eval(amounts), Probable: math.Sqrt(squares)}, nil
}
