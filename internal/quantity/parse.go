package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ErrSyntax is what errors.Is finds in every text that no Parse function takes.
var ErrSyntax = errors.New("not a quantity")

// SyntaxError says what was read, what is wrong with it and what may have been meant.
type SyntaxError struct {
	Dimension string // "current"
	Text      string // as given
	Why       string
	Hint      string // "did you mean 120 mA?"; "" for none
}

// Error reads `current "12O mA": "12O" is not a number; did you mean 120 mA?`.
func (e *SyntaxError) Error() string {
	s := fmt.Sprintf("%s %q: %s", e.Dimension, e.Text, e.Why)
	if e.Hint != "" {
		s += "; " + e.Hint
	}
	return s
}

// Is reports that every SyntaxError is an ErrSyntax.
func (e *SyntaxError) Is(target error) bool { return target == ErrSyntax }

// fold brings the usual spellings of a unit to one.
var fold = strings.NewReplacer("²", "2", "Ω", "ohm", "Ω", "ohm", "Ohm", "ohm", "°", "deg", "℃", "degC", "µ", "u", "μ", "u", " ", "", "mm^2", "mm2", "sqmm", "mm2", "m^2", "m2")

// split cuts a text into its number and its unit, both trimmed.
func split(text string) (number, symbol string) {
	t := strings.TrimSpace(text)
	end := 0
	for end < len(t) && strings.IndexByte("+-0123456789.,", t[end]) >= 0 {
		end++
	}
	// an exponent belongs to the number if digits follow: 1e-3, but not 2 else
	if end > 0 && end < len(t) && (t[end] == 'e' || t[end] == 'E') {
		k := end + 1
		if k < len(t) && (t[k] == '+' || t[k] == '-') {
			k++
		}
		from := k
		for k < len(t) && t[k] >= '0' && t[k] <= '9' {
			k++
		}
		if k > from {
			end = k
		}
	}
	return t[:end], strings.TrimSpace(t[end:])
}

// decimalPoint takes a decimal comma for a point; "1.234,5" and "1,234,5" are refused.
func decimalPoint(number string) (string, bool) {
	if !strings.Contains(number, ",") {
		return number, true
	}
	if strings.Count(number, ",") > 1 || strings.Contains(number, ".") {
		return "", false
	}
	return strings.Replace(number, ",", ".", 1), true
}

// parse reads a number with a unit of the dimension. fallback is the unit of a bare number; "" means
// that a bare number is refused.
func (d dimension) parse(text, fallback string) (float64, error) {
	fail := func(why, hint string) (float64, error) {
		return 0, &SyntaxError{Dimension: d.name, Text: text, Why: why, Hint: hint}
	}
	number, symbol := split(text)
	if strings.TrimSpace(text) == "" {
		return fail("is empty", "write it like "+d.example())
	}
	if symbol == "" {
		if symbol = fallback; symbol == "" {
			return fail("has no unit", fmt.Sprintf("did you mean %s %s?", number, d.units[0].symbol))
		}
	}
	u, ok := d.unit(fold.Replace(symbol))
	if !ok || number == "" {
		if hint := d.slip(text, fallback); hint != "" {
			return fail("is not a number with a unit", "did you mean "+hint+"?")
		}
		if number == "" {
			return fail("has no number", "write it like "+d.example())
		}
		return fail(fmt.Sprintf("%q is no unit of a %s", symbol, d.name), "known are "+d.symbols())
	}
	point, ok := decimalPoint(number)
	if !ok {
		return fail(fmt.Sprintf("%q is not a number", number), "write it without thousands separators")
	}
	v, err := scaled(point, u)
	if err != nil {
		return fail(fmt.Sprintf("%q is not a number", number), "write it like "+d.example())
	}
	return v, nil
}

// scaled reads the number and moves its point by the unit's exponent before it is rounded to binary,
// so that 22 mA is exactly 0.022 A.
func scaled(number string, u unit) (float64, error) {
	mantissa, exp := number, 0
	if k := strings.IndexAny(number, "eE"); k >= 0 {
		e, err := strconv.Atoi(number[k+1:])
		if err != nil || e > 400 || e < -400 {
			return 0, ErrSyntax
		}
		mantissa, exp = number[:k], e
	}
	v, err := strconv.ParseFloat(mantissa+"e"+strconv.Itoa(exp+u.exp), 64)
	if u.factor != 0 {
		v *= u.factor
	}
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, ErrSyntax
	}
	return v, nil
}

func (d dimension) unit(symbol string) (unit, bool) {
	for _, u := range d.units {
		if u.symbol == symbol {
			return u, true
		}
	}
	return unit{}, false
}

func (d dimension) symbols() string {
	all := make([]string, len(d.units))
	for i, u := range d.units {
		all[i] = u.symbol
	}
	return strings.Join(all, ", ")
}

func (d dimension) example() string { return "1.5 " + d.units[0].symbol }

var lookalikes = strings.NewReplacer("O", "0", "o", "0", "l", "1", "I", "1")

// slip repairs letters that are taken for digits (O for 0, l and I for 1) and returns the repaired
// text if that makes sense, "" otherwise.
func (d dimension) slip(text, fallback string) string {
	const longest = 40 // a longer text is no slip of the finger
	if len(text) > longest {
		return ""
	}
	for cut := len(text); cut > 0; cut-- {
		head, tail := text[:cut], strings.TrimSpace(text[cut:])
		repaired := lookalikes.Replace(strings.TrimSpace(head))
		if repaired == strings.TrimSpace(head) {
			continue
		}
		if _, rest := split(repaired); rest != "" {
			continue
		}
		if tail == "" {
			tail = fallback
		}
		if _, ok := d.unit(fold.Replace(tail)); ok {
			return repaired + " " + tail
		}
	}
	return ""
}

// format prints v, which is in base units 10^baseExp of the first unit, in the printed unit that gives
// a number from 1 to below 1000, or in the nearest such unit. The digits are those of v itself with the
// point moved, so that parse reads back the same value.
func (d dimension) format(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'g', -1, 64) + " " + d.units[0].symbol
	}
	digits, exp, negative := digitsOf(v)
	best := d.units[0]
	for _, u := range d.units[:d.printed] {
		best = u
		if exp-u.exp > 0 { // at least one digit before the point
			break
		}
	}
	if v == 0 {
		best = d.units[0]
	}
	s := placePoint(digits, exp-best.exp)
	if negative {
		s = "-" + s
	}
	return s + " " + best.symbol
}

// digitsOf returns the shortest digits of v and the exponent with which v = 0.DIGITS * 10^exp.
func digitsOf(v float64) (digits string, exp int, negative bool) {
	s := strconv.FormatFloat(math.Abs(v), 'e', -1, 64)
	mantissa, e, _ := strings.Cut(s, "e")
	exp, _ = strconv.Atoi(e)
	return strings.Replace(mantissa, ".", "", 1), exp + 1, math.Signbit(v) && v != 0
}

func placePoint(digits string, exp int) string {
	switch {
	case strings.Trim(digits, "0") == "":
		return "0"
	case exp <= 0:
		return "0." + strings.Repeat("0", -exp) + digits
	case exp >= len(digits):
		return digits + strings.Repeat("0", exp-len(digits))
	}
	return digits[:exp] + "." + digits[exp:]
}

// must panics on an error; the MustParse functions are for tests and tables.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
