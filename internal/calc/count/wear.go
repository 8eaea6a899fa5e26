package count

import "railwright/internal/formula"

// Rooms is the room that glands take on a plate.
var Rooms = summed("count.sum_of_rooms", "mm2", "of each type of cable: number x (1.6 x thread) squared, wrench room included")

// PlateShare is the share of a gland plate that glands take.
var PlateShare = &formula.Formula{
	Name: "count.plate_share", Text: "100 * room / (width * depth)",
	Inputs: []formula.Input{
		{Name: "room", Unit: "mm2", Doc: "of all glands"},
		{Name: "width", Unit: "mm", Doc: "of the enclosure"},
		{Name: "depth", Unit: "mm", Doc: "of the enclosure"},
	},
	Result: formula.Input{Name: "share", Unit: "%"},
	Source: "common-practice#gland-plate",
	Eval:   func(x []float64) float64 { return 100 * x[0] / (x[1] * x[2]) },
}

// Life is how long a contact lasts that switches at a steady rate; a year has 365.25 days.
var Life = &formula.Formula{
	Name: "count.contact_life", Text: "operations / (frequency * 31557600)",
	Inputs: []formula.Input{
		{Name: "operations", Unit: "1", Doc: "at the rated load"},
		{Name: "frequency", Unit: "Hz", Doc: "one operation is on and off"},
	},
	Result: formula.Input{Name: "life", Unit: "a"},
	Source: "arithmetic#ratio",
	Eval:   func(x []float64) float64 { return x[0] / (x[1] * 31557600) },
}

// Leak is what an output lets through when it is off, against the current of its load.
var Leak = &formula.Formula{
	Name: "count.leak", Text: "100 * leakage / current",
	Inputs: []formula.Input{{Name: "leakage", Unit: "mA", Doc: "of the output, off"}, {Name: "current", Unit: "mA", Doc: "of the load, on"}},
	Result: formula.Input{Name: "share", Unit: "%"},
	Source: "arithmetic#ratio",
	Eval:   func(x []float64) float64 { return 100 * x[0] / x[1] },
}
