package conductor

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Disturbance is a cable's class from very sensitive to very noisy.
type Disturbance int

// The classes.
const (
	VerySensitive Disturbance = 1 // millivolts, thermocouples, RTD, 4-20 mA, networks
	Sensitive     Disturbance = 2 // digital signals, 24 V DC
	Noisy         Disturbance = 3 // mains supply, mains control
	VeryNoisy     Disturbance = 4 // motors on converters, switched coils without suppressors
)

// FormulaSeparation gives the distance between cables of two classes.
var FormulaSeparation = &formula.Formula{
	Name: "conductor.separation", Text: "step * abs(class_a - class_b)",
	Inputs: []formula.Input{
		{Name: "step", Unit: "mm", Doc: "per class, 150 without a metal divider"},
		{Name: "class_a", Unit: "1", Doc: "1 very sensitive to 4 very noisy"},
		{Name: "class_b", Unit: "1"},
	},
	Result: formula.Input{Name: "distance", Unit: "mm"},
	Source: "common-practice#cable-separation",
	Eval:   func(x []float64) float64 { return x[0] * math.Abs(x[1]-x[2]) },
}

// Separation returns how far cables of two classes should lie apart when they run side by side: 150 mm
// per class without, 50 mm with an earthed metal divider or tray between them. Crossings at right
// angles need no distance.
//
// Source: common practice; the classes follow IEC TR 61000-5-2, which leaves the distance to the site.
func Separation(a, b Disturbance, divided bool) (quantity.Length, error) {
	if err := errors.Join(calc.Count("cable class", int(a), 1, 4), calc.Count("cable class", int(b), 1, 4)); err != nil {
		return 0, err
	}
	step := 150.0
	if divided {
		step = 50
	}
	return quantity.Length(FormulaSeparation.Eval([]float64{step, float64(a), float64(b)}) / 1000), nil
}
