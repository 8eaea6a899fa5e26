package loop

import (
	"errors"
	"fmt"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Thresholds are what a digital input guarantees: "1" from OnVoltage on while it draws OnCurrent,
// "0" up to OffVoltage or while less than OffCurrent flows. A module's own figures outrank the
// type's.
type Thresholds struct {
	OnVoltage  quantity.Voltage
	OffVoltage quantity.Voltage
	OffCurrent quantity.Current // still a "0" at OffVoltage
	OnCurrent  quantity.Current // drawn at least at "1"
	MaxCurrent quantity.Current // drawn at most at "1"
	Source     string
}

// ByType returns the thresholds of a 24 V DC current-sinking input of type 1, 2 or 3.
//
// Source: IEC 61131-2:2007 table 7. Voltages of types 1 and 3, state-0 currents of types 1 and 2 and
// the on-currents of types 1 and 3 were seen in device data; type 2, the state-0 current of type 3 and
// the upper currents are from memory.
func ByType(n int) (Thresholds, error) {
	switch n {
	case 1:
		return Thresholds{15, 5, 0.0005, 0.002, 0.015, "iec-61131-2#table-7"}, nil
	case 2:
		return Thresholds{11, 5, 0.002, 0.006, 0.030, "iec-61131-2#table-7"}, nil
	case 3:
		return Thresholds{11, 5, 0.0015, 0.002, 0.015, "iec-61131-2#table-7"}, nil
	}
	return Thresholds{}, &calc.ChoiceError{Name: "digital input type", Seen: fmt.Sprint(n), Allowed: "1, 2, 3 (IEC 61131-2)"}
}

// ByMains returns the thresholds of a mains input, type 1, for 120 or 230 V AC.
//
// Source: IEC 61131-2 table 7, AC columns, from memory: a module's own data must be used where there are any.
func ByMains(nominal quantity.Voltage) (Thresholds, error) {
	switch {
	case nominal >= 100 && nominal <= 130:
		return Thresholds{79, 20, 0.001, 0.002, 0.015, "from-memory#iec-61131-2-table-7-ac"}, nil
	case nominal >= 200 && nominal <= 250:
		return Thresholds{164, 40, 0.002, 0.003, 0.015, "from-memory#iec-61131-2-table-7-ac"}, nil
	}
	return Thresholds{}, &calc.ChoiceError{Name: "mains input", Seen: quantity.Short(float64(nominal)) + " V", Allowed: "100 to 130 V, 200 to 250 V"}
}

// FormulaInputOn gives the voltage at a digital input whose switch is closed.
var FormulaInputOn = &formula.Formula{
	Name: "loop.input_on",
	Text: "supply - drop - current / 1000 * 2 * length * r / 1000",
	Inputs: []formula.Input{
		{Name: "supply", Unit: "V", Doc: "lowest, where the sensor is fed"},
		{Name: "drop", Unit: "V", Doc: "of the closed switch"},
		{Name: "current", Unit: "mA", Doc: "that the input draws"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, hot"},
	},
	Result: formula.Input{Name: "u_input", Unit: "V"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] - x[1] - x[2]/1000*2*x[3]*x[4]/1000 },
}

// FormulaSensorOn gives the voltage at a digital input behind a three-wire sensor that is on: one core of
// its supply carries the sensor's own current and the input's, the signal core the input's.
var FormulaSensorOn = &formula.Formula{
	Name: "loop.sensor_on",
	Text: "supply - drop - (own + 2 * current) / 1000 * length * r / 1000",
	Inputs: []formula.Input{
		{Name: "supply", Unit: "V", Doc: "lowest, where the sensor is fed"},
		{Name: "drop", Unit: "V", Doc: "of the closed switch"},
		{Name: "own", Unit: "mA", Doc: "that the sensor draws itself"},
		{Name: "current", Unit: "mA", Doc: "that the input draws"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, hot"},
	},
	Result: formula.Input{Name: "u_input", Unit: "V"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] - x[1] - (x[2]+2*x[3])/1000*x[4]*x[5]/1000 },
}

// FormulaInputOff gives what is left below an input's state-0 current.
var FormulaInputOff = &formula.Formula{
	Name: "loop.input_off_margin",
	Text: "allowed - leakage",
	Inputs: []formula.Input{
		{Name: "allowed", Unit: "mA", Doc: "still a 0, of the module or its type"}, {Name: "leakage", Unit: "mA", Doc: "of the open switch"},
	},
	Result: formula.Input{Name: "margin", Unit: "mA", Doc: "negative: an open switch may read 1"},
	Source: "iec-61131-2#table-7",
	Eval:   func(x []float64) float64 { return x[0] - x[1] },
}

// FormulaBleeder gives the resistor that makes a leaky switch read 0.
var FormulaBleeder = &formula.Formula{
	Name: "loop.bleeder",
	Text: "off_voltage / (leakage - allowed) * 1000",
	Inputs: []formula.Input{
		{Name: "off_voltage", Unit: "V", Doc: "still a 0"}, {Name: "leakage", Unit: "mA"}, {Name: "allowed", Unit: "mA", Doc: "what the input itself takes at a 0"},
	},
	Result: formula.Input{Name: "r_max", Unit: "ohm", Doc: "across the input, at most"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] / (x[1] - x[2]) * 1000 },
}

// Switch is what closes an input's circuit. The zero Switch is a dry contact.
type Switch struct {
	Drop       quantity.Voltage // when closed
	Leakage    quantity.Current // when open
	MinCurrent quantity.Current // that it needs through its load to work; a contact: to wet it
}

// TwoWireSwitch is the worst 2-wire DC proximity switch that the standard allows.
//
// Source: IEC 60947-5-2 (leakage 1.5 mA seen; 8 V drop and 5 mA minimum current from memory).
var TwoWireSwitch = Switch{Drop: 8, Leakage: 0.0015, MinCurrent: 0.005}

// SwitchedInput is a digital input with its switch and cable.
type SwitchedInput struct {
	Supply  quantity.Voltage // lowest, where the switch is fed
	Highest quantity.Voltage // for the bleeder's losses; 0: 28.8 V
	Switch  Switch
	Cable   quantity.Resistance // both cores, hot
	Input   Thresholds
}

// InputResult is what Solve finds. Margins below zero say what does not work.
type InputResult struct {
	On            quantity.Voltage    // at the input, switch closed
	OnMargin      quantity.Voltage    // On - Input.OnVoltage
	OffMargin     quantity.Current    // Input.OffCurrent - leakage
	CurrentMargin quantity.Current    // Input.OnCurrent - Switch.MinCurrent
	Bleeder       quantity.Resistance // largest resistor across the input that mends OffMargin; 0: none needed
	BleederPower  quantity.Power      // that it must bear at the highest voltage
}

// OK reports whether both states are certain.
func (r InputResult) OK() bool { return r.OnMargin >= 0 && r.OffMargin >= 0 && r.CurrentMargin >= 0 }

// Solve returns the margins of both states.
//
//	U_1 = U_supply - U_drop - I_max R_cable       held against the "1" threshold
//	I_0 = leakage                                  held against the state-0 current
//	I_1 = on-current of the input                  held against the switch's minimum current
//
// The bleeder is R = U_off / (leakage - I_off); it adds to the switch's load current too.
//
// Source: IEC 61131-2 table 7, IEC 60947-5-2; Ohm's law.
func (s SwitchedInput) Solve() (InputResult, error) {
	if s.Highest == 0 {
		s.Highest = 28.8 // IEC 61131-2: 24 V + 20 %
	}
	in, sw := s.Input, s.Switch
	err := errors.Join(calc.PositiveVoltage("supply", s.Supply), calc.PositiveVoltage("highest supply", s.Highest), calc.Voltage("switch drop", sw.Drop),
		calc.Within("leakage", sw.Leakage, 0, 1, "A"), calc.Within("minimum current of the switch", sw.MinCurrent, 0, 10, "A"),
		calc.Resistance("cable resistance", s.Cable), calc.PositiveVoltage("on voltage of the input", in.OnVoltage),
		calc.Within("off voltage of the input", in.OffVoltage, 0, float64(in.OnVoltage), "V"), calc.Within("state-0 current", in.OffCurrent, 0, 1, "A"),
		calc.Within("on current", in.OnCurrent, 0, 1, "A"), calc.Within("largest input current", in.MaxCurrent, 0, 1, "A"))
	if err != nil {
		return InputResult{}, err
	}
	drawn := max(in.OnCurrent, in.MaxCurrent)
	r := InputResult{On: s.Supply - sw.Drop - drawn.Through(s.Cable), OffMargin: in.OffCurrent - sw.Leakage, CurrentMargin: in.OnCurrent - sw.MinCurrent}
	r.OnMargin = r.On - in.OnVoltage
	if r.OffMargin < 0 && in.OffVoltage > 0 {
		r.Bleeder = quantity.Resistance(float64(in.OffVoltage) / float64(-r.OffMargin))
		r.BleederPower = quantity.Power(float64(s.Highest) * float64(s.Highest) / float64(r.Bleeder))
	}
	return r, nil
}

// NAMUR is the state of a NAMUR sensor's circuit.
type NAMUR string

// The states by rising current.
const (
	NAMURBreak     NAMUR = "wire break"
	NAMURBlocked   NAMUR = "high impedance" // actuated, as a rule
	NAMURUndecided NAMUR = "between the thresholds"
	NAMURConducts  NAMUR = "low impedance"
	NAMURShort     NAMUR = "short circuit"
)

// Limits of the NAMUR interface.
//
// Source: IEC 60947-5-6 (1.2, 2.1 mA, 8.2 V, 50 ohm, 1 Mohm seen; 1 kohm, wire break and short
// circuit from memory: 0.05 to 0.35 mA is the window for a break, above 6 mA a short).
const (
	NAMURSupply       quantity.Voltage    = 8.2
	NAMURSource       quantity.Resistance = 1000
	NAMURHigh         quantity.Current    = 0.0012 // at most: high impedance
	NAMURLow          quantity.Current    = 0.0021 // at least: low impedance
	NAMURBreakBelow   quantity.Current    = 0.00035
	NAMURShortAbove   quantity.Current    = 0.006
	NAMURMaxLine      quantity.Resistance = 50
	NAMURMinInsulated quantity.Resistance = 1e6
)

// FormulaNAMURCurrent gives the current of a NAMUR circuit.
var FormulaNAMURCurrent = &formula.Formula{
	Name: "loop.namur_current",
	Text: "supply / (source + line + sensor) * 1000",
	Inputs: []formula.Input{
		{Name: "supply", Unit: "V", Doc: "8.2 V nominal"},
		{Name: "source", Unit: "ohm", Doc: "1000 ohm nominal"},
		{Name: "line", Unit: "ohm", Doc: "both cores"},
		{Name: "sensor", Unit: "ohm"},
	},
	Result: formula.Input{Name: "current", Unit: "mA"},
	Source: "iec-60947-5-6#nominal-circuit",
	Eval:   func(x []float64) float64 { return x[0] / (x[1] + x[2] + x[3]) * 1000 },
}

// NAMURCurrent returns the current through a sensor of the given resistance and line: I = 8.2 V / (1
// kohm + line + sensor).
//
// Source: IEC 60947-5-6, nominal circuit.
func NAMURCurrent(line, sensor quantity.Resistance) (quantity.Current, error) {
	if err := errors.Join(calc.Resistance("line resistance", line), calc.Resistance("sensor resistance", sensor)); err != nil {
		return 0, err
	}
	return quantity.Current(FormulaNAMURCurrent.Eval([]float64{float64(NAMURSupply), float64(NAMURSource), float64(line), float64(sensor)}) / 1000), nil
}

// ClassifyNAMUR says what a current in a NAMUR circuit means.
//
// Source: IEC 60947-5-6; break and short from memory.
func ClassifyNAMUR(i quantity.Current) (NAMUR, error) {
	if err := calc.Within("NAMUR current", i, 0, 0.1, "A"); err != nil {
		return "", err
	}
	switch {
	case i < NAMURBreakBelow:
		return NAMURBreak, nil
	case i <= NAMURHigh:
		return NAMURBlocked, nil
	case i < NAMURLow:
		return NAMURUndecided, nil
	case i <= NAMURShortAbove:
		return NAMURConducts, nil
	}
	return NAMURShort, nil
}

// LoadKind is how a load behaves when it is switched.
type LoadKind string

// The kinds of load.
const (
	Resistive LoadKind = "resistive"
	Inductive LoadKind = "inductive"
	Lamp      LoadKind = "lamp"      // filament
	Capacitor LoadKind = "capacitor" // electronics with an input capacitor
)

// LampInrush is the cold current of a filament lamp over its warm one.
//
// Source: common practice (10 to 15 times).
const LampInrush = 10.0

// FormulaLampInrush gives a lamp's cold current.
var FormulaLampInrush = &formula.Formula{
	Name: "loop.lamp_inrush", Text: "factor * current",
	Inputs: []formula.Input{{Name: "factor", Unit: "1", Doc: "10 for a filament lamp"}, {Name: "current", Unit: "A", Doc: "warm"}},
	Result: formula.Input{Name: "inrush", Unit: "A"},
	Source: "common-practice#lamp-inrush",
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

// FormulaCoilEnergy gives the energy that a coil returns when it is switched off.
var FormulaCoilEnergy = &formula.Formula{
	Name: "loop.coil_energy", Text: "0.5 * l * current ^ 2",
	Inputs: []formula.Input{{Name: "l", Unit: "H"}, {Name: "current", Unit: "A"}},
	Result: formula.Input{Name: "energy", Unit: "J"},
	Source: "arithmetic#stored-energy",
	Eval:   func(x []float64) float64 { return 0.5 * x[0] * x[1] * x[1] },
}

// FormulaSwitchingLoss gives the power of a coil's energy at a switching rate.
var FormulaSwitchingLoss = &formula.Formula{
	Name: "loop.switching_loss", Text: "0.5 * l * current ^ 2 * rate",
	Inputs: []formula.Input{{Name: "l", Unit: "H"}, {Name: "current", Unit: "A"}, {Name: "rate", Unit: "Hz"}},
	Result: formula.Input{Name: "power", Unit: "W", Doc: "into the output's clamp or the suppressor"},
	Source: "arithmetic#stored-energy",
	Eval:   func(x []float64) float64 { return 0.5 * x[0] * x[1] * x[1] * x[2] },
}

// Output is a digital output with its load.
type Output struct {
	Kind       LoadKind
	Current    quantity.Current    // steady, at the load
	Inrush     quantity.Current    // stated; 0: LampInrush for lamps, none otherwise
	Inductance quantity.Inductance // 0: not stated
	Rate       quantity.Frequency  // switching rate; 0: not stated
	Supply     quantity.Voltage    // lowest, at the output's infeed
	Drop       quantity.Voltage    // of the closed output; 0 for a relay
	Cable      quantity.Resistance // both cores, hot
	MinVoltage quantity.Voltage    // that the load needs
	Rated      quantity.Current    // of the channel
	Peak       quantity.Current    // that the channel bears for an inrush; 0: Rated
	Clamp      quantity.Energy     // that the channel absorbs per switching off; 0: not stated
	Leakage    quantity.Current    // of the open output
	Release    quantity.Voltage    // below which the load surely drops out; 0: not stated
	Resistance quantity.Resistance // of the load, for the leakage; 0: Supply / Current
}

// OutputResult is what Solve finds. Margins below zero say what does not work.
type OutputResult struct {
	AtLoad        quantity.Voltage
	VoltageMargin quantity.Voltage // AtLoad - MinVoltage
	CurrentMargin quantity.Current // Rated - Current
	Inrush        quantity.Current
	InrushMargin  quantity.Current // Peak - Inrush
	Energy        quantity.Energy  // per switching off; 0 if Inductance is not stated
	ClampLoss     quantity.Power   // Energy * Rate
	NeedsClamp    bool             // inductive, and the channel absorbs nothing or less than Energy
	OffVoltage    quantity.Voltage // left at the load by the leakage
	MayHold       bool             // OffVoltage reaches Release
}

// Solve returns the figures of an output. With no load current the off-voltage is left 0.
//
// Source: Ohm's law; energy of a coil; lamp inrush common practice.
func (o Output) Solve() (OutputResult, error) {
	switch o.Kind {
	case Resistive, Inductive, Lamp, Capacitor:
	default:
		return OutputResult{}, &calc.ChoiceError{Name: "kind of load", Seen: fmt.Sprintf("%q", string(o.Kind)), Allowed: "resistive, inductive, lamp, capacitor"}
	}
	if o.Peak == 0 {
		o.Peak = o.Rated
	}
	err := errors.Join(calc.Current("load current", o.Current), calc.Current("inrush", o.Inrush), calc.Within("inductance", o.Inductance, 0, 1e4, "H"),
		calc.Within("switching rate", o.Rate, 0, 1e6, "Hz"), calc.PositiveVoltage("supply", o.Supply), calc.Voltage("output drop", o.Drop),
		calc.Resistance("cable resistance", o.Cable), calc.Voltage("load minimum", o.MinVoltage), calc.PositiveCurrent("channel rating", o.Rated),
		calc.Within("channel peak", o.Peak, float64(o.Rated), 1e5, "A"), calc.Within("clamp energy", o.Clamp, 0, 1e6, "J"),
		calc.Within("leakage", o.Leakage, 0, 1, "A"), calc.Voltage("release voltage", o.Release), calc.Resistance("load resistance", o.Resistance))
	if err != nil {
		return OutputResult{}, err
	}
	r := OutputResult{AtLoad: o.Supply - o.Drop - o.Current.Through(o.Cable), CurrentMargin: o.Rated - o.Current, Inrush: max(o.Inrush, o.Current)}
	if o.Kind == Lamp && o.Inrush == 0 {
		r.Inrush = LampInrush * o.Current
	}
	r.VoltageMargin, r.InrushMargin = r.AtLoad-o.MinVoltage, o.Peak-r.Inrush
	r.Energy = quantity.Energy(FormulaCoilEnergy.Eval([]float64{float64(o.Inductance), float64(o.Current)}))
	r.ClampLoss = quantity.Power(float64(r.Energy) * float64(o.Rate))
	r.NeedsClamp = o.Kind == Inductive && (o.Clamp == 0 || r.Energy > o.Clamp)
	load := o.Resistance
	if load == 0 && o.Current > 0 {
		load = quantity.Resistance(float64(o.Supply) / float64(o.Current))
	}
	r.OffVoltage = quantity.Voltage(math.Min(float64(o.Leakage.Through(load)), float64(o.Supply)))
	r.MayHold = o.Release > 0 && r.OffVoltage >= o.Release
	return r, nil
}
