package count

import (
	"math"

	"railwright/internal/formula"
)

func sum(x []float64) float64 {
	total := 0.0
	for _, v := range x {
		total += v
	}
	return total
}

// tidy removes what binary fractions add to sums of decimal numbers: results are given to 1e-6.
func tidy(v float64) float64 { return math.Round(v*1e6) / 1e6 }

func summed(name, unit, doc string) *formula.Formula {
	return &formula.Formula{
		Name: name, Text: "round(sum(x) * 1000000) / 1000000", Variadic: true,
		Inputs: []formula.Input{{Name: "x", Unit: unit}},
		Result: formula.Input{Name: "total", Unit: unit, Doc: doc},
		Source: "arithmetic#sum",
		Eval:   func(x []float64) float64 { return tidy(sum(x)) },
	}
}

// The sums.
var (
	Currents = summed("count.sum_of_currents", "mA", "all loads at once, coincidence 1.0")
	Widths   = summed("count.sum_of_widths", "mm", "parts side by side on the rail")
	Bytes    = summed("count.sum_of_bytes", "byte", "header and modules")
	Bits     = summed("count.sum_of_bits", "bit", "in one update")
	Heat     = summed("count.sum_of_losses", "W", "all parts at full use")
	Money    = summed("count.sum_of_money", "money", "in the basis's currency")
	Lengths  = summed("count.sum_of_lengths", "m", "routes one after the other")
)

// Laid is the length of a cable as laid, in whole 0.1 m.
var Laid = &formula.Formula{
	Name: "count.laid_length", Text: "ceil((route + allow_from + allow_to) * 10 - 0.000001) / 10",
	Inputs: []formula.Input{
		{Name: "route", Unit: "m", Doc: "shortest way over the routes, or the place's own length"},
		{Name: "allow_from", Unit: "m", Doc: "allowance at the first end"},
		{Name: "allow_to", Unit: "m", Doc: "allowance at the second end"},
	},
	Result: formula.Input{Name: "laid", Unit: "m"},
	Source: "common-practice#cable-allowance",
	Eval:   func(x []float64) float64 { return math.Ceil((x[0]+x[1]+x[2])*10-1e-6) / 10 },
}

// Ordered is the length of a cable as bought, in whole 0.1 m.
var Ordered = &formula.Formula{
	Name: "count.ordered_length", Text: "ceil(laid * (1 + waste / 100) * 10 - 0.000001) / 10",
	Inputs: []formula.Input{{Name: "laid", Unit: "m"}, {Name: "waste", Unit: "%", Doc: "cut off and thrown away"}},
	Result: formula.Input{Name: "ordered", Unit: "m"},
	Source: "common-practice#cable-waste",
	Eval:   func(x []float64) float64 { return math.Ceil(x[0]*(1+x[1]/100)*10-1e-6) / 10 },
}

// Need is what a supply unit must give at least.
var Need = &formula.Formula{
	Name: "count.supply_need", Text: "load * coincidence / 100 * (1 + margin / 100)",
	Inputs: []formula.Input{
		{Name: "load", Unit: "mA"},
		{Name: "coincidence", Unit: "%", Doc: "share of the load that is on at once"},
		{Name: "margin", Unit: "%", Doc: "kept free"},
	},
	Result: formula.Input{Name: "need", Unit: "mA"},
	Source: "common-practice#supply-margin",
	Eval:   func(x []float64) float64 { return x[0] * x[1] / 100 * (1 + x[2]/100) },
}

// LogicAtSupply is what the modules' logic current costs the coupler's own supply.
var LogicAtSupply = &formula.Formula{
	Name: "count.logic_at_supply", Text: "ceil(logic * factor * 1000 - 0.000001) / 1000",
	Inputs: []formula.Input{{Name: "logic", Unit: "mA"}, {Name: "factor", Unit: "1", Doc: "supply current for each unit of logic current, losses included"}},
	Result: formula.Input{Name: "current", Unit: "mA"},
	Source: "arithmetic#power-balance",
	Eval:   func(x []float64) float64 { return math.Ceil(x[0]*x[1]*1000-1e-6) / 1000 },
}

// Derated is what one supply unit gives at an ambient temperature.
var Derated = &formula.Formula{
	Name: "count.supply_output", Text: "rated * (1 - derate / 100 * max(0, ambient - from))",
	Inputs: []formula.Input{
		{Name: "rated", Unit: "mA"},
		{Name: "derate", Unit: "%/K"},
		{Name: "ambient", Unit: "degC"},
		{Name: "from", Unit: "degC", Doc: "full output up to here"},
	},
	Result: formula.Input{Name: "output", Unit: "mA"},
	Source: "common-practice#supply-derating",
	Eval:   func(x []float64) float64 { return x[0] * (1 - x[1]/100*math.Max(0, x[2]-x[3])) },
}

// Units is how many like supply units a need takes.
var Units = &formula.Formula{
	Name: "count.supply_units", Text: "max(1, ceil(need / each - 0.000001))",
	Inputs: []formula.Input{{Name: "need", Unit: "mA"}, {Name: "each", Unit: "mA", Doc: "output of one unit at the ambient"}},
	Result: formula.Input{Name: "units", Unit: "1"},
	Source: "arithmetic#ratio",
	Eval:   func(x []float64) float64 { return math.Max(1, math.Ceil(x[0]/x[1]-1e-6)) },
}

// Installed is how many supply units stand there: those that carry the need and those that may fail.
var Installed = &formula.Formula{
	Name: "count.supply_installed", Text: "units + spare",
	Inputs: []formula.Input{{Name: "units", Unit: "1", Doc: "that carry the need"}, {Name: "spare", Unit: "1", Doc: "that may fail without loss"}},
	Result: formula.Input{Name: "installed", Unit: "1"},
	Source: "common-practice#n-plus-1",
	Eval:   func(x []float64) float64 { return x[0] + x[1] },
}

// Middle is the middle of a range.
var Middle = &formula.Formula{
	Name: "count.middle", Text: "(low + high) / 2",
	Inputs: []formula.Input{{Name: "low", Unit: "1"}, {Name: "high", Unit: "1"}},
	Result: formula.Input{Name: "middle", Unit: "1"},
	Source: "arithmetic#mean",
	Eval:   func(x []float64) float64 { return (x[0] + x[1]) / 2 },
}

// Objective is what a plan makes as small as it can.
var Objective = &formula.Formula{
	Name: "count.objective", Text: "round((total - constant - installed + changes) * 10000) / 10000",
	Inputs: []formula.Input{
		{Name: "total", Unit: "money"},
		{Name: "constant", Unit: "money", Doc: "the same in every design"},
		{Name: "installed", Unit: "money", Doc: "paid already"},
		{Name: "changes", Unit: "money", Doc: "cost of changing preferred choices"},
	},
	Result: formula.Input{Name: "objective", Unit: "money"},
	Source: "arithmetic#sum",
	Eval:   func(x []float64) float64 { return math.Round((x[0]-x[1]-x[2]+x[3])*1e4) / 1e4 },
}

// Gap is how far a design may be from the best, as a share of its objective.
var Gap = &formula.Formula{
	Name: "count.gap", Text: "(objective - bound) / objective",
	Inputs: []formula.Input{{Name: "objective", Unit: "money"}, {Name: "bound", Unit: "money", Doc: "no design costs less"}},
	Result: formula.Input{Name: "gap", Unit: "1"},
	Source: "arithmetic#ratio",
	Eval:   func(x []float64) float64 { return (x[0] - x[1]) / x[0] },
}

// FeederCurrent is what like supply units of a station draw from their feeder at full output, each rounded
// up to microamperes.
var FeederCurrent = &formula.Formula{
	Name: "count.feeder_current", Text: "units * ceil(output * 1000 * voltage_out / (efficiency / 100 * voltage_in) - 0.000001) / 1000000",
	Inputs: []formula.Input{
		{Name: "units", Unit: "1"},
		{Name: "output", Unit: "mA", Doc: "rated, of one unit"},
		{Name: "voltage_out", Unit: "V"},
		{Name: "efficiency", Unit: "%"},
		{Name: "voltage_in", Unit: "V"},
	},
	Result: formula.Input{Name: "current", Unit: "A"},
	Source: "arithmetic#power-balance",
	Eval: func(x []float64) float64 {
		return x[0] * math.Ceil(x[1]*1000*x[2]/(x[3]/100*x[4])-1e-6) / 1e6
	},
}

// Formulas returns the formulas that this package declares.
func Formulas() []*formula.Formula {
	return []*formula.Formula{
		Currents, Widths, Bytes, Bits, Heat, Money, Lengths, Laid, Ordered, Need, LogicAtSupply, Derated, Units, Installed, Middle, Objective, Gap, FeederCurrent, Amount, Task, Metres,
		SupplyFloor48, Power, Short, Batteries, HoldUp, MainsHigh, MainsLow, Face, WindyK, Steps, BusLoad, Kept, Rooms, PlateShare, Life, Leak,
	}
}
