package conductor_test

import (
	"errors"
	"math"
	"testing"

	"railwright/internal/calc"
	"railwright/internal/calc/conductor"
	"railwright/internal/quantity"
)

// Source: resistances of stranded copper at 20 degC in ohm/km as gauge tables print them (ASTM B258
// diameters, 100 % IACS, 2 % for stranding; from memory of handbook tables: 24: 85.9, 18: 21.4, 16: 13.4,
// 14: 8.45, 12: 5.32). The areas are those that cables are printed with.
func TestGaugesAreNotSilent(t *testing.T) {
	for _, c := range []struct{ mm2, ohmPerKM float64 }{{0.205, 85.9}, {0.82, 21.4}, {0.823, 21.4}, {1.31, 13.4}, {2.08, 8.45}, {3.31, 5.32}} {
		r, err := conductor.ResistancePerLength(quantity.CrossSection(c.mm2), conductor.Class2, 20)
		if err != nil || math.Abs(float64(r)*1000/c.ohmPerKM-1) > 0.005 {
			t.Errorf("%v mm2: %.4g ohm/km, %v; table %v", c.mm2, float64(r)*1000, err, c.ohmPerKM)
		}
	}
}

// The allowances of odd sizes are those that the table's own rows show: an odd size is never taken for
// better than a row of the same area would be.
func TestOddSizesAreNoBetterThanRows(t *testing.T) {
	for _, class := range []conductor.Class{conductor.Class1, conductor.Class5} {
		for _, row := range conductor.Table(class) {
			if row.Area < 0.5 {
				continue
			}
			odd, err := conductor.Largest20(row.Area*1.0001, class)
			gauge, _ := conductor.OffTableOf(row.Area*1.0001, class)
			if err != nil || gauge.AreaFrom == "" && odd < row.R20*0.999 {
				t.Errorf("class %s, %v mm2: %v ohm/m, the row has %v (%v)", class, row.Area, odd, row.R20, err)
			}
		}
	}
	if _, err := conductor.Largest20(0, conductor.Class5); !errors.Is(err, calc.ErrRange) {
		t.Errorf("no area: %v", err)
	}
	if _, err := conductor.Largest20(0.6, "3"); err == nil {
		t.Error("class 3 is accepted")
	}
}
