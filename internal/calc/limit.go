package calc

import (
	"errors"
	"fmt"
	"math"

	"railwright/internal/quantity"
)

// ErrRange is what errors.Is finds in every refusal of a value by the formula packages.
var ErrRange = errors.New("value out of range")

// RangeError says which value was refused, and what would have been accepted.
type RangeError struct {
	Name  string  // what the value is: "cable length"
	Value float64 // as given
	Unit  string  // "" for a plain number
	Min   float64
	Max   float64
	Above bool // true if Min itself is refused
}

// Error reads "cable length: -5 m is out of range, allowed 0 to 100000 m".
func (e *RangeError) Error() string {
	unit := ""
	if e.Unit != "" {
		unit = " " + e.Unit
	}
	from := fmt.Sprintf("%.6g to", e.Min)
	if e.Above {
		from = fmt.Sprintf("above %.6g up to", e.Min)
	}
	return fmt.Sprintf("%s: %.6g%s is out of range, allowed %s %.6g%s", e.Name, e.Value, unit, from, e.Max, unit)
}

// Is reports that every RangeError is an ErrRange.
func (e *RangeError) Is(target error) bool { return target == ErrRange }

// ChoiceError says that a value is none of a table's entries.
type ChoiceError struct {
	Name    string
	Seen    string
	Allowed string // the entries as people write them
}

// Error reads "cross-section: 3 mm2 is not in the table, allowed 0.5, 0.75, 1 mm2".
func (e *ChoiceError) Error() string {
	return fmt.Sprintf("%s: %s is not in the table, allowed %s", e.Name, e.Seen, e.Allowed)
}

// Is reports that every ChoiceError is an ErrRange.
func (e *ChoiceError) Is(target error) bool { return target == ErrRange }

// Number is any quantity that the formulas take.
type Number interface{ ~float64 }

// Within refuses NaN, infinities and whatever lies outside min to max, both included.
func Within[N Number](name string, v N, min, max float64, unit string) error {
	x := float64(v)
	if math.IsNaN(x) || x < min || x > max {
		return &RangeError{Name: name, Value: x, Unit: unit, Min: min, Max: max}
	}
	return nil
}

// Positive refuses NaN, zero, negative values and whatever lies above max.
func Positive[N Number](name string, v N, max float64, unit string) error {
	x := float64(v)
	if math.IsNaN(x) || x <= 0 || x > max {
		return &RangeError{Name: name, Value: x, Unit: unit, Min: 0, Max: max, Above: true}
	}
	return nil
}

// Count refuses a count outside min to max.
func Count(name string, n, min, max int) error {
	return Within(name, float64(n), float64(min), float64(max), "")
}

// The widest values that make sense anywhere in a low-voltage installation. They catch slips
// (millimetres for metres), not bad designs.
const (
	maxVoltage     = 1500  // V, the end of low voltage DC
	maxCurrent     = 200e3 // A, beyond any prospective fault current here
	maxLength      = 100e3 // m
	maxResistance  = 1e9   // ohm
	maxPerLength   = 10    // ohm/m, a wire of 0.002 mm2
	maxSection     = 1000  // mm2
	minTemperature = -273.15
	maxTemperature = 3000 // degC
	maxPower       = 10e6 // W
	maxTime        = 1e8  // s, three years
)

// Voltage refuses anything outside 0 to 1500 V.
func Voltage(name string, v quantity.Voltage) error { return Within(name, v, 0, maxVoltage, "V") }

// PositiveVoltage refuses anything outside 0 (excluded) to 1500 V.
func PositiveVoltage(name string, v quantity.Voltage) error {
	return Positive(name, v, maxVoltage, "V")
}

// Current refuses anything outside 0 to 200 kA.
func Current(name string, v quantity.Current) error { return Within(name, v, 0, maxCurrent, "A") }

// PositiveCurrent refuses anything outside 0 (excluded) to 200 kA.
func PositiveCurrent(name string, v quantity.Current) error {
	return Positive(name, v, maxCurrent, "A")
}

// Length refuses anything outside 0 to 100 km.
func Length(name string, v quantity.Length) error { return Within(name, v, 0, maxLength, "m") }

// PositiveLength refuses anything outside 0 (excluded) to 100 km.
func PositiveLength(name string, v quantity.Length) error {
	return Positive(name, v, maxLength, "m")
}

// Resistance refuses anything outside 0 to 1 Gohm.
func Resistance(name string, v quantity.Resistance) error {
	return Within(name, v, 0, maxResistance, "ohm")
}

// PositiveResistance refuses anything outside 0 (excluded) to 1 Gohm.
func PositiveResistance(name string, v quantity.Resistance) error {
	return Positive(name, v, maxResistance, "ohm")
}

// PerLength refuses anything outside 0 (excluded) to 10 ohm/m.
func PerLength(name string, v quantity.ResistancePerLength) error {
	return Positive(name, v, maxPerLength, "ohm/m")
}

// Section refuses anything outside 0 (excluded) to 1000 mm2.
func Section(name string, v quantity.CrossSection) error {
	return Positive(name, v, maxSection, "mm2")
}

// Temperature refuses anything outside absolute zero to 3000 degC.
func Temperature(name string, v quantity.Temperature) error {
	return Within(name, v, minTemperature, maxTemperature, "degC")
}

// Power refuses anything outside 0 to 10 MW.
func Power(name string, v quantity.Power) error { return Within(name, v, 0, maxPower, "W") }

// PositivePower refuses anything outside 0 (excluded) to 10 MW.
func PositivePower(name string, v quantity.Power) error { return Positive(name, v, maxPower, "W") }

// Time refuses anything outside 0 to three years.
func Time(name string, v quantity.Duration) error { return Within(name, v, 0, maxTime, "s") }

// PositiveTime refuses anything outside 0 (excluded) to three years.
func PositiveTime(name string, v quantity.Duration) error { return Positive(name, v, maxTime, "s") }

// Fraction refuses anything outside 0 to 1.
func Fraction[N Number](name string, v N) error { return Within(name, v, 0, 1, "") }

// PositiveFraction refuses anything outside 0 (excluded) to 1.
func PositiveFraction[N Number](name string, v N) error { return Positive(name, v, 1, "") }
