package conductor

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaOuterDiameter estimates a multicore cable's outer diameter.
var FormulaOuterDiameter = &formula.Formula{
	Name: "conductor.outer_diameter",
	Text: "1.16 * core * sqrt(cores) + 2 * sheath",
	Inputs: []formula.Input{
		{Name: "core", Unit: "mm", Doc: "diameter of one insulated core"},
		{Name: "cores", Unit: "1"},
		{Name: "sheath", Unit: "mm", Doc: "thickness of screen and sheath together"},
	},
	Result: formula.Input{Name: "d", Unit: "mm"},
	Source: "common-practice#cable-diameter",
	Eval:   func(x []float64) float64 { return 1.16*x[0]*math.Sqrt(x[1]) + 2*x[2] },
}

// FormulaTrayFill gives the share of a tray's section that cables take.
var FormulaTrayFill = &formula.Formula{
	Name: "conductor.tray_fill",
	Text: "squares / (width * height)",
	Inputs: []formula.Input{
		{Name: "squares", Unit: "mm2", Doc: "sum of the cables' squared outer diameters"},
		{Name: "width", Unit: "mm", Doc: "usable"},
		{Name: "height", Unit: "mm", Doc: "usable"},
	},
	Result: formula.Input{Name: "fill", Unit: "1"},
	Source: "common-practice#tray-fill",
	Eval:   func(x []float64) float64 { return x[0] / (x[1] * x[2]) },
}

// FormulaBendRadius gives the smallest inner bend radius of a cable.
var FormulaBendRadius = &formula.Formula{
	Name:   "conductor.bend_radius",
	Text:   "multiple * d",
	Inputs: []formula.Input{{Name: "multiple", Unit: "1"}, {Name: "d", Unit: "mm", Doc: "outer diameter"}},
	Result: formula.Input{Name: "radius", Unit: "mm"},
	Source: "common-practice#bend-radius",
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

// Bend multiples of the outer diameter for control cables, fixed and once bent, unscreened and
// screened. Common practice; the cable's data sheet outranks them.
const (
	BendUnscreened = 4.0
	BendScreened   = 6.0
)

// TrayFill returns the share of a tray's usable section that cables take, each counted as the
// square round it, so that 1 is a tray packed without any skill.
//
// Source: common practice (limits of 0.4 to 0.6 are usual).
func TrayFill(outer []quantity.Length, width, height quantity.Length) (float64, error) {
	errs := []error{calc.Positive("tray width", width, 5, "m"), calc.Positive("tray height", height, 1, "m")}
	squares := 0.0
	for _, d := range outer {
		errs = append(errs, calc.Positive("cable diameter", d, 0.5, "m"))
		squares += float64(d) * float64(d) * 1e6
	}
	if err := errors.Join(errs...); err != nil {
		return 0, err
	}
	return FormulaTrayFill.Eval([]float64{squares, float64(width) * 1000, float64(height) * 1000}), nil
}

// BendRadius returns the smallest inner bend radius: a multiple of the outer diameter.
//
// Source: common practice (BendUnscreened, BendScreened), or the cable's data sheet.
func BendRadius(outer quantity.Length, multiple float64) (quantity.Length, error) {
	if err := errors.Join(calc.Positive("cable diameter", outer, 0.5, "m"), calc.Within("bend multiple", multiple, 1, 50, "")); err != nil {
		return 0, err
	}
	return quantity.Length(multiple) * outer, nil
}
