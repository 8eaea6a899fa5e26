package count

import (
	"math"

	"railwright/internal/formula"
)

// Amount is what a number of like things costs.
var Amount = &formula.Formula{
	Name: "count.amount", Text: "round(count * price * 10000) / 10000",
	Inputs: []formula.Input{{Name: "count", Unit: "1", Doc: "pieces, metres or times"}, {Name: "price", Unit: "money", Doc: "of one"}},
	Result: formula.Input{Name: "amount", Unit: "money"},
	Source: "arithmetic#product",
	Eval:   func(x []float64) float64 { return math.Round(x[0]*x[1]*1e4) / 1e4 },
}

// Task is what one task costs, to 0.001 of the currency.
var Task = &formula.Formula{
	Name: "count.task", Text: "floor(rate * seconds / 3600 * 1000 + 0.5) / 1000",
	Inputs: []formula.Input{{Name: "rate", Unit: "money/h"}, {Name: "seconds", Unit: "s", Doc: "one task lasts"}},
	Result: formula.Input{Name: "price", Unit: "money"},
	Source: "common-practice#labour-times",
	Eval:   func(x []float64) float64 { return math.Floor(x[0]*x[1]/3600*1000+0.5) / 1000 },
}

// Metres is the length of a number of like cables.
var Metres = &formula.Formula{
	Name: "count.metres", Text: "round(count * each * 1000) / 1000",
	Inputs: []formula.Input{{Name: "count", Unit: "1", Doc: "cables of one length"}, {Name: "each", Unit: "m"}},
	Result: formula.Input{Name: "metres", Unit: "m"},
	Source: "arithmetic#product",
	Eval:   func(x []float64) float64 { return math.Round(x[0]*x[1]*1e3) / 1e3 },
}
