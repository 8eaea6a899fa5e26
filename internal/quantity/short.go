package quantity

import "strconv"

// ShortScaled prints v x factor with the fewest digits that read back to v when they are divided by
// factor: an SI value in a larger or smaller unit, such as 0.0041 A as "4.1" mA with factor 1000.
func ShortScaled(v, factor float64) string {
	if factor == 1 {
		return Short(v)
	}
	scaled := v * factor
	for digits := 1; digits <= 17; digits++ {
		x, err := strconv.ParseFloat(strconv.FormatFloat(scaled, 'g', digits, 64), 64)
		if err == nil && x/factor == v {
			return Short(x)
		}
	}
	return Short(scaled) // no text of this length reads back; the nearest
}
