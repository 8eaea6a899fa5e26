package voltdrop

import (
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaDropSingle gives the drop of a single-phase feeder.
var FormulaDropSingle = &formula.Formula{
	Name: "voltdrop.single_phase",
	Text: "2 * length / 1000 * current * (r * cos_phi + x * sqrt(1 - cos_phi ^ 2))",
	Inputs: []formula.Input{
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "current", Unit: "A"},
		{Name: "r", Unit: "ohm/km", Doc: "one core at its temperature"},
		{Name: "x", Unit: "ohm/km", Doc: "reactance of one core"},
		{Name: "cos_phi", Unit: "1", Doc: "power factor of the load"},
	},
	Result: formula.Input{Name: "drop", Unit: "V"},
	Source: "iec-60364-5-52#annex-G",
	Eval: func(x []float64) float64 {
		return 2 * x[0] / 1000 * x[1] * (x[2]*x[4] + x[3]*math.Sqrt(1-x[4]*x[4]))
	},
}

// FormulaDropThree gives the drop between phases of a balanced three-phase feeder.
var FormulaDropThree = &formula.Formula{
	Name:   "voltdrop.three_phase",
	Text:   "sqrt(3) * length / 1000 * current * (r * cos_phi + x * sqrt(1 - cos_phi ^ 2))",
	Inputs: FormulaDropSingle.Inputs,
	Result: formula.Input{Name: "drop", Unit: "V", Doc: "between phases"},
	Source: "iec-60364-5-52#annex-G",
	Eval: func(x []float64) float64 {
		return math.Sqrt(3) * x[0] / 1000 * x[1] * (x[2]*x[4] + x[3]*math.Sqrt(1-x[4]*x[4]))
	},
}

// Reactance is the reactance of one core of an ordinary multicore cable at 50 Hz.
//
// Source: IEC 60364-5-52 annex G (0.08 mohm/m where nothing better is known).
const Reactance = quantity.ResistancePerLength(0.08e-3)

// DropAC returns the drop of an AC feeder: over both cores if phases is 1, between phases if 3.
//
//	dU = b * l * I * (r cos phi + x sin phi), b = 2 or sqrt 3
//
// cosPhi from 0 to 1, lagging; x may be 0. Valid for short feeders (it leaves out the small
// component at right angles).
//
// Source: IEC 60364-5-52 annex G, written with the drop between conductors.
func DropAC(phases int, l quantity.Length, r, x quantity.ResistancePerLength, i quantity.Current, cosPhi float64) (quantity.Voltage, error) {
	if phases != 1 && phases != 3 {
		return 0, &calc.ChoiceError{Name: "phases", Seen: quantity.Short(float64(phases)), Allowed: "1, 3"}
	}
	if err := firstError(calc.Length("cable length", l), calc.PerLength("resistance per length", r),
		calc.Within("reactance per length", x, 0, 10, "ohm/m"), calc.Current("current", i), calc.Fraction("power factor", cosPhi)); err != nil {
		return 0, err
	}
	f := FormulaDropSingle
	if phases == 3 {
		f = FormulaDropThree
	}
	return quantity.Voltage(f.Eval([]float64{float64(l), float64(i), float64(r) * 1000, float64(x) * 1000, cosPhi})), nil
}
