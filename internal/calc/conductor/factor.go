package conductor

import (
	"math"

	"railwright/internal/formula"
)

// FormulaAmbientFactor gives the factor for the ambient temperature as AmbientFactor reads it from
// IEC 60204-1 table D.1 for PVC: the rows bend downwards, so straight lines between them are the
// smallest of the lines through neighbouring rows. Valid up to 60 degC.
var FormulaAmbientFactor = &formula.Formula{
	Name: "conductor.ambient_factor",
	Text: "min(1.15, 1.15 - 0.014 * (t - 30), 1.08 - 0.016 * (t - 35), 1 - 0.018 * (t - 40), " +
		"0.91 - 0.018 * (t - 45), 0.82 - 0.022 * (t - 50), 0.71 - 0.026 * (t - 55))",
	Inputs: []formula.Input{{Name: "t", Unit: "degC", Doc: "air round the conductor"}},
	Result: formula.Input{Name: "factor", Unit: "1"},
	Source: "iec-60204-1#table-D.1",
	Eval: func(x []float64) float64 {
		f := tableD1[0].y
		for i := 1; i < len(tableD1); i++ {
			a, b := tableD1[i-1], tableD1[i]
			f = math.Min(f, a.y+(b.y-a.y)*(x[0]-a.x)/(b.x-a.x))
		}
		return f
	},
}
