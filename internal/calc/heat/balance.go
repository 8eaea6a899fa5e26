package heat

import (
	"errors"
	"fmt"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaLosses adds up what stands in an enclosure.
var FormulaLosses = &formula.Formula{
	Name: "heat.losses", Text: "sum(p)", Variadic: true,
	Inputs: []formula.Input{{Name: "p", Unit: "W", Doc: "losses of each part at its load"}},
	Result: formula.Input{Name: "losses", Unit: "W"},
	Source: "arithmetic#sum",
	Eval: func(x []float64) float64 {
		s := 0.0
		for _, v := range x {
			s += v
		}
		return s
	},
}

// FormulaRise gives the temperature rise inside.
var FormulaRise = &formula.Formula{
	Name: "heat.rise", Text: "losses / (k * area)",
	Inputs: []formula.Input{{Name: "losses", Unit: "W"}, {Name: "k", Unit: "W/m2K"}, {Name: "area", Unit: "m2", Doc: "effective surface"}},
	Result: formula.Input{Name: "rise", Unit: "K"},
	Source: "iec-tr-60890#heat-balance",
	Eval:   func(x []float64) float64 { return x[0] / (x[1] * x[2]) },
}

// FormulaInside gives the temperature inside.
var FormulaInside = &formula.Formula{
	Name: "heat.inside", Text: "ambient + losses / (k * area)",
	Inputs: []formula.Input{{Name: "ambient", Unit: "degC"}, {Name: "losses", Unit: "W"}, {Name: "k", Unit: "W/m2K"}, {Name: "area", Unit: "m2", Doc: "effective surface"}},
	Result: formula.Input{Name: "inside", Unit: "degC"},
	Source: "iec-tr-60890#heat-balance",
	Eval:   func(x []float64) float64 { return x[0] + x[1]/(x[2]*x[3]) },
}

// FormulaLossLimit gives the losses that an enclosure may hold.
var FormulaLossLimit = &formula.Formula{
	Name: "heat.loss_limit", Text: "max(0, k * area * (limit - ambient))",
	Inputs: []formula.Input{{Name: "k", Unit: "W/m2K"}, {Name: "area", Unit: "m2", Doc: "effective surface"}, {Name: "limit", Unit: "degC", Doc: "allowed inside"}, {Name: "ambient", Unit: "degC", Doc: "highest"}},
	Result: formula.Input{Name: "losses_max", Unit: "W"},
	Source: "iec-tr-60890#heat-balance",
	Eval:   func(x []float64) float64 { return math.Max(0, x[0]*x[1]*(x[2]-x[3])) },
}

// FormulaCooling gives the heat that must be taken out.
var FormulaCooling = &formula.Formula{
	Name: "heat.cooling", Text: "max(0, losses - k * area * (limit - ambient))",
	Inputs: []formula.Input{{Name: "losses", Unit: "W"}, {Name: "k", Unit: "W/m2K"}, {Name: "area", Unit: "m2"}, {Name: "limit", Unit: "degC", Doc: "allowed inside"}, {Name: "ambient", Unit: "degC", Doc: "highest"}},
	Result: formula.Input{Name: "cooling", Unit: "W"},
	Source: "iec-tr-60890#heat-balance",
	Eval:   func(x []float64) float64 { return math.Max(0, x[0]-x[1]*x[2]*(x[3]-x[4])) },
}

// FormulaSurfaceNeeded gives the effective surface for given losses.
var FormulaSurfaceNeeded = &formula.Formula{
	Name: "heat.surface_needed", Text: "losses / (k * rise)",
	Inputs: []formula.Input{{Name: "losses", Unit: "W"}, {Name: "k", Unit: "W/m2K"}, {Name: "rise", Unit: "K", Doc: "allowed"}},
	Result: formula.Input{Name: "area", Unit: "m2"},
	Source: "iec-tr-60890#heat-balance",
	Eval:   func(x []float64) float64 { return x[0] / (x[1] * x[2]) },
}

func balance(losses quantity.Power, k float64, a quantity.Area) error {
	return errors.Join(calc.Power("losses", losses), calc.Positive("heat transfer coefficient", k, 100, "W/m2K"), calc.Positive("effective surface", a, 1000, "m2"))
}

func ambientRange(name string, t quantity.Temperature) error {
	return calc.Within(name, t, -90, 120, "degC")
}

// Rise returns by how much the air inside is warmer than outside: P / (k A).
//
// Valid for closed enclosures with natural convection and even losses; hot spots and the layer at the
// top come on top.
//
// Source: heat balance as in IEC TR 60890, simplified by enclosure handbooks.
func Rise(losses quantity.Power, k float64, a quantity.Area) (quantity.TemperatureRise, error) {
	if err := balance(losses, k, a); err != nil {
		return 0, err
	}
	return quantity.TemperatureRise(FormulaRise.Eval([]float64{float64(losses), k, float64(a)})), nil
}

// Inside returns the air temperature inside: ambient plus Rise.
func Inside(ambient quantity.Temperature, losses quantity.Power, k float64, a quantity.Area) (quantity.Temperature, error) {
	rise, err := Rise(losses, k, a)
	if err = errors.Join(err, ambientRange("ambient", ambient)); err != nil {
		return 0, err
	}
	return ambient + quantity.Temperature(rise), nil
}

// LossLimit returns the losses at which the inside just reaches its limit; 0 if it is as warm outside.
//
// Source: Inside solved for the losses.
func LossLimit(k float64, a quantity.Area, limit, ambient quantity.Temperature) (quantity.Power, error) {
	if err := errors.Join(balance(0, k, a), ambientRange("limit inside", limit), ambientRange("ambient", ambient)); err != nil {
		return 0, err
	}
	return quantity.Power(FormulaLossLimit.Eval([]float64{k, float64(a), float64(limit), float64(ambient)})), nil
}

// CoolingNeeded returns the heat that a fan or a cooler must take out; 0 if the surface does. Where
// it is warmer outside than allowed inside, the surface lets heat in and the result counts it.
//
// Source: heat balance.
func CoolingNeeded(losses quantity.Power, k float64, a quantity.Area, limit, ambient quantity.Temperature) (quantity.Power, error) {
	if err := errors.Join(balance(losses, k, a), ambientRange("limit inside", limit), ambientRange("ambient", ambient)); err != nil {
		return 0, err
	}
	return quantity.Power(FormulaCooling.Eval([]float64{float64(losses), k, float64(a), float64(limit), float64(ambient)})), nil
}

// FormulaSolarGain gives the heat that the sun adds.
var FormulaSolarGain = &formula.Formula{
	Name: "heat.solar_gain", Text: "share * absorptance * irradiance * area",
	Inputs: []formula.Input{
		{Name: "share", Unit: "1", Doc: "of the absorbed heat that goes inwards: 1 is safe, 0.5 for single walls"},
		{Name: "absorptance", Unit: "1", Doc: "0.2 white, 0.5 light grey, 0.9 dark"},
		{Name: "irradiance", Unit: "W/m2", Doc: "1000 at noon"},
		{Name: "area", Unit: "m2", Doc: "sunlit, seen from the sun"},
	},
	Result: formula.Input{Name: "gain", Unit: "W"},
	Source: "common-practice#solar-gain",
	Eval:   func(x []float64) float64 { return x[0] * x[1] * x[2] * x[3] },
}

// SolarGain returns the heat that the sun adds to the losses inside.
//
// Source: common practice; a sun roof takes nearly all of it away.
func SolarGain(share, absorptance, irradiance float64, sunlit quantity.Area) (quantity.Power, error) {
	if err := errors.Join(calc.Fraction("share inwards", share), calc.Fraction("absorptance", absorptance), calc.Within("irradiance", irradiance, 0, 1500, "W/m2"), calc.Within("sunlit area", sunlit, 0, 1000, "m2")); err != nil {
		return 0, err
	}
	return quantity.Power(FormulaSolarGain.Eval([]float64{share, absorptance, irradiance, float64(sunlit)})), nil
}

// FormulaFanFlow gives the air flow that carries losses away.
var FormulaFanFlow = &formula.Formula{
	Name: "heat.fan_flow", Text: "3.1 * exp(altitude / 8000) * losses / rise",
	Inputs: []formula.Input{{Name: "altitude", Unit: "m"}, {Name: "losses", Unit: "W"}, {Name: "rise", Unit: "K", Doc: "limit inside less ambient"}},
	Result: formula.Input{Name: "flow", Unit: "m3/h"},
	Source: "from-memory#fan-flow",
	Eval:   func(x []float64) float64 { return 3.1 * math.Exp(x[0]/8000) * x[1] / x[2] },
}

// FanFlow returns the air flow in m3/h that carries losses away at a rise: 3.1 m3K/Wh at sea level,
// more in thinner air (3.5 at 1000 m).
//
// Source: handbook figure from memory; it is 1/(density times specific heat) of air near 30 degC.
func FanFlow(losses quantity.Power, rise quantity.TemperatureRise, altitude quantity.Length) (float64, error) {
	if err := errors.Join(calc.Power("losses", losses), calc.Positive("rise", rise, 200, "K"), calc.Within("altitude", altitude, -500, 6000, "m")); err != nil {
		return 0, err
	}
	return FormulaFanFlow.Eval([]float64{float64(altitude), float64(losses), float64(rise)}), nil
}

// FormulaAltitudeLimit gives an ambient limit in thin air.
var FormulaAltitudeLimit = &formula.Formula{
	Name: "heat.altitude_limit", Text: "limit - 0.005 * max(0, altitude - 2000)",
	Inputs: []formula.Input{{Name: "limit", Unit: "degC", Doc: "up to 2000 m"}, {Name: "altitude", Unit: "m"}},
	Result: formula.Input{Name: "limit_here", Unit: "degC"},
	Source: "common-practice#half-kelvin-per-100-m",
	Eval:   func(x []float64) float64 { return x[0] - 0.005*math.Max(0, x[1]-2000) },
}

// AltitudeLimit returns an ambient limit at an altitude: half a kelvin less per 100 m above 2000 m.
//
// Source: IEC 61131-2 covers up to 2000 m (from memory); the slope is common practice (a published
// module sheet goes from 50 to 45 degC at 3000 m). The maker's figure outranks it.
func AltitudeLimit(limit quantity.Temperature, altitude quantity.Length) (quantity.Temperature, error) {
	if err := errors.Join(ambientRange("ambient limit", limit), calc.Within("altitude", altitude, -500, 6000, "m")); err != nil {
		return 0, err
	}
	return quantity.Temperature(FormulaAltitudeLimit.Eval([]float64{float64(limit), float64(altitude)})), nil
}

// clearance is IEC 60664-1 table A.2, from memory.
var clearance = []struct{ altitude, factor float64 }{{2000, 1}, {3000, 1.14}, {4000, 1.29}, {5000, 1.48}, {6000, 1.70}}

// ClearanceFactor returns by what clearances in air must grow at an altitude; between rows linear.
//
// Source: IEC 60664-1 table A.2, from memory.
func ClearanceFactor(altitude quantity.Length) (float64, error) {
	if err := calc.Within("altitude", altitude, -500, 6000, "m"); err != nil {
		return 0, err
	}
	a := float64(altitude)
	for i := 1; i < len(clearance); i++ {
		low, high := clearance[i-1], clearance[i]
		if a <= high.altitude {
			return low.factor + math.Max(0, a-low.altitude)/(high.altitude-low.altitude)*(high.factor-low.factor), nil
		}
	}
	return clearance[len(clearance)-1].factor, nil
}

// Point is one corner of a derating curve.
type Point struct {
	Ambient quantity.Temperature
	Share   float64 // of the rated value that is allowed
}

// Curve is a derating curve: corners by rising ambient, straight lines between them, flat before the
// first, nothing behind the last.
type Curve []Point

// At returns the allowed share at an ambient. An empty curve allows everything. It returns a
// calc.RangeError if the ambients do not rise or a share is outside 0 to 1.
//
// Source: the maker's curve.
func (c Curve) At(ambient quantity.Temperature) (float64, error) {
	errs := []error{ambientRange("ambient", ambient)}
	for i, p := range c {
		errs = append(errs, ambientRange(fmt.Sprintf("corner %d", i+1), p.Ambient), calc.Fraction(fmt.Sprintf("share at corner %d", i+1), p.Share))
		if i > 0 && p.Ambient <= c[i-1].Ambient {
			errs = append(errs, &calc.RangeError{Name: fmt.Sprintf("corner %d", i+1), Value: float64(p.Ambient), Unit: "degC", Min: float64(c[i-1].Ambient), Max: 120, Above: true})
		}
	}
	if err := errors.Join(errs...); err != nil {
		return 0, err
	}
	if len(c) == 0 {
		return 1, nil
	}
	if ambient <= c[0].Ambient {
		return c[0].Share, nil
	}
	for i := 1; i < len(c); i++ {
		if a, b := c[i-1], c[i]; ambient <= b.Ambient {
			return a.Share + (b.Share-a.Share)*float64(ambient-a.Ambient)/float64(b.Ambient-a.Ambient), nil
		}
	}
	return 0, nil
}
