package protect

import "railwright/internal/formula"

// FormulaLoopBefore gives the resistance of a fault loop up to the end of a feeder.
var FormulaLoopBefore = &formula.Formula{
	Name: "protect.loop_before",
	Text: "r_before + 2 * length * r / 1000",
	Inputs: []formula.Input{
		{Name: "r_before", Unit: "ohm", Doc: "source and whatever lies before the feeder"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, hot"},
	},
	Result: formula.Input{Name: "r_loop", Unit: "ohm"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] + 2*x[1]*x[2]/1000 },
}
