package spare

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
)

// FormulaOfUsed gives the reserve as a share of what is used.
var FormulaOfUsed = &formula.Formula{
	Name: "spare.of_used", Text: "100 * spare / used",
	Inputs: []formula.Input{{Name: "spare", Unit: "1"}, {Name: "used", Unit: "1"}},
	Result: formula.Input{Name: "reserve", Unit: "%", Doc: "of the used channels"},
	Source: "common-practice#reserve-by-used",
	Eval:   func(x []float64) float64 { return 100 * x[0] / x[1] },
}

// FormulaOfTotal gives the reserve as a share of all.
var FormulaOfTotal = &formula.Formula{
	Name: "spare.of_total", Text: "100 * spare / (spare + used)",
	Inputs: []formula.Input{{Name: "spare", Unit: "1"}, {Name: "used", Unit: "1"}},
	Result: formula.Input{Name: "reserve", Unit: "%", Doc: "of all channels"},
	Source: "common-practice#reserve-by-total",
	Eval:   func(x []float64) float64 { return 100 * x[0] / (x[0] + x[1]) },
}

// FormulaChannels gives the channels to keep free.
var FormulaChannels = &formula.Formula{
	Name: "spare.channels", Text: "ceil(used * reserve / 100)",
	Inputs: []formula.Input{{Name: "used", Unit: "1"}, {Name: "reserve", Unit: "%", Doc: "of the used channels"}},
	Result: formula.Input{Name: "spare", Unit: "1"},
	Source: "common-practice#reserve-by-used",
	Eval:   func(x []float64) float64 { return math.Ceil(x[0] * x[1] / 100) },
}

// FormulaTerminationCost gives the cost of one hard-wired point.
var FormulaTerminationCost = &formula.Formula{
	Name: "spare.termination_cost", Text: "terminations * each",
	Inputs: []formula.Input{{Name: "terminations", Unit: "1", Doc: "per point; 6 for a home run over marshalling"}, {Name: "each", Unit: "money"}},
	Result: formula.Input{Name: "cost", Unit: "money"},
	Source: "common-practice#terminations",
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

// FormulaMarshallingSides gives the sides of marshalling cabinets.
var FormulaMarshallingSides = &formula.Formula{
	Name: "spare.marshalling_sides", Text: "ceil(points / per_side)",
	Inputs: []formula.Input{{Name: "points", Unit: "1"}, {Name: "per_side", Unit: "1", Doc: "100 to 120 on a usual side"}},
	Result: formula.Input{Name: "sides", Unit: "1"},
	Source: "common-practice#marshalling",
	Eval:   func(x []float64) float64 { return math.Ceil(x[0] / x[1]) },
}

// Formulas returns the formulas that this package declares.
func Formulas() []*formula.Formula {
	return []*formula.Formula{FormulaOfUsed, FormulaOfTotal, FormulaChannels, FormulaTerminationCost, FormulaMarshallingSides}
}

const most = 100_000_000

// OfUsed returns the reserve as a share of the used channels (0.33 for 75 spare beside 225 used).
//
// Source: common practice.
func OfUsed(spare, used int) (float64, error) {
	if err := errors.Join(calc.Count("spare", spare, 0, most), calc.Count("used", used, 1, most)); err != nil {
		return 0, err
	}
	return float64(spare) / float64(used), nil
}

// OfTotal returns the reserve as a share of all channels (0.25 for 75 spare beside 225 used).
//
// Source: common practice.
func OfTotal(spare, used int) (float64, error) {
	if err := errors.Join(calc.Count("spare", spare, 0, most), calc.Count("used", used, 1, most)); err != nil {
		return 0, err
	}
	return float64(spare) / float64(spare+used), nil
}

// ChannelsFor returns the channels to keep free for a reserve of the used ones, rounded up.
//
// Source: common practice (10 to 25 %).
func ChannelsFor(used int, reserve float64) (int, error) {
	if err := errors.Join(calc.Count("used", used, 0, most), calc.Within("reserve", reserve, 0, 10, "")); err != nil {
		return 0, err
	}
	return int(math.Ceil(float64(used)*reserve - 1e-9)), nil
}
