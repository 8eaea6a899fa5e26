package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Counts that the deciding rooms compare and add. All are exact.
type (
	Money       int64 // 1/10,000 of the basis's currency unit
	Millimetres int64
	Microamps   int64
)

// MoneyUnit is how many Money make one unit of the currency.
const MoneyUnit Money = 10_000

// ToMoney rounds an amount in currency units to Money, half away from zero.
func ToMoney(amount float64) Money { return Money(math.Round(amount * float64(MoneyUnit))) }

// ToMicroamps rounds a current to whole microamperes, half away from zero.
func ToMicroamps(i Current) Microamps { return Microamps(math.Round(float64(i) * 1e6)) }

// ToMillimetres rounds a length to whole millimetres, half away from zero.
func ToMillimetres(l Length) Millimetres { return Millimetres(math.Round(float64(l) * 1e3)) }

// Units returns the amount in currency units.
func (m Money) Units() float64 { return float64(m) / float64(MoneyUnit) }

// Cents returns the amount rounded to 0.01 of the unit, half away from zero, as a decimal number
// for files.
func (m Money) Cents() float64 {
	c := int64(m) / 100
	switch r := int64(m) % 100; {
	case r >= 50:
		c++
	case r <= -50:
		c--
	}
	return float64(c) / 100
}

// String prints the amount with two decimals and spaces between thousands: "12 345.60".
func (m Money) String() string {
	s := strconv.FormatFloat(math.Abs(m.Cents()), 'f', 2, 64)
	whole, frac, _ := strings.Cut(s, ".")
	var b strings.Builder
	if m.Cents() < 0 {
		b.WriteByte('-')
	}
	for i, r := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
	}
	return b.String() + "." + frac
}

// Metres returns the length in metres.
func (l Millimetres) Metres() float64 { return float64(l) / 1e3 }

// Length returns the length as a physical quantity.
func (l Millimetres) Length() Length { return Length(float64(l) / 1e3) }

// Milliamps returns the current in milliamperes.
func (i Microamps) Milliamps() float64 { return float64(i) / 1e3 }

// Current returns the current as a physical quantity.
func (i Microamps) Current() Current { return Current(float64(i) / 1e6) }

// String prints the current in milliamperes: "123.5 mA".
func (i Microamps) String() string { return Short(i.Milliamps()) + " mA" }

// String prints the length in metres: "12.5 m".
func (l Millimetres) String() string { return Short(l.Metres()) + " m" }

// Short prints a number with the fewest digits that read back to the same value.
func Short(v float64) string {
	if v == 0 {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// CeilDiv returns a/b rounded up, for a >= 0 and b > 0.
func CeilDiv(a, b int64) int64 {
	if b <= 0 || a < 0 {
		panic(fmt.Sprintf("quantity.CeilDiv(%d, %d)", a, b))
	}
	return (a + b - 1) / b
}

// UpToDecimetre returns the length rounded up to a whole 0.1 m, the step in which cables are
// measured and bought.
func (l Millimetres) UpToDecimetre() Millimetres {
	return Millimetres(CeilDiv(int64(l), 100) * 100)
}

// Of returns what a length costs at a price per metre; exact where the length is a whole number of
// 0.1 m and the price a whole number of 0.001 of the currency.
func (m Money) Of(l Millimetres) Money { return Money((int64(m)*int64(l) + 500) / 1000) }
