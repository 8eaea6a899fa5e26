package quantity

// unit is one way to write a quantity: value = number * factor * 10^exp of the base unit. A factor of
// 0 means 1; only those read back exactly digit by digit.
type unit struct {
	symbol string
	exp    int
	factor float64
}

// dimension is one kind of physical quantity with the units that Parse takes. The first unit is the
// base unit; the first printed ones, from large to small, are those that String chooses from.
type dimension struct {
	name    string
	printed int
	units   []unit
}

func decimal(symbol string, exp int) unit { return unit{symbol: symbol, exp: exp} }

// Units are compared after spelled-out forms are folded (see fold): "mm²" to "mm2", "Ω" to "ohm",
// "°C" to "degC", "µ" to "u".
var (
	voltages     = dimension{"voltage", 3, []unit{decimal("V", 0), decimal("mV", -3), decimal("uV", -6), decimal("kV", 3)}}
	currents     = dimension{"current", 3, []unit{decimal("A", 0), decimal("mA", -3), decimal("uA", -6), decimal("kA", 3)}}
	resistances  = dimension{"resistance", 2, []unit{decimal("ohm", 0), decimal("mohm", -3), decimal("kohm", 3), decimal("Mohm", 6)}}
	perLengths   = dimension{"resistance per length", 1, []unit{decimal("ohm/km", -3), decimal("ohm/m", 0), decimal("mohm/m", -3)}}
	powers       = dimension{"power", 2, []unit{decimal("W", 0), decimal("mW", -3), decimal("uW", -6), decimal("kW", 3)}}
	energies     = dimension{"energy", 2, []unit{decimal("J", 0), decimal("mJ", -3), decimal("uJ", -6), decimal("kJ", 3), {"Wh", 0, 3600}, {"kWh", 3, 3600}}}
	lengths      = dimension{"length", 1, []unit{decimal("m", 0), decimal("mm", -3), decimal("cm", -2), decimal("km", 3)}}
	areas        = dimension{"area", 1, []unit{decimal("m2", 0), decimal("cm2", -4)}}
	sections     = dimension{"cross-section", 1, []unit{decimal("mm2", 0)}}
	temperatures = dimension{"temperature", 1, []unit{decimal("degC", 0), decimal("C", 0)}}
	rises        = dimension{"temperature difference", 1, []unit{decimal("K", 0)}}
	durations    = dimension{"time", 3, []unit{decimal("s", 0), decimal("ms", -3), decimal("us", -6), {"min", 0, 60}, {"h", 0, 3600}}}
	frequencies  = dimension{"frequency", 1, []unit{decimal("Hz", 0), decimal("kHz", 3), decimal("MHz", 6)}}
	capacitances = dimension{"capacitance", 5, []unit{decimal("F", 0), decimal("mF", -3), decimal("uF", -6), decimal("nF", -9), decimal("pF", -12)}}
	inductances  = dimension{"inductance", 4, []unit{decimal("H", 0), decimal("mH", -3), decimal("uH", -6), decimal("nH", -9)}}
	charges      = dimension{"charge", 2, []unit{decimal("C", 0), decimal("mC", -3), {"Ah", 0, 3600}}}
)
