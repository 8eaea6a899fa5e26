package conductor

import (
	"math"
	"testing"

	"railwright/internal/quantity"
)

// The formula and the table's interpolation agree everywhere.
func TestAmbientFactorFormulaIsTheTable(t *testing.T) {
	for c := -40.0; c <= 60; c += 0.25 {
		want, err := AmbientFactor(quantity.Temperature(c))
		if err != nil {
			t.Fatal(err)
		}
		if got := FormulaAmbientFactor.Eval([]float64{c}); math.Abs(got-want) > 1e-12 {
			t.Errorf("%v degC: %v, the table gives %v", c, got, want)
		}
	}
}
