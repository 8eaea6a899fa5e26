package loop

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FaultCurrent is the loop current for which a loop is sized: a transmitter that signals a failure
// high drives 21 mA or more, 22 mA by common practice.
const FaultCurrent quantity.Current = 0.022

// FormulaTransmitterVoltage gives the voltage that is left for a 2-wire transmitter.
var FormulaTransmitterVoltage = &formula.Formula{
	Name: "loop.transmitter_voltage",
	Text: "supply - fixed - current / 1000 * (input + 2 * length * r / 1000 + series)",
	Inputs: []formula.Input{
		{Name: "supply", Unit: "V", Doc: "lowest transmitter supply at the module's terminals at this current"},
		{Name: "fixed", Unit: "V", Doc: "drops that do not depend on the current, as of a diode barrier"},
		{Name: "current", Unit: "mA", Doc: "22 mA for the worst case"},
		{Name: "input", Unit: "ohm", Doc: "input resistance of the module, or of the device that an output drives"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, hot"},
		{Name: "series", Unit: "ohm", Doc: "HART resistor, barrier, surge protector: their sum"},
	},
	Result: formula.Input{Name: "u_transmitter", Unit: "V"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] - x[1] - x[2]/1000*(x[3]+2*x[4]*x[5]/1000+x[6]) },
}

// FormulaMaxLoad gives the largest resistance that a loop may have.
var FormulaMaxLoad = &formula.Formula{
	Name: "loop.max_load",
	Text: "max(0, (supply - fixed - needed) / current * 1000)",
	Inputs: []formula.Input{
		{Name: "supply", Unit: "V"},
		{Name: "fixed", Unit: "V", Doc: "drops that do not depend on the current"},
		{Name: "needed", Unit: "V", Doc: "lowest transmitter voltage"},
		{Name: "current", Unit: "mA"},
	},
	Result: formula.Input{Name: "load_max", Unit: "ohm", Doc: "everything in the loop but the transmitter"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return math.Max(0, (x[0]-x[1]-x[2])/x[3]*1000) },
}

// TwoWire is a loop-powered transmitter with everything in its loop.
type TwoWire struct {
	Supply  quantity.Voltage    // lowest, at the module's terminals at Current
	Needed  quantity.Voltage    // lowest at the transmitter
	Current quantity.Current    // 0: FaultCurrent
	Input   quantity.Resistance // of the module's input
	Cable   quantity.Resistance // both cores, hot
	HART    quantity.Resistance // added resistor; 0: none
	Barrier quantity.Resistance // end to end, both channels; 0: none
	Surge   quantity.Resistance // surge protectors, both ends; 0: none
	Fixed   quantity.Voltage    // drops that do not depend on the current
}

// TwoWireResult is what Solve finds.
type TwoWireResult struct {
	AtTransmitter quantity.Voltage
	Margin        quantity.Voltage    // AtTransmitter - Needed; negative: the loop does not work at this current
	Load          quantity.Resistance // all resistance in the loop
	MaxLoad       quantity.Resistance // what would leave no margin
	MaxCable      quantity.Resistance // what both cores may have; 0 if even no cable is too much
}

// Solve returns the voltage left at the transmitter and its margin.
//
//	U = U_supply - U_fixed - I (R_input + R_cable + R_HART + R_barrier + R_surge), I = 22 mA
//
// A negative margin is a result, no error. Errors are calc.RangeErrors for values outside 0 to 1500
// V, 0 (excluded) to 1 A, 0 to 1 Gohm.
//
// Source: Ohm's law; sizing at 22 mA is common practice (NAMUR NE 43: failure from 21 mA on).
func (l TwoWire) Solve() (TwoWireResult, error) {
	if l.Current == 0 {
		l.Current = FaultCurrent
	}
	err := errors.Join(calc.PositiveVoltage("transmitter supply", l.Supply), calc.Voltage("transmitter minimum", l.Needed),
		calc.Positive("loop current", l.Current, 1, "A"), calc.Resistance("input resistance", l.Input),
		calc.Resistance("cable resistance", l.Cable), calc.Resistance("HART resistor", l.HART),
		calc.Resistance("barrier resistance", l.Barrier), calc.Resistance("surge protector resistance", l.Surge),
		calc.Voltage("fixed drops", l.Fixed))
	if err != nil {
		return TwoWireResult{}, err
	}
	load := l.Input + l.Cable + l.HART + l.Barrier + l.Surge
	r := TwoWireResult{AtTransmitter: l.Supply - l.Fixed - l.Current.Through(load), Load: load}
	r.Margin = r.AtTransmitter - l.Needed
	r.MaxLoad = quantity.Resistance(math.Max(0, float64(l.Supply-l.Fixed-l.Needed)/float64(l.Current)))
	r.MaxCable = max(0, r.MaxLoad-(load-l.Cable))
	return r, nil
}

// FormulaOutputLoad gives the resistance that an analogue output drives.
var FormulaOutputLoad = &formula.Formula{
	Name: "loop.output_load",
	Text: "load + 2 * length * r / 1000 + series",
	Inputs: []formula.Input{
		{Name: "load", Unit: "ohm", Doc: "the input that takes the current: a device's, or the module's"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, hot"},
		{Name: "series", Unit: "ohm", Doc: "barrier, surge protector, HART resistor"},
	},
	Result: formula.Input{Name: "r_total", Unit: "ohm"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] + 2*x[1]*x[2]/1000 + x[3] },
}

// OutputMargin returns the resistance that an analogue current output has left: its maximum load
// less device, cable (both cores, hot) and whatever lies between. Negative: it cannot drive 20 mA.
//
// Source: Ohm's law; IEC 61131-2 has makers state the load range.
func OutputMargin(maxLoad, load, cable, series quantity.Resistance) (quantity.Resistance, error) {
	if err := errors.Join(calc.PositiveResistance("maximum load", maxLoad), calc.Resistance("load", load),
		calc.Resistance("cable resistance", cable), calc.Resistance("series resistance", series)); err != nil {
		return 0, err
	}
	return maxLoad - load - cable - series, nil
}

// State is what a loop current says.
type State string

// The states of NAMUR NE 43, in rising order of current.
const (
	FailureLow  State = "failure low"  // up to 3.6 mA
	BelowRange  State = "below range"  // between failure and measurement
	Measurement State = "measurement"  // 3.8 to 20.5 mA
	AboveRange  State = "above range"  // between measurement and failure
	FailureHigh State = "failure high" // from 21 mA on
)

// The limits of NAMUR NE 43:2003. The edition of 2021 adds a margin for the receiving side; its
// figures were not seen.
const (
	NE43FailLow     quantity.Current = 0.0036
	NE43MeasureLow  quantity.Current = 0.0038
	NE43MeasureHigh quantity.Current = 0.0205
	NE43FailHigh    quantity.Current = 0.021
)

// Classify says what a current of a 4-20 mA loop means.
//
// Source: NAMUR NE 43:2003. A failure is declared only after it lasted some seconds (4 s is usual).
func Classify(i quantity.Current) (State, error) {
	if err := calc.Within("loop current", i, -0.1, 0.1, "A"); err != nil {
		return "", err
	}
	switch {
	case i <= NE43FailLow:
		return FailureLow, nil
	case i < NE43MeasureLow:
		return BelowRange, nil
	case i <= NE43MeasureHigh:
		return Measurement, nil
	case i < NE43FailHigh:
		return AboveRange, nil
	}
	return FailureHigh, nil
}

// HART limits of a loop.
//
// Source: HART FSK physical layer, as printed in device manuals (230 ohm; many ask for 250).
const (
	HARTMinResistance quantity.Resistance = 230
	HARTMaxResistance quantity.Resistance = 600
	HARTMaxRC         quantity.Duration   = 65e-6
)

// FormulaHARTRC gives a loop's time constant for HART.
var FormulaHARTRC = &formula.Formula{
	Name: "loop.hart_rc",
	Text: "r * (devices + cable * length / 1000) / 1000",
	Inputs: []formula.Input{
		{Name: "r", Unit: "ohm", Doc: "all resistance in the loop: resistor or input, barrier, both cores"},
		{Name: "devices", Unit: "nF", Doc: "capacitance of field devices"},
		{Name: "cable", Unit: "pF/m"},
		{Name: "length", Unit: "m", Doc: "one way"},
	},
	Result: formula.Input{Name: "rc", Unit: "us", Doc: "at most 65"},
	Source: "hart-fsk#rc",
	Eval:   func(x []float64) float64 { return x[0] * (x[1] + x[2]*x[3]/1000) / 1000 },
}

// HARTTimeConstant returns resistance times capacitance of a loop; hold it against HARTMaxRC.
//
// Source: HART FSK physical layer.
func HARTTimeConstant(r quantity.Resistance, devices, perMetre quantity.Capacitance, l quantity.Length) (quantity.Duration, error) {
	if err := hartRange(r, devices, perMetre, l); err != nil {
		return 0, err
	}
	return quantity.Duration(float64(r) * (float64(devices) + float64(perMetre)*float64(l))), nil
}

func hartRange(r quantity.Resistance, devices, perMetre quantity.Capacitance, l quantity.Length) error {
	return errors.Join(calc.Positive("loop resistance", r, 1e6, "ohm"), calc.Within("device capacitance", devices, 0, 1e-3, "F"),
		calc.Within("cable capacitance per metre", perMetre, 0, 1e-8, "F/m"), calc.Length("cable length", l))
}

// FormulaHARTLength gives the longest cable for HART.
var FormulaHARTLength = &formula.Formula{
	Name: "loop.hart_length",
	Text: "max(0, 65000000 / (r * c) - (devices + 10000) / c)",
	Inputs: []formula.Input{
		{Name: "r", Unit: "ohm", Doc: "all resistance in the loop"},
		{Name: "c", Unit: "pF/m", Doc: "cable"},
		{Name: "devices", Unit: "pF", Doc: "capacitance of field devices"},
	},
	Result: formula.Input{Name: "length", Unit: "m"},
	Source: "hart-fsk#length",
	Eval:   func(x []float64) float64 { return math.Max(0, 65e6/(x[0]*x[1])-(x[2]+10000)/x[1]) },
}

// HARTLength returns the longest cable for HART by the physical layer's formula, which keeps 10 nF in
// hand for the receiving side; 0 if none is left.
//
//	l = 65e6 / (R C) - (C_f + 10000) / C, R in ohm, C in pF/m, C_f in pF
//
// Source: HART FSK physical layer, as printed in device manuals.
func HARTLength(r quantity.Resistance, devices, perMetre quantity.Capacitance) (quantity.Length, error) {
	if err := errors.Join(hartRange(r, devices, perMetre, 0), calc.Positive("cable capacitance per metre", perMetre, 1e-8, "F/m")); err != nil {
		return 0, err
	}
	return quantity.Length(FormulaHARTLength.Eval([]float64{float64(r), float64(perMetre) * 1e12, float64(devices) * 1e12})), nil
}

// FormulaVoltageSignalError gives the share of a voltage signal that is lost on its way.
var FormulaVoltageSignalError = &formula.Formula{
	Name: "loop.voltage_signal_error",
	Text: "100 * (source + cable) / (source + cable + input)",
	Inputs: []formula.Input{
		{Name: "source", Unit: "ohm", Doc: "output resistance of the device or module"},
		{Name: "cable", Unit: "ohm", Doc: "both cores"},
		{Name: "input", Unit: "ohm", Doc: "input resistance of the module"},
	},
	Result: formula.Input{Name: "error", Unit: "%", Doc: "of the reading, always too low"},
	Source: "arithmetic#divider",
	Eval:   func(x []float64) float64 { return 100 * (x[0] + x[1]) / (x[0] + x[1] + x[2]) },
}

// VoltageSignalError returns the relative error (0.01 for 1 %) of a voltage signal by the divider of
// source, cable and input.
//
// Source: voltage divider.
func VoltageSignalError(source, cable, input quantity.Resistance) (float64, error) {
	if err := errors.Join(calc.Resistance("source resistance", source), calc.Resistance("cable resistance", cable), calc.PositiveResistance("input resistance", input)); err != nil {
		return 0, err
	}
	return FormulaVoltageSignalError.Eval([]float64{float64(source), float64(cable), float64(input)}) / 100, nil
}
