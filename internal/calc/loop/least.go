package loop

import "railwright/internal/formula"

// FormulaLeastLoad gives the resistor that lets a 2-wire switch draw the current on which it lives.
var FormulaLeastLoad = &formula.Formula{
	Name: "loop.least_load",
	Text: "on_voltage / (needed - drawn) * 1000",
	Inputs: []formula.Input{
		{Name: "on_voltage", Unit: "V", Doc: "lowest that is a 1"}, {Name: "needed", Unit: "mA", Doc: "by the switch"}, {Name: "drawn", Unit: "mA", Doc: "by the input"},
	},
	Result: formula.Input{Name: "r_max", Unit: "ohm", Doc: "across the input, at most"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] / (x[1] - x[2]) * 1000 },
}
