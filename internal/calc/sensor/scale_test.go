package sensor_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/sensor"
)

// Source of each row: see the file's source_id.
func TestWorkedScaling(t *testing.T) {
	for id, c := range map[string]struct {
		x        float64
		from, to sensor.Span
	}{
		"SCL-01": {9830.5, sensor.Span{3277, 16384}, sensor.Span{0, 700}},
		"SCL-02": {3000, sensor.Span{0, 4095}, sensor.Span{0, 150}},
		"SCL-04": {10.6, sensor.MilliAmps4To20, sensor.Span{150, 400}},
		"SCL-05": {41, sensor.Span{-88, 145}, sensor.MilliAmps4To20},
		"SCL-07": {40, sensor.Percent, sensor.MilliAmps4To20},
		"SCL-08": {40, sensor.Percent, sensor.Span{-1, 1}},
	} {
		calctest.Published(t, calctest.Example(t, "testdata/worked_examples.csv", id), must(sensor.Linear(c.x, c.from, c.to)))
	}
}

func TestLinearThereAndBack(t *testing.T) {
	ends := rapid.Float64Range(-1e6, 1e6)
	rapid.Check(t, func(t *rapid.T) {
		from := sensor.Span{ends.Draw(t, "a"), ends.Draw(t, "b")}
		to := sensor.Span{ends.Draw(t, "c"), ends.Draw(t, "d")}
		if math.Abs(from.High-from.Low) < 1e-3 || math.Abs(to.High-to.Low) < 1e-3 {
			t.Skip()
		}
		x := ends.Draw(t, "x")
		y := must(sensor.Linear(x, from, to))
		if math.Abs(y) > 1e11 {
			t.Skip()
		}
		// rounding is relative to the ends and is magnified by the ratio of the spans
		tol := 1e-9 * (1e6 + math.Abs(x)) * (1 + math.Abs((from.High-from.Low)/(to.High-to.Low)))
		if back := must(sensor.Linear(y, to, from)); math.Abs(back-x) > tol {
			t.Fatalf("%v comes back as %v", x, back)
		}
	})
}

// Own arithmetic.
func TestBudget(t *testing.T) {
	b := must(sensor.ErrorBudget(3, 4))
	calctest.Near(t, "worst", b.Worst, 7, 1e-12)
	calctest.Near(t, "probable", b.Probable, 5, 1e-12)
	// 0..100 bar, 0.1 % and 50 ppm/K at 45 degC: 0.1 + 100*50e-6*20 = 0.2 bar
	calctest.Near(t, "module", must(sensor.ModuleError(sensor.Span{0, 100}, 0.1, 50, 45)), 0.2, 1e-12)
	calctest.Near(t, "resolution", must(sensor.Resolution(sensor.Span{0, 100}, sensor.Span{0, 27648})), 100.0/27648, 1e-12)
	calctest.Near(t, "quarter pressure is half flow", must(sensor.SquareRoot(8, sensor.MilliAmps4To20, sensor.Span{0, 60})), 30, 1e-9)
}

func TestAbsurdScalingIsRefused(t *testing.T) {
	good := sensor.Span{0, 100}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e30} {
		for name, err := range map[string]error{
			"x": second(sensor.Linear(x, good, good)), "low": second(sensor.Linear(1, sensor.Span{x, 1}, good)),
			"high": second(sensor.Linear(1, good, sensor.Span{1, x})), "root": second(sensor.SquareRoot(x, good, good)),
			"budget": second(sensor.ErrorBudget(1, x)), "module": second(sensor.ModuleError(good, x, 0, 25)),
			"resolution": second(sensor.Resolution(good, sensor.Span{0, x})),
		} {
			if !errors.Is(err, calc.ErrRange) {
				t.Errorf("%s %v: %v", name, x, err)
			}
		}
	}
	if err := second(sensor.Linear(1, sensor.Span{4, 4}, good)); !errors.Is(err, calc.ErrRange) {
		t.Errorf("no width: %v", err)
	}
	if err := second(sensor.ErrorBudget(-1)); !errors.Is(err, calc.ErrRange) {
		t.Errorf("negative error: %v", err)
	}
}
