package sensor

import (
	"errors"
	"fmt"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Coefficients of the Callendar-Van Dusen equation.
//
// Source: IEC 60751:2008 (and 1983/1995, same values).
const (
	platinumA = 3.9083e-3
	platinumB = -5.775e-7
	platinumC = -4.183e-12 // below 0 degC only
)

// Coefficients of nickel.
//
// Source: DIN 43760, withdrawn; from memory.
const (
	nickelA = 5.485e-3
	nickelB = 6.65e-6
	nickelC = 2.805e-11
	nickelD = -2e-17
)

// RTD is a resistance thermometer: its metal and its resistance at 0 degC.
type RTD struct {
	Metal string              // "Pt" or "Ni"
	R0    quantity.Resistance // at 0 degC
}

// The usual thermometers.
var (
	Pt100  = RTD{"Pt", 100}
	Pt200  = RTD{"Pt", 200}
	Pt500  = RTD{"Pt", 500}
	Pt1000 = RTD{"Pt", 1000}
	Ni100  = RTD{"Ni", 100}
	Ni120  = RTD{"Ni", 120}
	Ni1000 = RTD{"Ni", 1000}
)

// ParseRTD reads "Pt100", "PT1000", "Ni100".
func ParseRTD(s string) (RTD, error) {
	for _, r := range []RTD{Pt100, Pt200, Pt500, Pt1000, Ni100, Ni120, Ni1000} {
		if equalFold(s, r.String()) {
			return r, nil
		}
	}
	return RTD{}, &calc.ChoiceError{Name: "resistance thermometer", Seen: fmt.Sprintf("%q", s), Allowed: "Pt100, Pt200, Pt500, Pt1000, Ni100, Ni120, Ni1000"}
}

// String prints the name: "Pt100".
func (s RTD) String() string { return s.Metal + quantity.Short(float64(s.R0)) }

// Range returns the temperatures for which the equation is defined: -200 to 850 degC for platinum,
// -60 to 250 degC for nickel.
func (s RTD) Range() (low, high quantity.Temperature, err error) {
	if err := calc.Positive("resistance at 0 degC", s.R0, 1e5, "ohm"); err != nil {
		return 0, 0, err
	}
	switch s.Metal {
	case "Pt":
		return -200, 850, nil
	case "Ni":
		return -60, 250, nil
	}
	return 0, 0, &calc.ChoiceError{Name: "metal of the thermometer", Seen: fmt.Sprintf("%q", s.Metal), Allowed: "Pt, Ni"}
}

// FormulaPlatinum gives the resistance of a platinum thermometer.
var FormulaPlatinum = &formula.Formula{
	Name: "sensor.platinum",
	Text: "r0 * (1 + 0.0039083 * t - 0.0000005775 * t ^ 2 - 0.000000000004183 * (t - 100) * min(t, 0) ^ 3)",
	Inputs: []formula.Input{
		{Name: "r0", Unit: "ohm", Doc: "at 0 degC"}, {Name: "t", Unit: "degC"},
	},
	Result: formula.Input{Name: "r", Unit: "ohm"},
	Source: "iec-60751#callendar-van-dusen",
	Eval: func(x []float64) float64 {
		t := x[1]
		return x[0] * (1 + platinumA*t + platinumB*t*t + platinumC*(t-100)*math.Pow(math.Min(t, 0), 3))
	},
}

// FormulaNickel gives the resistance of a nickel thermometer.
var FormulaNickel = &formula.Formula{
	Name: "sensor.nickel",
	Text: "r0 * (1 + 0.005485 * t + 0.00000665 * t ^ 2 + 0.00000000002805 * t ^ 4 - 0.00000000000000002 * t ^ 6)",
	Inputs: []formula.Input{
		{Name: "r0", Unit: "ohm", Doc: "at 0 degC"}, {Name: "t", Unit: "degC"},
	},
	Result: formula.Input{Name: "r", Unit: "ohm"},
	Source: "from-memory#din-43760",
	Eval: func(x []float64) float64 {
		t := x[1]
		t2 := t * t
		return x[0] * (1 + nickelA*t + nickelB*t2 + nickelC*t2*t2 + nickelD*t2*t2*t2)
	},
}

// Resistance returns the thermometer's resistance at t.
//
//	R = R0 (1 + A t + B t^2 + C (t - 100) t^3), C only below 0 degC (platinum)
//
// It returns a calc.RangeError outside Range.
//
// Source: IEC 60751 (platinum); DIN 43760 from memory (nickel).
func (s RTD) Resistance(t quantity.Temperature) (quantity.Resistance, error) {
	low, high, err := s.Range()
	if err != nil {
		return 0, err
	}
	if err := calc.Within("temperature of a "+s.String(), t, float64(low), float64(high), "degC"); err != nil {
		return 0, err
	}
	return quantity.Resistance(s.at(float64(t))), nil
}

func (s RTD) at(t float64) float64 {
	if s.Metal == "Ni" {
		return FormulaNickel.Eval([]float64{float64(s.R0), t})
	}
	return FormulaPlatinum.Eval([]float64{float64(s.R0), t})
}

// slope is dR/dt.
func (s RTD) slope(t float64) float64 {
	r0 := float64(s.R0)
	if s.Metal == "Ni" {
		return r0 * (nickelA + 2*nickelB*t + 4*nickelC*t*t*t + 6*nickelD*math.Pow(t, 5))
	}
	d := platinumA + 2*platinumB*t
	if t < 0 {
		d += platinumC * (4*t*t*t - 300*t*t)
	}
	return r0 * d
}

// Sensitivity returns how many ohms one kelvin is worth at t. Range and errors as Resistance.
func (s RTD) Sensitivity(t quantity.Temperature) (float64, error) {
	if _, err := s.Resistance(t); err != nil {
		return 0, err
	}
	return s.slope(float64(t)), nil
}

// Temperature returns the temperature at which the thermometer has resistance r: the inverse of
// Resistance to within 1e-9 kelvin, by Newton's method.
//
// It returns a calc.RangeError for a resistance that belongs to no temperature in Range.
//
// Source: as Resistance.
func (s RTD) Temperature(r quantity.Resistance) (quantity.Temperature, error) {
	low, high, err := s.Range()
	if err != nil {
		return 0, err
	}
	if err := calc.Within("resistance of a "+s.String(), r, s.at(float64(low)), s.at(float64(high)), "ohm"); err != nil {
		return 0, err
	}
	t := newton(float64(low), float64(high), (float64(r)/float64(s.R0)-1)/0.00385, float64(r), s.at, s.slope)
	return quantity.Temperature(t), nil
}

// newton solves f(t) = want on [low, high] for a rising f, from a start: Newton's method kept within
// a shrinking bracket.
func newton(low, high, start, want float64, f, slope func(float64) float64) float64 {
	t := math.Min(high, math.Max(low, start))
	for range 100 {
		miss := f(t) - want
		if miss > 0 {
			high = t
		} else {
			low = t
		}
		next := t - miss/slope(t)
		if !(next >= low && next <= high) {
			next = (low + high) / 2
		}
		if math.Abs(next-t) < 1e-11*(1+math.Abs(t)) {
			return next
		}
		t = next
	}
	return t
}

// FormulaLeadError gives the error of a 2-wire resistance thermometer.
var FormulaLeadError = &formula.Formula{
	Name: "sensor.lead_error",
	Text: "r_loop / sensitivity",
	Inputs: []formula.Input{
		{Name: "r_loop", Unit: "ohm", Doc: "both cores; with 3 wires the mismatch of two cores"},
		{Name: "sensitivity", Unit: "ohm/K", Doc: "of the thermometer at its temperature"},
	},
	Result: formula.Input{Name: "error", Unit: "K", Doc: "reads too hot by this"},
	Source: "arithmetic#lead-resistance",
	Eval:   func(x []float64) float64 { return x[0] / x[1] },
}

// FormulaTwoWireError gives the error of a 2-wire thermometer from its cable.
var FormulaTwoWireError = &formula.Formula{
	Name: "sensor.two_wire_error",
	Text: "2 * length * r / 1000 / sensitivity",
	Inputs: []formula.Input{
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core at its temperature"},
		{Name: "sensitivity", Unit: "ohm/K", Doc: "of the thermometer at its temperature"},
	},
	Result: formula.Input{Name: "error", Unit: "K", Doc: "reads too hot by this"},
	Source: "arithmetic#lead-resistance",
	Eval:   func(x []float64) float64 { return 2 * x[0] * x[1] / 1000 / x[2] },
}

// LeadError returns by how much a thermometer at t reads too hot because of its cable.
//
// core is the resistance of one core of the whole run, mismatch the relative difference between
// cores (0.02 is a usual worst case, common practice). With 2 wires both cores count, with 3 wires
// core*mismatch is left, with 4 wires nothing. The result is exact, by the inverse equation; for
// 2 ohm of loop it is about 5.1 K on a Pt100 at 0 degC. If the sum leaves the equation's range, a
// calc.RangeError says so.
//
// Source: the measuring principles; 3-wire cancelling from memory of handbooks.
func LeadError(s RTD, t quantity.Temperature, wires int, core quantity.Resistance, mismatch float64) (quantity.TemperatureRise, error) {
	r, err := s.Resistance(t)
	if err = errors.Join(err, calc.Count("wires", wires, 2, 4), calc.Resistance("core resistance", core), calc.Fraction("mismatch of cores", mismatch)); err != nil {
		return 0, err
	}
	extra := map[int]quantity.Resistance{2: 2 * core, 3: core * quantity.Resistance(mismatch), 4: 0}[wires]
	if extra == 0 {
		return 0, nil
	}
	read, err := s.Temperature(r + extra)
	return quantity.TemperatureRise(read - t), err
}

// FormulaSelfHeating gives the error that the measuring current causes.
var FormulaSelfHeating = &formula.Formula{
	Name: "sensor.self_heating",
	Text: "(current / 1000) ^ 2 * r * 1000 / dissipation",
	Inputs: []formula.Input{
		{Name: "current", Unit: "mA", Doc: "measuring current"},
		{Name: "r", Unit: "ohm"},
		{Name: "dissipation", Unit: "mW/K", Doc: "of the sensor as installed"},
	},
	Result: formula.Input{Name: "error", Unit: "K"},
	Source: "iec-60751#self-heating",
	Eval:   func(x []float64) float64 { return x[0] / 1000 * x[0] / 1000 * x[1] * 1000 / x[2] },
}

// RTDClass is a tolerance class of IEC 60751.
type RTDClass string

// The tolerance classes; A and B have the same figures in all editions, AA and C came in 2008.
const (
	ClassAA RTDClass = "AA"
	ClassA  RTDClass = "A"
	ClassB  RTDClass = "B"
	ClassC  RTDClass = "C"
)

var rtdClasses = map[RTDClass]struct {
	base, slope float64
	low, high   float64 // wire-wound, IEC 60751:2008, from memory; 1995 had -200 to 650 (A) and 850 (B)
}{
	ClassAA: {0.1, 0.0017, -50, 250}, ClassA: {0.15, 0.002, -100, 450},
	ClassB: {0.3, 0.005, -196, 600}, ClassC: {0.6, 0.01, -196, 600},
}

// FormulaRTDTolerance gives the tolerance of a platinum thermometer.
var FormulaRTDTolerance = &formula.Formula{
	Name: "sensor.rtd_tolerance",
	Text: "base + slope * abs(t)",
	Inputs: []formula.Input{
		{Name: "base", Unit: "K"}, {Name: "slope", Unit: "1"}, {Name: "t", Unit: "degC"},
	},
	Result: formula.Input{Name: "tolerance", Unit: "K", Doc: "either way"},
	Source: "iec-60751#tolerance-classes",
	Eval:   func(x []float64) float64 { return x[0] + x[1]*math.Abs(x[2]) },
}

// RTDBand returns the base and the slope of a class's tolerance; false for a class that is none.
func RTDBand(class RTDClass) (base, slope float64, ok bool) {
	c, ok := rtdClasses[class]
	return c.base, c.slope, ok
}

// RTDTolerance returns the permitted deviation, either way, of a platinum thermometer at t.
// inRange is false where the 2008 edition no longer grants the class to a wire-wound sensor (its
// limits are from memory; the edition of 1995 was wider).
//
// Source: IEC 60751: A 0.15 + 0.002|t|, B 0.3 + 0.005|t|; AA 0.1 + 0.0017|t| and C 0.6 + 0.01|t|
// from memory.
func RTDTolerance(class RTDClass, t quantity.Temperature) (tol quantity.TemperatureRise, inRange bool, err error) {
	c, ok := rtdClasses[class]
	if !ok {
		return 0, false, &calc.ChoiceError{Name: "tolerance class", Seen: fmt.Sprintf("%q", string(class)), Allowed: "AA, A, B, C"}
	}
	if err := calc.Within("temperature", t, -200, 850, "degC"); err != nil {
		return 0, false, err
	}
	tol = quantity.TemperatureRise(FormulaRTDTolerance.Eval([]float64{c.base, c.slope, float64(t)}))
	return tol, float64(t) >= c.low && float64(t) <= c.high, nil
}
