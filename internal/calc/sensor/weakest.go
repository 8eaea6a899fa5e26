package sensor

import "railwright/internal/quantity"

// Weakest returns the temperature between low and high at which one kelvin is worth the fewest ohms, with
// that sensitivity in ohm/K: the high end for platinum, the low end for nickel, whose slopes change one
// way. A range beyond the thermometer's own is cut to it. Errors as Range.
//
// Source: derivatives of the functions of IEC 60751 and DIN 43760.
func (s RTD) Weakest(low, high quantity.Temperature) (quantity.Temperature, float64, error) {
	least, most, err := s.Range()
	if err != nil {
		return 0, 0, err
	}
	a, b := min(max(low, least), most), min(max(high, least), most)
	if s.slope(float64(a)) < s.slope(float64(b)) {
		return a, s.slope(float64(a)), nil
	}
	return b, s.slope(float64(b)), nil
}

// steps is how finely a range is searched for its weakest point: a type's slope has few bends.
const steps = 40

// typeBFrom is where the use of type B begins, in degC: below it the classes of IEC 60584-1 end, and the
// slope goes through nothing.
const typeBFrom = 600

// Weakest returns the temperature between low and high at which one kelvin is worth the fewest volts, with
// that sensitivity in V/K, to a fortieth of the range. A range beyond the type's own is cut to it; of type B what lies below 600 degC
// is left out. It returns a calc.ChoiceError for an unknown type.
//
// Source: NIST ITS-90 reference functions.
func (tc Thermocouple) Weakest(low, high quantity.Temperature) (quantity.Temperature, float64, error) {
	least, most, err := tc.Range()
	if err != nil {
		return 0, 0, err
	}
	if tc == TypeB {
		least = typeBFrom
	}
	a, b := min(max(low, least), most), min(max(high, least), most)
	at, slope := a, tc.slope(tc.pieceAt(float64(a)), float64(a))
	for i := 1; i <= steps; i++ {
		t := a + (b-a)*quantity.Temperature(i)/steps
		if v := tc.slope(tc.pieceAt(float64(t)), float64(t)); v < slope {
			at, slope = t, v
		}
	}
	return at, slope / 1000, nil
}
