package count

import (
	"math"

	"railwright/internal/formula"
)

// SupplyFloor48 is the lowest voltage of 48 V units where the project states that of 24 V ones.
var SupplyFloor48 = &formula.Formula{
	Name: "count.supply_floor_48", Text: "supply_min * 2",
	Inputs: []formula.Input{{Name: "supply_min", Unit: "V", Doc: "lowest mean voltage of a 24 V unit"}},
	Result: formula.Input{Name: "supply_min_48", Unit: "V"},
	Source: "common-practice#same-share-of-nominal",
	Eval:   func(x []float64) float64 { return x[0] * 2 },
}

// Power is what a direct current carries.
var Power = &formula.Formula{
	Name: "count.power", Text: "current / 1000 * voltage",
	Inputs: []formula.Input{{Name: "current", Unit: "mA"}, {Name: "voltage", Unit: "V"}},
	Result: formula.Input{Name: "power", Unit: "W"},
	Source: "arithmetic#power",
	Eval:   func(x []float64) float64 { return x[0] / 1000 * x[1] },
}

// Short is what like supply units give into a short circuit together.
var Short = &formula.Formula{
	Name: "count.supply_short", Text: "units * short",
	Inputs: []formula.Input{{Name: "units", Unit: "1"}, {Name: "short", Unit: "A", Doc: "of one unit"}},
	Result: formula.Input{Name: "limit", Unit: "A"},
	Source: "arithmetic#sum",
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

// Batteries is the capacity of the batteries at like supply units together.
var Batteries = &formula.Formula{
	Name: "count.batteries", Text: "units * each",
	Inputs: []formula.Input{{Name: "units", Unit: "1"}, {Name: "each", Unit: "Ah"}},
	Result: formula.Input{Name: "capacity", Unit: "Ah"},
	Source: "arithmetic#sum",
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

// HoldUp is the hold-up time of supply units that carry less than their rating.
var HoldUp = &formula.Formula{
	Name: "count.hold_up", Text: "hold_up * units * rated / max(load, 1)",
	Inputs: []formula.Input{
		{Name: "hold_up", Unit: "ms", Doc: "at rated output"},
		{Name: "units", Unit: "1"},
		{Name: "rated", Unit: "mA", Doc: "of one unit"},
		{Name: "load", Unit: "mA", Doc: "of the feed"},
	},
	Result: formula.Input{Name: "time", Unit: "ms"},
	Source: "arithmetic#stored-energy",
	Eval:   func(x []float64) float64 { return x[0] * x[1] * x[2] / math.Max(x[3], 1) },
}

// MainsHigh is the highest voltage of the mains.
var MainsHigh = &formula.Formula{
	Name: "count.mains_high", Text: "nominal * (1 + high / 100)",
	Inputs: []formula.Input{{Name: "nominal", Unit: "V"}, {Name: "high", Unit: "%", Doc: "tolerance upwards"}},
	Result: formula.Input{Name: "u_high", Unit: "V"},
	Source: "arithmetic#tolerance",
	Eval:   func(x []float64) float64 { return x[0] * (1 + x[1]/100) },
}

// MainsLow is the lowest voltage of the mains.
var MainsLow = &formula.Formula{
	Name: "count.mains_low", Text: "nominal * (1 - low / 100)",
	Inputs: []formula.Input{{Name: "nominal", Unit: "V"}, {Name: "low", Unit: "%", Doc: "tolerance downwards"}},
	Result: formula.Input{Name: "u_low", Unit: "V"},
	Source: "arithmetic#tolerance",
	Eval:   func(x []float64) float64 { return x[0] * (1 - x[1]/100) },
}

// Face is the area of an enclosure's front.
var Face = &formula.Formula{
	Name: "count.face", Text: "height * width",
	Inputs: []formula.Input{{Name: "height", Unit: "m"}, {Name: "width", Unit: "m"}},
	Result: formula.Input{Name: "area", Unit: "m2"},
	Source: "arithmetic#area",
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

// WindyK is the heat transfer of an enclosure's wall in the wind.
var WindyK = &formula.Formula{
	Name: "count.k_outdoors", Text: "2 * k",
	Inputs: []formula.Input{{Name: "k", Unit: "W/m2K", Doc: "in still air"}},
	Result: formula.Input{Name: "k_wind", Unit: "W/m2K"},
	Source: "common-practice#wind",
	Eval:   func(x []float64) float64 { return 2 * x[0] },
}

// Steps is how many raw values a resolution tells apart.
var Steps = &formula.Formula{
	Name: "count.steps", Text: "2 ^ bits",
	Inputs: []formula.Input{{Name: "bits", Unit: "1"}},
	Result: formula.Input{Name: "counts", Unit: "1"},
	Source: "arithmetic#powers-of-two",
	Eval:   func(x []float64) float64 { return math.Pow(2, x[0]) },
}

// BusLoad is the share of a CAN bus that its cyclic frames take.
var BusLoad = &formula.Formula{
	Name: "count.can_load", Text: "100 * bits / (bit_rate * update)",
	Inputs: []formula.Input{
		{Name: "bits", Unit: "bit", Doc: "in one update"},
		{Name: "bit_rate", Unit: "kbit/s"},
		{Name: "update", Unit: "ms"},
	},
	Result: formula.Input{Name: "load", Unit: "%"},
	Source: "arithmetic#ratio",
	Eval:   func(x []float64) float64 { return 100 * x[0] / (x[1] * x[2]) },
}

// Kept is the update time that a network really keeps: the stated one, or what its load takes where that
// is more than all.
var Kept = &formula.Formula{
	Name: "count.kept_update", Text: "update * max(1, load / 100)",
	Inputs: []formula.Input{
		{Name: "update", Unit: "ms", Doc: "stated"},
		{Name: "load", Unit: "%", Doc: "of the bus or link at that update"},
	},
	Result: formula.Input{Name: "kept", Unit: "ms"},
	Source: "arithmetic#ratio",
	Eval:   func(x []float64) float64 { return x[0] * max(1, x[1]/100) },
}
