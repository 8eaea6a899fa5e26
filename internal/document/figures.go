package document

import (
	"math"
	"strconv"

	"railwright/internal/calc/conductor"
	"railwright/internal/paper"
	q "railwright/internal/quantity"
)

// rounded prints a number with at most so many digits behind the point, none that say nothing.
func rounded(x float64, digits int) string {
	p := math.Pow(10, float64(digits))
	return q.Short(math.Round(x*p) / p)
}

// fixed prints a number with so many digits behind the point.
func fixed(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if f, err := strconv.ParseFloat(s, 64); err == nil && f == 0 {
		s = strconv.FormatFloat(0, 'f', digits, 64) // no -0
	}
	return s
}

// with puts a unit behind a number; "" for 0 where 0 means that there is none.
func with(x float64, digits int, unit string) string {
	if x == 0 {
		return ""
	}
	return rounded(x, digits) + " " + unit
}

// area prints a conductor's size as the setting asks: "1.5 mm²", or the gauge that is sold for it with
// the area of the design behind it, "AWG 14 (1.5 mm²)".
func area(s paper.Setting, mm2 float64) string {
	if mm2 <= 0 {
		return ""
	}
	metric := q.Short(mm2) + " mm²"
	if s.Wire != paper.AWG {
		return metric
	}
	if n, err := conductor.SoldAWG(q.CrossSection(mm2)); err == nil {
		return "AWG " + n.String() + " (" + metric + ")"
	}
	return metric
}
