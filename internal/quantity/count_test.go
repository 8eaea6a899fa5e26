package quantity_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/quantity"
)

// Own arithmetic: half away from zero on both sides.
func TestMoney(t *testing.T) {
	for _, c := range []struct {
		amount float64
		money  quantity.Money
		cents  float64
		text   string
	}{
		{0, 0, 0, "0.00"},
		{12345.6, 123456000, 12345.6, "12 345.60"},
		{0.00005, 1, 0, "0.00"},
		{1.005, 10050, 1.01, "1.01"},
		{-1.005, -10050, -1.01, "-1.01"},
		{1.0049, 10049, 1, "1.00"},
		{999.995, 9999950, 1000, "1 000.00"},
		{-1234567.891, -12345678910, -1234567.89, "-1 234 567.89"},
	} {
		m := quantity.ToMoney(c.amount)
		if m != c.money || m.Cents() != c.cents || m.String() != c.text {
			t.Errorf("%v: %d, %v, %q, want %d, %v, %q", c.amount, m, m.Cents(), m.String(), c.money, c.cents, c.text)
		}
	}
}

func TestCountsRoundHalfAway(t *testing.T) {
	if got := quantity.ToMillimetres(0.0125); got != 13 {
		t.Errorf("12.5 mm: %d", got)
	}
	if got := quantity.ToMicroamps(-0.0000005); got != -1 {
		t.Errorf("-0.5 uA: %d", got)
	}
	if s := quantity.Microamps(123500).String(); s != "123.5 mA" {
		t.Errorf("%q", s)
	}
	if s := quantity.Millimetres(12500).String(); s != "12.5 m" {
		t.Errorf("%q", s)
	}
	if quantity.Microamps(4000).Current() != 0.004 || quantity.Millimetres(1500).Length() != 1.5 {
		t.Error("counts as physical quantities")
	}
}

func TestShortReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := int64(rapid.IntRange(0, 1<<40).Draw(t, "a")), int64(rapid.IntRange(1, 1<<20).Draw(t, "b"))
		if q := quantity.CeilDiv(a, b); q*b < a || (q-1)*b >= a && q > 0 {
			t.Fatalf("CeilDiv(%d, %d) = %d", a, b, q)
		}
	})
	if quantity.Short(0.1) != "0.1" || quantity.Short(math.Copysign(0, -1)) != "0" || quantity.Short(1e6) != "1000000" {
		t.Error("Short")
	}
	defer func() {
		if recover() == nil {
			t.Error("CeilDiv by zero does not panic")
		}
	}()
	quantity.CeilDiv(1, 0)
}
