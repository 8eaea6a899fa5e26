package heat

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaHeater gives the power of an enclosure heater.
var FormulaHeater = &formula.Formula{
	Name: "heat.heater", Text: "max(0, k * area * (wanted - ambient) - losses)",
	Inputs: []formula.Input{
		{Name: "k", Unit: "W/m2K"},
		{Name: "area", Unit: "m2", Doc: "effective surface"},
		{Name: "wanted", Unit: "degC", Doc: "inside, at least"},
		{Name: "ambient", Unit: "degC", Doc: "lowest"},
		{Name: "losses", Unit: "W", Doc: "at the lightest load"},
	},
	Result: formula.Input{Name: "heater", Unit: "W"},
	Source: "iec-tr-60890#heat-balance",
	Eval:   func(x []float64) float64 { return math.Max(0, x[0]*x[1]*(x[2]-x[3])-x[4]) },
}

// HeaterNeeded returns the heater that keeps the inside at wanted when it is coldest and the load is
// lightest; 0 if the losses do.
//
// wanted is the larger of the devices' lowest ambient and what AgainstCondensation asks for. Wind is
// not counted: outdoors take k twice as high (common practice).
//
// Source: heat balance.
func HeaterNeeded(k float64, a quantity.Area, wanted, ambient quantity.Temperature, losses quantity.Power) (quantity.Power, error) {
	if err := errors.Join(balance(losses, k, a), ambientRange("wanted inside", wanted), ambientRange("lowest ambient", ambient)); err != nil {
		return 0, err
	}
	return quantity.Power(FormulaHeater.Eval([]float64{k, float64(a), float64(wanted), float64(ambient), float64(losses)})), nil
}

// Coefficients of the Magnus equation over water.
//
// Source: WMO-No. 8, annex 4.B (-45 to 60 degC).
const (
	magnusB = 17.62
	magnusC = 243.12 // degC
)

// FormulaDewPoint gives the dew point.
var FormulaDewPoint = &formula.Formula{
	Name:   "heat.dew_point",
	Text:   "243.12 * (ln(humidity / 100) + 17.62 * t / (243.12 + t)) / (17.62 - ln(humidity / 100) - 17.62 * t / (243.12 + t))",
	Inputs: []formula.Input{{Name: "t", Unit: "degC", Doc: "air"}, {Name: "humidity", Unit: "%", Doc: "relative"}},
	Result: formula.Input{Name: "dew_point", Unit: "degC"},
	Source: "wmo-8#magnus",
	Eval: func(x []float64) float64 {
		g := math.Log(x[1]/100) + magnusB*x[0]/(magnusC+x[0])
		return magnusC * g / (magnusB - g)
	},
}

// DewPoint returns the temperature below which water condenses out of air of t and a relative
// humidity (0.6 for 60 %). Valid from -45 to 60 degC and from 1 to 100 %.
//
// Source: Magnus equation, WMO-No. 8.
func DewPoint(t quantity.Temperature, humidity float64) (quantity.Temperature, error) {
	if err := moist(t, humidity); err != nil {
		return 0, err
	}
	return quantity.Temperature(FormulaDewPoint.Eval([]float64{float64(t), humidity * 100})), nil
}

func moist(t quantity.Temperature, humidity float64) error {
	return errors.Join(calc.Within("air temperature", t, -45, 60, "degC"), calc.Within("relative humidity", humidity, 0.01, 1, ""))
}

// FormulaRelativeInside gives the relative humidity of outside air that is warmed.
var FormulaRelativeInside = &formula.Formula{
	Name:   "heat.relative_inside",
	Text:   "humidity * exp(17.62 * outside / (243.12 + outside) - 17.62 * inside / (243.12 + inside))",
	Inputs: []formula.Input{{Name: "humidity", Unit: "%", Doc: "relative, outside"}, {Name: "outside", Unit: "degC"}, {Name: "inside", Unit: "degC"}},
	Result: formula.Input{Name: "humidity_inside", Unit: "%", Doc: "100 and more: water condenses"},
	Source: "wmo-8#magnus",
	Eval: func(x []float64) float64 {
		return x[0] * math.Exp(magnusB*x[1]/(magnusC+x[1])-magnusB*x[2]/(magnusC+x[2]))
	},
}

// RelativeInside returns the relative humidity inside when outside air is brought to another
// temperature. Electronics are safe from corrosion below some 60 to 65 % (common practice). A result
// of 1 or more means that water condenses.
//
// Source: Magnus equation, WMO-No. 8.
func RelativeInside(outside quantity.Temperature, humidity float64, inside quantity.Temperature) (float64, error) {
	if err := errors.Join(moist(outside, humidity), calc.Within("inside temperature", inside, -45, 60, "degC")); err != nil {
		return 0, err
	}
	return FormulaRelativeInside.Eval([]float64{humidity * 100, float64(outside), float64(inside)}) / 100, nil
}

// FormulaAgainstCondensation gives the inside temperature that keeps the air dry enough.
var FormulaAgainstCondensation = &formula.Formula{
	Name:   "heat.against_condensation",
	Text:   "243.12 * (17.62 * outside / (243.12 + outside) + ln(humidity / allowed)) / (17.62 - 17.62 * outside / (243.12 + outside) - ln(humidity / allowed))",
	Inputs: []formula.Input{{Name: "outside", Unit: "degC"}, {Name: "humidity", Unit: "%", Doc: "relative, outside"}, {Name: "allowed", Unit: "%", Doc: "relative, inside"}},
	Result: formula.Input{Name: "inside", Unit: "degC", Doc: "at least"},
	Source: "wmo-8#magnus",
	Eval: func(x []float64) float64 {
		g := magnusB*x[0]/(magnusC+x[0]) + math.Log(x[1]/x[2])
		return magnusC * g / (magnusB - g)
	},
}

// AgainstCondensation returns the inside temperature at which outside air has no more than the allowed
// relative humidity: RelativeInside solved for the temperature. It is below the outside temperature if
// the air is dry enough already.
func AgainstCondensation(outside quantity.Temperature, humidity, allowed float64) (quantity.Temperature, error) {
	if err := errors.Join(moist(outside, humidity), calc.Within("allowed humidity inside", allowed, 0.1, 1, "")); err != nil {
		return 0, err
	}
	return quantity.Temperature(FormulaAgainstCondensation.Eval([]float64{float64(outside), humidity * 100, allowed * 100})), nil
}
