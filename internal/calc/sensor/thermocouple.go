package sensor

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

func equalFold(a, b string) bool { return strings.EqualFold(strings.TrimSpace(a), b) }

// Thermocouple is a letter-designated type.
type Thermocouple string

// The eight types, and plain copper, which gives no voltage and stands for a wrong extension cable.
const (
	TypeB  Thermocouple = "B"
	TypeE  Thermocouple = "E"
	TypeJ  Thermocouple = "J"
	TypeK  Thermocouple = "K"
	TypeN  Thermocouple = "N"
	TypeR  Thermocouple = "R"
	TypeS  Thermocouple = "S"
	TypeT  Thermocouple = "T"
	Copper Thermocouple = "Cu"
)

const allTypes = "B, E, J, K, N, R, S, T"

// Thermocouples returns the eight types in alphabetical order.
func Thermocouples() []Thermocouple {
	return []Thermocouple{TypeB, TypeE, TypeJ, TypeK, TypeN, TypeR, TypeS, TypeT}
}

// ParseThermocouple reads "K", "k" or "type K".
func ParseThermocouple(s string) (Thermocouple, error) {
	t := strings.TrimSpace(s)
	if len(t) > 4 && strings.EqualFold(t[:4], "type") {
		t = strings.TrimSpace(t[4:])
	}
	for _, tc := range Thermocouples() {
		if strings.EqualFold(t, string(tc)) {
			return tc, nil
		}
	}
	return "", unknownType(Thermocouple(s))
}

func unknownType(tc Thermocouple) error {
	return &calc.ChoiceError{Name: "thermocouple type", Seen: fmt.Sprintf("%q", string(tc)), Allowed: allTypes}
}

// Range returns the temperatures for which the type's reference function is defined.
func (tc Thermocouple) Range() (low, high quantity.Temperature, err error) {
	f, ok := its90[tc]
	if !ok {
		return 0, 0, unknownType(tc)
	}
	return quantity.Temperature(f.forward[0].lo), quantity.Temperature(f.forward[len(f.forward)-1].hi), nil
}

func (p piece) at(x float64) float64 {
	y := 0.0
	for i := len(p.c) - 1; i >= 0; i-- {
		y = y*x + p.c[i]
	}
	return y
}

func (p piece) slope(x float64) float64 {
	y := 0.0
	for i := len(p.c) - 1; i >= 1; i-- {
		y = y*x + float64(i)*p.c[i]
	}
	return y
}

// millivolts and its slope on one piece of the reference function.
func (tc Thermocouple) millivolts(p piece, t float64) float64 {
	e := p.at(t)
	if tc == TypeK && p.lo >= 0 {
		e += kExp0 * math.Exp(kExp1*(t-kExp2)*(t-kExp2))
	}
	return e
}

func (tc Thermocouple) slope(p piece, t float64) float64 {
	s := p.slope(t)
	if tc == TypeK && p.lo >= 0 {
		s += kExp0 * math.Exp(kExp1*(t-kExp2)*(t-kExp2)) * 2 * kExp1 * (t - kExp2)
	}
	return s
}

func (tc Thermocouple) pieceAt(t float64) piece {
	f := its90[tc].forward
	for _, p := range f[:len(f)-1] {
		if t <= p.hi {
			return p
		}
	}
	return f[len(f)-1]
}

// EMF0 returns the voltage of a thermocouple at t with its reference junction at 0 degC.
//
// It returns a calc.RangeError outside Range. Within it the result is NIST's to the last printed
// digit (1 microvolt).
//
// Source: NIST ITS-90 Thermocouple Database (Monograph 175), which IEC 60584-1 follows.
func EMF0(tc Thermocouple, t quantity.Temperature) (quantity.Voltage, error) {
	low, high, err := tc.Range()
	if err != nil {
		return 0, err
	}
	if err := calc.Within("temperature of a type "+string(tc)+" thermocouple", t, float64(low), float64(high), "degC"); err != nil {
		return 0, err
	}
	return quantity.Voltage(tc.millivolts(tc.pieceAt(float64(t)), float64(t)) / 1000), nil
}

// Sensitivity returns the slope of a type's reference function at t in volts per kelvin.
func Sensitivity(tc Thermocouple, t quantity.Temperature) (float64, error) {
	if _, err := EMF0(tc, t); err != nil {
		return 0, err
	}
	return tc.slope(tc.pieceAt(float64(t)), float64(t)) / 1000, nil
}

// lowestInvertible is where the inverse begins. Type B has the same voltage twice below 42 degC.
func lowestInvertible(tc Thermocouple) float64 {
	if tc == TypeB {
		return 43
	}
	return its90[tc].forward[0].lo
}

// Temperature0 returns the temperature at which a thermocouple with its reference junction at 0 degC
// gives emf: the inverse of EMF0 to within a nanovolt, by Newton's method from the published
// inverse polynomial.
//
// It returns a calc.RangeError for a voltage that belongs to no temperature of the type; type B is
// taken from 43 degC on, because below it a voltage has two temperatures. Half a microvolt beyond
// the ends is still taken as the end.
//
// Source: NIST ITS-90 Thermocouple Database (Monograph 175).
func Temperature0(tc Thermocouple, emf quantity.Voltage) (quantity.Temperature, error) {
	f, ok := its90[tc]
	if !ok {
		return 0, unknownType(tc)
	}
	mv := float64(emf) * 1000
	low := lowestInvertible(tc)
	last := f.forward[len(f.forward)-1]
	lowMV, highMV := tc.millivolts(f.forward[0], low), tc.millivolts(last, last.hi)
	const slack = 0.0005 // mV
	if err := calc.Within("voltage of a type "+string(tc)+" thermocouple", mv, lowMV-slack, highMV+slack, "mV"); err != nil {
		return 0, err
	}
	p := last
	for _, q := range f.forward {
		if mv <= tc.millivolts(q, q.hi) {
			p = q
			break
		}
	}
	start := (p.lo + p.hi) / 2
	for _, q := range f.inverse {
		if mv >= q.lo && mv <= q.hi {
			start = q.at(mv)
			break
		}
	}
	t := newton(math.Max(low, p.lo), p.hi, start, mv,
		func(t float64) float64 { return tc.millivolts(p, t) }, func(t float64) float64 { return tc.slope(p, t) })
	return quantity.Temperature(t), nil
}

// FormulaMeasuredEMF gives the voltage at the terminals of a thermocouple input.
var FormulaMeasuredEMF = &formula.Formula{
	Name: "sensor.measured_emf",
	Text: "emf_hot - emf_cold",
	Inputs: []formula.Input{
		{Name: "emf_hot", Unit: "mV", Doc: "reference function at the measured temperature"},
		{Name: "emf_cold", Unit: "mV", Doc: "reference function at the cold junction"},
	},
	Result: formula.Input{Name: "emf", Unit: "mV", Doc: "at the terminals"},
	Source: "nist-its-90#reference-functions",
	Eval:   func(x []float64) float64 { return x[0] - x[1] },
}

// EMF returns the voltage that a thermocouple at hot gives at terminals of temperature cold.
//
//	E = E0(hot) - E0(cold)
//
// Errors as EMF0.
//
// Source: law of intermediate temperatures; functions as EMF0.
func EMF(tc Thermocouple, hot, cold quantity.Temperature) (quantity.Voltage, error) {
	h, err := EMF0(tc, hot)
	c, err2 := EMF0(tc, cold)
	if err := errors.Join(err, err2); err != nil {
		return 0, err
	}
	return h - c, nil
}

// Temperature returns the temperature of a thermocouple that gives emf at terminals of temperature
// cold: the inverse of EMF. Errors as EMF0 and Temperature0.
func Temperature(tc Thermocouple, emf quantity.Voltage, cold quantity.Temperature) (quantity.Temperature, error) {
	c, err := EMF0(tc, cold)
	if err != nil {
		return 0, err
	}
	if err := calc.Within("measured voltage", emf, -0.2, 0.2, "V"); err != nil {
		return 0, err
	}
	return Temperature0(tc, emf+c)
}

// ExtensionError returns by how much a thermocouple at hot reads wrong if the cable between its head
// and the module is of another type than it should be.
//
// head is the temperature of the connection head, terminals that of the module. Copper as used is
// the common mistake. The error is 0 when head and terminals are equally warm, whatever the cable.
// A calc.RangeError says if the reading leaves the type's range.
//
// Source: law of intermediate metals; functions as EMF0.
func ExtensionError(tc, used Thermocouple, hot, head, terminals quantity.Temperature) (quantity.TemperatureRise, error) {
	toHead, err := EMF(tc, hot, head)
	if err != nil {
		return 0, err
	}
	var along quantity.Voltage
	if used != Copper {
		if along, err = EMF(used, head, terminals); err != nil {
			return 0, err
		}
	}
	read, err := Temperature(tc, toHead+along, terminals)
	return quantity.TemperatureRise(read - hot), err
}

// ColdJunctionError returns by how much a reading at hot is wrong if the cold junction is measured
// wrong by off: the sensitivities' ratio times off.
//
// Source: derivative of EMF.
func ColdJunctionError(tc Thermocouple, hot, cold quantity.Temperature, off quantity.TemperatureRise) (quantity.TemperatureRise, error) {
	h, err := Sensitivity(tc, hot)
	c, err2 := Sensitivity(tc, cold)
	if err := errors.Join(err, err2, calc.Within("cold junction error", off, -100, 100, "K"), calc.Positive("sensitivity at the hot end", h, 1, "V/K")); err != nil {
		return 0, err
	}
	return quantity.TemperatureRise(FormulaColdJunctionError.Eval([]float64{c * 1e6, h * 1e6, float64(off)})), nil
}

// FormulaColdJunctionError gives the error that a wrong cold junction causes.
var FormulaColdJunctionError = &formula.Formula{
	Name: "sensor.cold_junction_error",
	Text: "cold / hot * off",
	Inputs: []formula.Input{
		{Name: "cold", Unit: "uV/K", Doc: "sensitivity at the terminals"},
		{Name: "hot", Unit: "uV/K", Doc: "sensitivity at the measured temperature"},
		{Name: "off", Unit: "K", Doc: "error of the cold junction's own measurement"},
	},
	Result: formula.Input{Name: "error", Unit: "K"},
	Source: "nist-its-90#reference-functions",
	Eval:   func(x []float64) float64 { return x[0] / x[1] * x[2] },
}

// band is a range of temperatures with its tolerance: max(fixed, relative*|t|).
type band struct{ low, high, fixed, relative float64 }

// tcClasses is IEC 60584-1:2013 tables of tolerances (IEC 60584-2 before). From memory. Class 1 of R
// and S above 1100 degC is 1 + 0.003 (t - 1100) and is treated apart.
var tcClasses = map[Thermocouple][3]band{
	TypeT: {{-40, 350, 0.5, 0.004}, {-40, 350, 1, 0.0075}, {-200, 40, 1, 0.015}},
	TypeE: {{-40, 800, 1.5, 0.004}, {-40, 900, 2.5, 0.0075}, {-200, 40, 2.5, 0.015}},
	TypeJ: {{-40, 750, 1.5, 0.004}, {-40, 750, 2.5, 0.0075}, {}},
	TypeK: {{-40, 1000, 1.5, 0.004}, {-40, 1200, 2.5, 0.0075}, {-200, 40, 2.5, 0.015}},
	TypeN: {{-40, 1000, 1.5, 0.004}, {-40, 1200, 2.5, 0.0075}, {-200, 40, 2.5, 0.015}},
	TypeR: {{0, 1600, 1, 0}, {0, 1600, 1.5, 0.0025}, {}},
	TypeS: {{0, 1600, 1, 0}, {0, 1600, 1.5, 0.0025}, {}},
	TypeB: {{}, {600, 1700, 0, 0.0025}, {600, 1700, 4, 0.005}},
}

// FormulaTCTolerance gives the tolerance of a thermocouple.
var FormulaTCTolerance = &formula.Formula{
	Name: "sensor.tc_tolerance",
	Text: "max(fixed, relative * abs(t))",
	Inputs: []formula.Input{
		{Name: "fixed", Unit: "K"}, {Name: "relative", Unit: "1", Doc: "share of the temperature"}, {Name: "t", Unit: "degC"},
	},
	Result: formula.Input{Name: "tolerance", Unit: "K", Doc: "either way"},
	Source: "from-memory#iec-60584-1-tolerances",
	Eval:   func(x []float64) float64 { return math.Max(x[0], x[1]*math.Abs(x[2])) },
}

// TCBand returns the fixed and the relative part of a class's tolerance; false where the class is not
// defined for the type. Class 1 of R and S above 1100 degC has more: see TCTolerance.
func TCBand(tc Thermocouple, class int) (fixed, relative float64, ok bool) {
	bands, known := tcClasses[tc]
	if !known || class < 1 || class > 3 || bands[class-1] == (band{}) {
		return 0, 0, false
	}
	return bands[class-1].fixed, bands[class-1].relative, true
}

// TCTolerance returns the permitted deviation, either way, of a thermocouple of class 1, 2 or 3 at
// t: the larger of a fixed part and a share of |t|. It returns a calc.RangeError where the class
// is not defined for the type or the temperature.
//
// Source: IEC 60584-1:2013 (IEC 60584-2 before it), from memory.
func TCTolerance(tc Thermocouple, class int, t quantity.Temperature) (quantity.TemperatureRise, error) {
	bands, ok := tcClasses[tc]
	if !ok {
		return 0, unknownType(tc)
	}
	if err := calc.Count("tolerance class", class, 1, 3); err != nil {
		return 0, err
	}
	b := bands[class-1]
	if b == (band{}) {
		return 0, &calc.ChoiceError{Name: fmt.Sprintf("tolerance class of type %s", tc), Seen: fmt.Sprint(class), Allowed: "the classes that IEC 60584-1 gives this type"}
	}
	if err := calc.Within(fmt.Sprintf("temperature for class %d of type %s", class, tc), t, b.low, b.high, "degC"); err != nil {
		return 0, err
	}
	if class == 1 && (tc == TypeR || tc == TypeS) && t > 1100 {
		return quantity.TemperatureRise(1 + 0.003*(float64(t)-1100)), nil
	}
	return quantity.TemperatureRise(math.Max(b.fixed, b.relative*math.Abs(float64(t)))), nil
}
