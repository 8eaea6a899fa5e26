package loop

import "railwright/internal/formula"

// FormulaAtDevice gives the voltage at a device that is fed or switched by a channel.
var FormulaAtDevice = &formula.Formula{
	Name: "loop.at_device",
	Text: "supply - drop - current / 1000 * 2 * length * r / 1000",
	Inputs: []formula.Input{
		{Name: "supply", Unit: "V", Doc: "lowest, where the channel is fed"},
		{Name: "drop", Unit: "V", Doc: "lost in the channel; 0 where it is only passed on"},
		{Name: "current", Unit: "mA", Doc: "that the device draws"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, hot"},
	},
	Result: formula.Input{Name: "u_device", Unit: "V"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] - x[1] - x[2]/1000*2*x[3]*x[4]/1000 },
}

// FormulaAtSensor gives the voltage at a sensor whose signal is fed through its own supply core: the plus
// core carries its own current and the signal's, the minus core its own only.
var FormulaAtSensor = &formula.Formula{
	Name: "loop.at_sensor",
	Text: "supply - (2 * own + signal) / 1000 * length * r / 1000",
	Inputs: []formula.Input{
		{Name: "supply", Unit: "V", Doc: "lowest, where the sensor is fed"},
		{Name: "own", Unit: "mA", Doc: "that the sensor draws itself"},
		{Name: "signal", Unit: "mA", Doc: "that goes back over the signal core"},
		{Name: "length", Unit: "m", Doc: "one way"},
		{Name: "r", Unit: "ohm/km", Doc: "one core, hot"},
	},
	Result: formula.Input{Name: "u_sensor", Unit: "V"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] - (2*x[1]+x[2])/1000*x[3]*x[4]/1000 },
}

// FormulaInputResistance gives the resistance of an input at its "0" threshold.
var FormulaInputResistance = &formula.Formula{
	Name:   "loop.input_resistance",
	Text:   "off_voltage / off_current * 1000",
	Inputs: []formula.Input{{Name: "off_voltage", Unit: "V", Doc: "still a 0"}, {Name: "off_current", Unit: "mA", Doc: "drawn there"}},
	Result: formula.Input{Name: "input", Unit: "ohm"},
	Source: "arithmetic#ohm",
	Eval:   func(x []float64) float64 { return x[0] / x[1] * 1000 },
}
