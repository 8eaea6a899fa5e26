package spare_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/spare"
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func TestWorkedExamples(t *testing.T) {
	ex := func(id string) map[string]string { return calctest.Example(t, "testdata/worked_examples.csv", id) }
	calctest.Near(t, "RES-01, printed as whole percent", must(spare.OfUsed(75, 225))*100, calctest.Float(t, ex("RES-01")["published"]), 0.5)
	calctest.Published(t, ex("RES-02"), 100-100*must(spare.OfTotal(75, 225)))
	calctest.Published(t, ex("COST-01"), spare.FormulaTerminationCost.Eval([]float64{6, 10}))
	calctest.Published(t, ex("COST-02"), spare.FormulaMarshallingSides.Eval([]float64{2200, 110}))
}

func TestChannelsForCovers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		used := rapid.IntRange(1, 100000).Draw(t, "used")
		percent := rapid.IntRange(0, 100).Draw(t, "percent")
		n := must(spare.ChannelsFor(used, float64(percent)/100))
		if n*100 < used*percent || (n-1)*100 >= used*percent && n > 0 {
			t.Fatalf("%d %% of %d: %d", percent, used, n)
		}
	})
	for _, x := range []float64{-0.1, math.NaN(), math.Inf(1), 11} {
		if _, err := spare.ChannelsFor(10, x); !errors.Is(err, calc.ErrRange) {
			t.Errorf("reserve %v: %v", x, err)
		}
	}
	if _, err := spare.OfUsed(1, 0); !errors.Is(err, calc.ErrRange) {
		t.Errorf("none used: %v", err)
	}
}
