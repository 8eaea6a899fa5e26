package protect_test

import (
	"errors"
	"testing"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/protect"
	"railwright/internal/quantity"
)

// Source: IEC 60204-1 18.3; IEC 60364-6 from memory.
func TestInsulationLimits(t *testing.T) {
	for k, want := range map[protect.CircuitKind]struct{ u, r float64 }{protect.ExtraLow: {250, 0.5e6}, protect.MachinePower: {500, 1e6}, protect.Up500: {500, 1e6}, protect.Above500: {1000, 1e6}} {
		got := must(protect.InsulationLimit(k))
		if float64(got.Voltage) != want.u || float64(got.AtLeast) != want.r {
			t.Errorf("%s: %+v", k, got)
		}
	}
	if err := second(protect.InsulationLimit("x")); !errors.Is(err, calc.ErrRange) {
		t.Errorf("x: %v", err)
	}
}

// Own arithmetic: 20 m at 3.08 ohm/km and 4 contacts of 1 mohm: 0.0656 ohm.
func TestContinuity(t *testing.T) {
	calctest.Near(t, "continuity", must(protect.Continuity(20, 3.08e-3, 4, 0.001)), 0.0656, 1e-9)
	calctest.Near(t, "declared", protect.FormulaContinuity.Eval([]float64{20, 3.08, 4, 1}), 0.0656, 1e-9)
	for _, x := range calctest.Absurd() {
		if err := second(protect.Continuity(quantity.Length(x), 0.003, 1, 0.001)); !errors.Is(err, calc.ErrRange) {
			t.Errorf("%v m: %v", x, err)
		}
	}
}
