package loop

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// CablePerMetre is the capacitance of a core against the others in an ordinary control cable.
//
// Source: common practice (0.1 to 0.3 uF/km; the upper end is used).
const CablePerMetre quantity.Capacitance = 300e-12

// FormulaRiseTime gives how long a cable takes to charge to an input's "1".
var FormulaRiseTime = &formula.Formula{
	Name: "loop.rise_time",
	Text: "r * c * length / 1000000 * ln(supply / (supply - on))",
	Inputs: []formula.Input{
		{Name: "r", Unit: "ohm", Doc: "that charges the cable: source or pull-up"},
		{Name: "c", Unit: "pF/m"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "supply", Unit: "V"},
		{Name: "on", Unit: "V", Doc: "surely a 1"},
	},
	Result: formula.Input{Name: "time", Unit: "us"},
	Source: "arithmetic#rc",
	Eval:   func(x []float64) float64 { return x[0] * x[1] * x[2] / 1e6 * math.Log(x[3]/(x[3]-x[4])) },
}

// FormulaFallTime gives how long a cable takes to discharge to an input's "0".
var FormulaFallTime = &formula.Formula{
	Name: "loop.fall_time",
	Text: "r * c * length / 1000000 * ln(supply / off)",
	Inputs: []formula.Input{
		{Name: "r", Unit: "ohm", Doc: "that discharges the cable: the input or a pull-down"},
		{Name: "c", Unit: "pF/m"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "supply", Unit: "V"},
		{Name: "off", Unit: "V", Doc: "surely a 0"},
	},
	Result: formula.Input{Name: "time", Unit: "us"},
	Source: "arithmetic#rc",
	Eval:   func(x []float64) float64 { return x[0] * x[1] * x[2] / 1e6 * math.Log(x[3]/x[4]) },
}

// FormulaMaxFrequency gives the highest frequency of equal marks and spaces that an input still sees.
var FormulaMaxFrequency = &formula.Formula{
	Name: "loop.max_frequency",
	Text: "1000000 / (2 * (max(rise, fall) + filter))",
	Inputs: []formula.Input{
		{Name: "rise", Unit: "us"}, {Name: "fall", Unit: "us"}, {Name: "filter", Unit: "us", Doc: "input delay of the module"},
	},
	Result: formula.Input{Name: "f_max", Unit: "Hz"},
	Source: "common-practice#half-period-for-the-slower-edge",
	Eval:   func(x []float64) float64 { return 1e6 / (2 * (math.Max(x[0], x[1]) + x[2])) },
}

// PulseLine is a counter input at the end of a cable.
type PulseLine struct {
	Charge    quantity.Resistance  // through which the cable charges
	Discharge quantity.Resistance  // through which it discharges; 0: Charge
	PerMetre  quantity.Capacitance // of the cable; 0: CablePerMetre
	Length    quantity.Length
	Extra     quantity.Capacitance // of the input or a surge protector
	Supply    quantity.Voltage
	On, Off   quantity.Voltage // thresholds of the input
	Filter    quantity.Duration
}

// PulseResult is what Solve finds.
type PulseResult struct {
	Rise, Fall   quantity.Duration
	MaxFrequency quantity.Frequency // of equal marks and spaces; 0 = no limit was found (no capacitance, no filter)
}

// Solve returns the slower edge of a pulse line and the highest frequency that it passes: each half
// period must hold the slower edge and the input's filter.
//
//	t_rise = R C ln(U / (U - U_on)), t_fall = R C ln(U / U_off), f = 1 / (2 (max(t) + t_filter))
//
// Valid while the cable is short against the wave length (under some 100 kHz at 1 km).
//
// Source: charging of a capacitor; the half period rule is common practice.
func (p PulseLine) Solve() (PulseResult, error) {
	if p.PerMetre == 0 {
		p.PerMetre = CablePerMetre
	}
	if p.Discharge == 0 {
		p.Discharge = p.Charge
	}
	err := errors.Join(calc.Resistance("charging resistance", p.Charge), calc.Resistance("discharging resistance", p.Discharge),
		calc.Within("cable capacitance per metre", p.PerMetre, 0, 1e-8, "F/m"), calc.Length("cable length", p.Length), calc.Within("extra capacitance", p.Extra, 0, 1e-3, "F"),
		calc.PositiveVoltage("supply", p.Supply), calc.Within("on threshold", p.On, float64(p.Off), 0.99*float64(p.Supply), "V"),
		calc.Positive("off threshold", p.Off, float64(p.Supply), "V"), calc.Within("input filter", p.Filter, 0, 10, "s"))
	if err != nil {
		return PulseResult{}, err
	}
	c := float64(p.PerMetre)*float64(p.Length) + float64(p.Extra)
	u := float64(p.Supply)
	r := PulseResult{
		Rise: quantity.Duration(float64(p.Charge) * c * math.Log(u/(u-float64(p.On)))),
		Fall: quantity.Duration(float64(p.Discharge) * c * math.Log(u/float64(p.Off))),
	}
	if half := float64(max(r.Rise, r.Fall) + p.Filter); half > 0 {
		r.MaxFrequency = quantity.Frequency(1 / (2 * half))
	}
	return r, nil
}

// FormulaCapacitiveCurrent gives the current that a cable's capacitance lets through.
var FormulaCapacitiveCurrent = &formula.Formula{
	Name: "loop.capacitive_current",
	Text: "supply * 2 * 3.14159265358979 * frequency * c * length / 1000000000",
	Inputs: []formula.Input{
		{Name: "supply", Unit: "V"}, {Name: "frequency", Unit: "Hz"}, {Name: "c", Unit: "pF/m", Doc: "live core against signal core"}, {Name: "length", Unit: "m", Doc: "along which both run"},
	},
	Result: formula.Input{Name: "current", Unit: "mA"},
	Source: "arithmetic#capacitor",
	Eval:   func(x []float64) float64 { return x[0] * 2 * math.Pi * x[1] * x[2] * x[3] / 1e9 },
}

// FormulaCoupledVoltage gives the voltage that an open AC line leaves at its input.
var FormulaCoupledVoltage = &formula.Formula{
	Name: "loop.coupled_voltage",
	Text: "supply / sqrt(1 + (1000000000000 / (2 * 3.14159265358979 * frequency * c * length * input)) ^ 2)",
	Inputs: []formula.Input{
		{Name: "supply", Unit: "V"},
		{Name: "frequency", Unit: "Hz"},
		{Name: "c", Unit: "pF/m", Doc: "live core against signal core"},
		{Name: "length", Unit: "m", Doc: "along which both run"},
		{Name: "input", Unit: "ohm", Doc: "input resistance of the module"},
	},
	Result: formula.Input{Name: "u_input", Unit: "V", Doc: "switch open"},
	Source: "arithmetic#divider",
	Eval: func(x []float64) float64 {
		return x[0] / math.Sqrt(1+math.Pow(1e12/(2*math.Pi*x[1]*x[2]*x[3]*x[4]), 2))
	},
}

// FormulaLongestAC gives the longest AC line whose open switch still reads 0.
var FormulaLongestAC = &formula.Formula{
	Name: "loop.longest_ac",
	Text: "allowed * 1000000000 / (supply * 2 * 3.14159265358979 * frequency * c)",
	Inputs: []formula.Input{
		{Name: "allowed", Unit: "mA", Doc: "state-0 current of the input"},
		{Name: "supply", Unit: "V", Doc: "highest"},
		{Name: "frequency", Unit: "Hz"},
		{Name: "c", Unit: "pF/m"},
	},
	Result: formula.Input{Name: "length", Unit: "m"},
	Source: "arithmetic#capacitor",
	Eval:   func(x []float64) float64 { return x[0] * 1e9 / (x[1] * 2 * math.Pi * x[2] * x[3]) },
}

// ACLine is a mains input at the end of a cable in which the live core and the signal core run side
// by side.
type ACLine struct {
	Supply    quantity.Voltage     // highest
	Frequency quantity.Frequency   // 0: 50 Hz
	PerMetre  quantity.Capacitance // 0: CablePerMetre
	Length    quantity.Length
	Input     Thresholds
	InputR    quantity.Resistance // at the "0" threshold; 0: OffVoltage / OffCurrent
}

// ACResult is what Solve finds.
type ACResult struct {
	Current    quantity.Current    // through the cable's capacitance into a short
	AtInput    quantity.Voltage    // with the switch open
	Margin     quantity.Voltage    // Input.OffVoltage - AtInput; negative: an open switch may read "1"
	Longest    quantity.Length     // at which the margin is just zero
	MaxBleeder quantity.Resistance // largest resistor across the input that mends it; 0: none needed
}

// Solve returns what an open switch leaves at a mains input because of the cable's capacitance.
//
//	U_input = U / sqrt(1 + (1 / (2 pi f C l R))^2)
//
// The input counts as a resistor, which is on the safe side for the usual RC inputs.
//
// Source: divider of a capacitor and a resistor.
func (a ACLine) Solve() (ACResult, error) {
	if a.Frequency == 0 {
		a.Frequency = 50
	}
	if a.PerMetre == 0 {
		a.PerMetre = CablePerMetre
	}
	in := a.Input
	err := errors.Join(calc.PositiveVoltage("supply", a.Supply), calc.Positive("frequency", a.Frequency, 1000, "Hz"), calc.Positive("cable capacitance per metre", a.PerMetre, 1e-8, "F/m"),
		calc.Length("cable length", a.Length), calc.Positive("off voltage of the input", in.OffVoltage, float64(a.Supply), "V"),
		calc.Positive("state-0 current of the input", in.OffCurrent, 1, "A"), calc.Resistance("input resistance", a.InputR))
	if err != nil {
		return ACResult{}, err
	}
	if a.InputR == 0 {
		a.InputR = quantity.Resistance(float64(in.OffVoltage) / float64(in.OffCurrent))
	}
	w := 2 * math.Pi * float64(a.Frequency)
	c := float64(a.PerMetre) * float64(a.Length)
	u, off, r := float64(a.Supply), float64(in.OffVoltage), float64(a.InputR)
	res := ACResult{Current: quantity.Current(u * w * c), AtInput: quantity.Voltage(u * w * c * r / math.Hypot(1, w*c*r))}
	res.Margin = in.OffVoltage - res.AtInput
	ratio := off / math.Sqrt(u*u-off*off) // w C R at which U_input = U_off
	res.Longest = quantity.Length(math.Min(100e3, ratio/(w*r*float64(a.PerMetre))))
	if res.Margin < 0 {
		total := ratio / (w * c) // input and bleeder together
		res.MaxBleeder = quantity.Resistance(total * r / (r - total))
	}
	return res, nil
}
