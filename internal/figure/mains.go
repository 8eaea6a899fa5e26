package figure

import (
	"math"

	q "railwright/internal/quantity"
)

// Mains is the nominal voltage of a mains group of a voltage kind ("120vac", "230vac"): the feeder's,
// where that is within 10 % of what the group's modules are made for (230 V on a site of 220 or 240 V),
// else the modules' own; suits is false then, for the feeder cannot feed them.
//
// Source: IEC 60038, mains tolerance of 10 %.
func Mains(kind string, feeder q.Voltage) (nominal q.Voltage, suits bool) {
	nominal = 230
	if kind == "120vac" {
		nominal = 120
	}
	if math.Round(1000*math.Abs(float64(feeder-nominal))) <= math.Round(100*float64(nominal)) {
		return feeder, true
	}
	return nominal, false
}
