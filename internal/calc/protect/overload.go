package protect

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaConventionalTrip gives the current that surely trips a device in its conventional time.
var FormulaConventionalTrip = &formula.Formula{
	Name: "protect.conventional_trip",
	Text: "factor * rated",
	Inputs: []formula.Input{
		{Name: "factor", Unit: "1", Doc: "I2 / In of the device's kind"},
		{Name: "rated", Unit: "A", Doc: "rated current of the device"},
	},
	Result: formula.Input{Name: "i2", Unit: "A", Doc: "trips within the conventional time"},
	Source: "iec-60364-4-43#433.1",
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

// FormulaOverloadLimit gives the largest I2 that a conductor allows.
var FormulaOverloadLimit = &formula.Formula{
	Name:   "protect.overload_limit",
	Text:   "1.45 * iz",
	Inputs: []formula.Input{{Name: "iz", Unit: "A", Doc: "ampacity as laid"}},
	Result: formula.Input{Name: "i2_max", Unit: "A"},
	Source: "iec-60364-4-43#433.1",
	Eval:   func(x []float64) float64 { return 1.45 * x[0] },
}

// FormulaAmpacityNeeded gives the ampacity that a conductor needs behind a device.
var FormulaAmpacityNeeded = &formula.Formula{
	Name: "protect.ampacity_needed",
	Text: "max(rated, factor * rated / 1.45)",
	Inputs: []formula.Input{
		{Name: "rated", Unit: "A", Doc: "rated current of the device"},
		{Name: "factor", Unit: "1", Doc: "I2 / In of the device's kind"},
	},
	Result: formula.Input{Name: "iz_min", Unit: "A"},
	Source: "iec-60364-4-43#433.1",
	Eval:   func(x []float64) float64 { return math.Max(x[0], x[1]*x[0]/1.45) },
}

// Coordination is the answer to "does this device protect this conductor against overload".
type Coordination struct {
	Ib, In, Iz, I2 quantity.Current
	LoadFits       bool // Ib <= In
	ConductorFits  bool // In <= Iz
	TripFits       bool // I2 <= 1.45 Iz
}

// OK reports whether all three conditions hold.
func (c Coordination) OK() bool { return c.LoadFits && c.ConductorFits && c.TripFits }

// atMost compares with a hair of slack (1e-9 relative), so that 10 A behind 10 A is not refused for
// the last bit of a factor.
func atMost(a, b quantity.Current) bool { return float64(a) <= float64(b)*(1+1e-9) }

// Coordinate checks a device against its load and its conductor:
//
//	Ib <= In <= Iz  and  I2 <= 1.45 Iz, I2 = factor * In
//
// factor is that of ConventionalFactor. A condition that fails is a result, no error; values below
// zero or absurdly large are errors.
//
// Source: IEC 60364-4-43 433.1.
func Coordinate(ib, in, iz quantity.Current, factor float64) (Coordination, error) {
	err := errors.Join(calc.Current("load current Ib", ib), calc.PositiveCurrent("rated current In", in),
		calc.Current("ampacity Iz", iz), calc.Within("I2/In", factor, 1, 3, ""))
	if err != nil {
		return Coordination{}, err
	}
	c := Coordination{Ib: ib, In: in, Iz: iz, I2: quantity.Current(factor) * in}
	c.LoadFits = atMost(ib, in)
	c.ConductorFits = atMost(in, iz)
	c.TripFits = atMost(c.I2, 1.45*iz)
	return c, nil
}

// AmpacityNeeded returns the smallest ampacity that a conductor must have behind a device:
// max(In, factor In / 1.45).
//
// Source: IEC 60364-4-43 433.1.
func AmpacityNeeded(in quantity.Current, factor float64) (quantity.Current, error) {
	if err := errors.Join(calc.PositiveCurrent("rated current In", in), calc.Within("I2/In", factor, 1, 3, "")); err != nil {
		return 0, err
	}
	return quantity.Current(FormulaAmpacityNeeded.Eval([]float64{float64(in), factor})), nil
}

// Insulation carries the constant k of the adiabatic equation for copper.
type Insulation struct {
	Name   string
	K      float64 // A s^0.5 / mm2
	Source string
}

// The insulations of control cabling, copper, conductors up to 300 mm2.
//
// Source: IEC 60364-4-43 table 43A; both values were seen in worked examples, the table itself is
// from memory.
var (
	PVC  = Insulation{"PVC, 70 to 160 degC", 115, "iec-60364-4-43#table-43A"}
	XLPE = Insulation{"XLPE or EPR, 90 to 250 degC", 143, "iec-60364-4-43#table-43A"}
)

// FormulaAdiabaticSection gives the smallest section that survives a fault.
var FormulaAdiabaticSection = &formula.Formula{
	Name: "protect.adiabatic_section",
	Text: "current * sqrt(time) / k",
	Inputs: []formula.Input{
		{Name: "current", Unit: "A", Doc: "fault current"},
		{Name: "time", Unit: "s", Doc: "until it is cut off"},
		{Name: "k", Unit: "A s^0.5/mm2", Doc: "115 for PVC, 143 for XLPE"},
	},
	Result: formula.Input{Name: "area_min", Unit: "mm2"},
	Source: "iec-60364-4-43#434.5.2",
	Eval:   func(x []float64) float64 { return x[0] * math.Sqrt(x[1]) / x[2] },
}

// FormulaAdiabaticTime gives how long a conductor survives a fault.
var FormulaAdiabaticTime = &formula.Formula{
	Name: "protect.adiabatic_time",
	Text: "(k * area / current) ^ 2",
	Inputs: []formula.Input{
		{Name: "k", Unit: "A s^0.5/mm2", Doc: "115 for PVC, 143 for XLPE"},
		{Name: "area", Unit: "mm2"},
		{Name: "current", Unit: "A", Doc: "fault current"},
	},
	Result: formula.Input{Name: "time_max", Unit: "s"},
	Source: "iec-60364-4-43#434.5.2",
	Eval:   func(x []float64) float64 { return math.Pow(x[0]*x[1]/x[2], 2) },
}

// AdiabaticSection returns the smallest section that a fault current of duration t does not
// overheat: S = I sqrt(t) / k.
//
// Valid for t up to 5 s, where no heat leaves the conductor; longer is refused. Below 0.1 s a
// current-limiting device's I2t counts instead: see AdiabaticLetThrough.
//
// Source: IEC 60364-4-43 434.5.2.
func AdiabaticSection(i quantity.Current, t quantity.Duration, ins Insulation) (quantity.CrossSection, error) {
	if err := errors.Join(calc.Current("fault current", i), calc.Positive("fault time", t, 5, "s"), calc.Positive("k", ins.K, 300, "A s^0.5/mm2")); err != nil {
		return 0, err
	}
	return quantity.CrossSection(FormulaAdiabaticSection.Eval([]float64{float64(i), float64(t), ins.K})), nil
}

// AdiabaticTime returns how long a conductor survives a fault current: t = (k S / I)^2.
//
// A result above 5 s means that the equation no longer holds and the conductor has longer still.
//
// Source: IEC 60364-4-43 434.5.2.
func AdiabaticTime(area quantity.CrossSection, i quantity.Current, ins Insulation) (quantity.Duration, error) {
	if err := errors.Join(calc.Section("cross-section", area), calc.PositiveCurrent("fault current", i), calc.Positive("k", ins.K, 300, "A s^0.5/mm2")); err != nil {
		return 0, err
	}
	return quantity.Duration(FormulaAdiabaticTime.Eval([]float64{ins.K, float64(area), float64(i)})), nil
}

// AdiabaticLetThrough reports whether a conductor bears the energy that a device lets through
// (i2t in A2s, the maker's figure): I2t <= k2 S2.
//
// Source: IEC 60364-4-43 434.5.2, for times below 0.1 s.
func AdiabaticLetThrough(i2t float64, area quantity.CrossSection, ins Insulation) (bool, error) {
	if err := errors.Join(calc.Within("I2t", i2t, 0, 1e12, "A2s"), calc.Section("cross-section", area), calc.Positive("k", ins.K, 300, "A s^0.5/mm2")); err != nil {
		return false, err
	}
	limit := ins.K * ins.K * float64(area) * float64(area)
	return i2t <= limit, nil
}
