package supply

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaHoldup gives how long a capacitor feeds a load of constant power.
var FormulaHoldup = &formula.Formula{
	Name: "supply.holdup",
	Text: "c * (u_start ^ 2 - u_end ^ 2) / (2 * power) * efficiency / 100",
	Inputs: []formula.Input{
		{Name: "c", Unit: "F"},
		{Name: "u_start", Unit: "V"},
		{Name: "u_end", Unit: "V", Doc: "lowest voltage that is still of use"},
		{Name: "power", Unit: "W", Doc: "taken at the output"},
		{Name: "efficiency", Unit: "%", Doc: "of a converter between; 100 for none"},
	},
	Result: formula.Input{Name: "time", Unit: "s"},
	Source: "arithmetic#stored-energy",
	Eval:   func(x []float64) float64 { return x[0] * (x[1]*x[1] - x[2]*x[2]) / (2 * x[3]) * x[4] / 100 },
}

// Holdup returns how long a capacitor feeds a load of constant power between two voltages.
//
//	t = eta C (U1^2 - U2^2) / (2 P)
//
// It returns a calc.RangeError if u2 is above u1. Valid for energy stores of capacitors (0 to 10
// kF); the capacitor's own resistance and ageing are left out: enter the aged capacitance.
//
// Source: energy of a capacitor.
func Holdup(c quantity.Capacitance, u1, u2 quantity.Voltage, p quantity.Power, efficiency float64) (quantity.Duration, error) {
	if err := errors.Join(calc.Positive("capacitance", c, 1e4, "F"), calc.PositiveVoltage("start voltage", u1), calc.Within("end voltage", u2, 0, float64(u1), "V"),
		calc.PositivePower("load power", p), calc.PositiveFraction("efficiency", efficiency)); err != nil {
		return 0, err
	}
	return quantity.Duration(FormulaHoldup.Eval([]float64{float64(c), float64(u1), float64(u2), float64(p), efficiency * 100})), nil
}

// FormulaHoldupCapacitance gives the capacitance for a hold-up time.
var FormulaHoldupCapacitance = &formula.Formula{
	Name: "supply.holdup_capacitance",
	Text: "2 * power * time / ((u_start ^ 2 - u_end ^ 2) * efficiency / 100)",
	Inputs: []formula.Input{
		{Name: "power", Unit: "W"}, {Name: "time", Unit: "s"}, {Name: "u_start", Unit: "V"}, {Name: "u_end", Unit: "V"}, {Name: "efficiency", Unit: "%"},
	},
	Result: formula.Input{Name: "c", Unit: "F"},
	Source: "arithmetic#stored-energy",
	Eval: func(x []float64) float64 {
		return 2 * x[0] * x[1] / ((x[2]*x[2] - x[3]*x[3]) * x[4] / 100)
	},
}

// HoldupCapacitance returns the capacitance that holds a load of constant power up for t.
// Errors as Holdup; the voltages must differ.
//
// Source: Holdup solved for C.
func HoldupCapacitance(p quantity.Power, t quantity.Duration, u1, u2 quantity.Voltage, efficiency float64) (quantity.Capacitance, error) {
	if err := errors.Join(calc.Power("load power", p), calc.Time("hold-up time", t), calc.PositiveVoltage("start voltage", u1), calc.Within("end voltage", u2, 0, float64(u1)*(1-1e-9), "V"),
		calc.PositiveFraction("efficiency", efficiency)); err != nil {
		return 0, err
	}
	return quantity.Capacitance(FormulaHoldupCapacitance.Eval([]float64{float64(p), float64(t), float64(u1), float64(u2), efficiency * 100})), nil
}

// BatteryUse says how much of a battery may be counted on. The zero values of Depth, Ageing, Cold and
// Efficiency mean 1; of Peukert 1 (no loss at high rates); of RatedHours 20.
type BatteryUse struct {
	Depth      float64 // share of the capacity that may be drawn
	Ageing     float64 // share left at the end of life, 0.8 is usual
	Cold       float64 // share left at the lowest temperature
	Efficiency float64 // of the converter to the load
	Peukert    float64 // exponent; 1.1 to 1.3 for lead-acid
	RatedHours float64 // discharge time at which the capacity is rated
}

func (b BatteryUse) filled() BatteryUse {
	for _, p := range []*float64{&b.Depth, &b.Ageing, &b.Cold, &b.Efficiency, &b.Peukert} {
		if *p == 0 {
			*p = 1
		}
	}
	if b.RatedHours == 0 {
		b.RatedHours = 20
	}
	return b
}

func (b BatteryUse) check() error {
	return errors.Join(calc.PositiveFraction("depth of discharge", b.Depth), calc.PositiveFraction("ageing", b.Ageing), calc.PositiveFraction("cold", b.Cold),
		calc.PositiveFraction("efficiency", b.Efficiency), calc.Within("Peukert exponent", b.Peukert, 1, 1.6, ""), calc.Within("rated discharge time", b.RatedHours, 0.1, 100, "h"))
}

// FormulaBatteryTime gives how long a battery feeds a load of constant power.
var FormulaBatteryTime = &formula.Formula{
	Name: "supply.battery_time",
	Text: "hours * pow(capacity * usable / (power / (voltage * efficiency / 100) * hours), peukert) * 60",
	Inputs: []formula.Input{
		{Name: "hours", Unit: "h", Doc: "discharge time at which the capacity is rated, 20 as a rule"},
		{Name: "capacity", Unit: "Ah", Doc: "rated"},
		{Name: "usable", Unit: "1", Doc: "depth of discharge times ageing times cold"},
		{Name: "power", Unit: "W", Doc: "at the load"},
		{Name: "voltage", Unit: "V", Doc: "mean battery voltage"},
		{Name: "efficiency", Unit: "%"},
		{Name: "peukert", Unit: "1"},
	},
	Result: formula.Input{Name: "time", Unit: "min"},
	Source: "common-practice#peukert",
	Eval: func(x []float64) float64 {
		return x[0] * math.Pow(x[1]*x[2]/(x[3]/(x[4]*x[5]/100)*x[0]), x[6]) * 60
	},
}

// Battery returns how long a battery feeds a load of constant power.
//
//	I = P / (eta U), t = H (C usable / (I H))^k, usable = depth * ageing * cold
//
// capacityAh is the rated capacity in ampere-hours. The battery maker's discharge tables outrank the
// exponent k, above all below 15 minutes.
//
// Source: Peukert's rule; the shares are common practice (80 % at the end of life).
func Battery(capacityAh float64, u quantity.Voltage, p quantity.Power, use BatteryUse) (quantity.Duration, error) {
	use = use.filled()
	if err := errors.Join(calc.Positive("battery capacity", capacityAh, 1e5, "Ah"), calc.PositiveVoltage("battery voltage", u), calc.PositivePower("load power", p), use.check()); err != nil {
		return 0, err
	}
	minutes := FormulaBatteryTime.Eval([]float64{use.RatedHours, capacityAh, use.Depth * use.Ageing * use.Cold, float64(p), float64(u), use.Efficiency * 100, use.Peukert})
	return quantity.Duration(minutes * 60), nil
}

// FormulaBatteryCapacity gives the capacity for an autonomy.
var FormulaBatteryCapacity = &formula.Formula{
	Name: "supply.battery_capacity",
	Text: "power / (voltage * efficiency / 100) * hours * pow(time / (hours * 60), 1 / peukert) / usable",
	Inputs: []formula.Input{
		{Name: "power", Unit: "W"},
		{Name: "voltage", Unit: "V"},
		{Name: "efficiency", Unit: "%"},
		{Name: "hours", Unit: "h", Doc: "discharge time at which the capacity is rated"},
		{Name: "time", Unit: "min"},
		{Name: "peukert", Unit: "1"},
		{Name: "usable", Unit: "1", Doc: "depth of discharge times ageing times cold"},
	},
	Result: formula.Input{Name: "capacity", Unit: "Ah"},
	Source: "common-practice#peukert",
	Eval: func(x []float64) float64 {
		return x[0] / (x[1] * x[2] / 100) * x[3] * math.Pow(x[4]/(x[3]*60), 1/x[5]) / x[6]
	},
}

// BatteryCapacity returns the rated capacity in ampere-hours that feeds a load for t: Battery solved
// for the capacity.
func BatteryCapacity(p quantity.Power, t quantity.Duration, u quantity.Voltage, use BatteryUse) (float64, error) {
	use = use.filled()
	if err := errors.Join(calc.Power("load power", p), calc.PositiveTime("autonomy", t), calc.PositiveVoltage("battery voltage", u), use.check()); err != nil {
		return 0, err
	}
	return FormulaBatteryCapacity.Eval([]float64{float64(p), float64(u), use.Efficiency * 100, use.RatedHours, float64(t) / 60, use.Peukert, use.Depth * use.Ageing * use.Cold}), nil
}
