package sensor

import "railwright/internal/formula"

// FormulaMismatch gives the lead resistance that a 3-wire connection does not cancel.
var FormulaMismatch = &formula.Formula{
	Name: "sensor.lead_mismatch",
	Text: "length * r / 1000 * mismatch / 100",
	Inputs: []formula.Input{
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core at its temperature"},
		{Name: "mismatch", Unit: "%", Doc: "by which two cores differ"},
	},
	Result: formula.Input{Name: "r_left", Unit: "ohm"},
	Source: "common-practice#three-wire",
	Eval:   func(x []float64) float64 { return x[0] * x[1] / 1000 * x[2] / 100 },
}
