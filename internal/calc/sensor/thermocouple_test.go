package sensor_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/sensor"
	"railwright/internal/quantity"
)

// invertFrom is where the issue asks for the inverse, by type.
var invertFrom = map[sensor.Thermocouple]float64{"B": 250, "E": -200, "J": -200, "K": -200, "N": -200, "T": -200, "R": -50, "S": -50}

// Source: NIST ITS-90 Thermocouple Database, every printed degree (printed to 1 microvolt, so half
// of one is the rounding).
func TestEveryPrintedDegree(t *testing.T) {
	worst := 0.0
	for _, row := range calctest.Rows(t, "testdata/thermocouple_points.csv") {
		tc := sensor.Thermocouple(row["type"])
		temp := quantity.Temperature(calctest.Float(t, row["t_c"]))
		got := must(sensor.EMF0(tc, temp))
		miss := math.Abs(float64(got)*1e6 - calctest.Float(t, row["emf_mv"])*1e3)
		worst = math.Max(worst, miss)
		if miss > 0.51 {
			t.Errorf("%s at %v degC: %.2f uV away from %s mV", tc, temp, miss, row["emf_mv"])
		}
		if float64(temp) < invertFrom[tc] {
			continue
		}
		// the exact inverse of our own voltage, and the inverse of the printed one within its rounding
		if back := must(sensor.Temperature0(tc, got)); math.Abs(float64(back-temp)) > 1e-6 {
			t.Errorf("%s: %v degC back as %v", tc, temp, back)
		}
		slope := must(sensor.Sensitivity(tc, temp))
		back := must(sensor.Temperature0(tc, quantity.Voltage(calctest.Float(t, row["emf_mv"])/1000)))
		if off := math.Abs(float64(back-temp)) * slope * 1e6; off > 0.6 {
			t.Errorf("%s: printed %s mV gives %v degC, %.2f uV away from %v", tc, row["emf_mv"], back, off, temp)
		}
	}
	t.Logf("largest difference %.3f uV", worst)
}

func TestInverseBetweenDegrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tc := rapid.SampledFrom(sensor.Thermocouples()).Draw(t, "type")
		_, high, _ := tc.Range()
		temp := quantity.Temperature(rapid.Float64Range(invertFrom[tc], float64(high)).Draw(t, "t"))
		cold := quantity.Temperature(rapid.Float64Range(0, 70).Draw(t, "cold"))
		emf := must(sensor.EMF(tc, temp, cold))
		back := must(sensor.Temperature(tc, emf, cold))
		if slope := must(sensor.Sensitivity(tc, temp)); slope > 2e-6 && math.Abs(float64(back-temp)) > 0.001 {
			t.Fatalf("%s: %v back as %v", tc, temp, back)
		}
		if again := must(sensor.EMF(tc, back, cold)); math.Abs(float64(again-emf)) > 0.5e-6 {
			t.Fatalf("%s: %v V back as %v V", tc, emf, again)
		}
		const h = 1e-3 // second way to the slope: by difference, away from the joints
		if e1, err := sensor.EMF0(tc, temp+h); err == nil {
			if e0, err := sensor.EMF0(tc, temp-h); err == nil && !nearJoint(float64(temp)) {
				num := float64(e1-e0) / (2 * h)
				if got := must(sensor.Sensitivity(tc, temp)); math.Abs(got-num) > 1e-9 {
					t.Fatalf("%s at %v: slope %v, by difference %v", tc, temp, got, num)
				}
			}
		}
	})
}

// Beyond what the coefficients' publisher inverts, down to the end of each reference function: the voltage
// of the temperature that comes back is the voltage that went in.
func TestInverseToTheEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tc := rapid.SampledFrom(sensor.Thermocouples()).Draw(t, "type")
		low, high, _ := tc.Range()
		if tc == sensor.TypeB {
			low = 43
		}
		temp := quantity.Temperature(rapid.Float64Range(float64(low), float64(high)).Draw(t, "t"))
		emf := must(sensor.EMF0(tc, temp))
		back := must(sensor.Temperature0(tc, emf))
		if again := must(sensor.EMF0(tc, back)); math.Abs(float64(again-emf)) > 1e-9 {
			t.Fatalf("%s: %v degC, %v V back as %v degC, %v V", tc, temp, emf, back, again)
		}
	})
}

func nearJoint(t float64) bool {
	for _, j := range []float64{0, 630.615, 760, 1064.18, 1664.5} {
		if math.Abs(t-j) < 0.01 {
			return true
		}
	}
	return false
}

// Own arithmetic: a type K at 500 degC through copper from a head at 60 to terminals at 25 degC reads
// about 35 K * 40.9/42.6 too low.
func TestExtensionError(t *testing.T) {
	got := must(sensor.ExtensionError(sensor.TypeK, sensor.Copper, 500, 60, 25))
	calctest.Near(t, "copper", got, -33.7, 0.7)
	calctest.Near(t, "right type", must(sensor.ExtensionError(sensor.TypeK, sensor.TypeK, 500, 60, 25)), 0, 1e-6)
	calctest.Near(t, "equally warm", must(sensor.ExtensionError(sensor.TypeK, sensor.TypeJ, 500, 25, 25)), 0, 1e-6)
	// Second way: the cold junction's error against the exact inverse of a shifted cold junction.
	emf := must(sensor.EMF(sensor.TypeK, 500, 25))
	exact := must(sensor.Temperature(sensor.TypeK, emf, 26)) - 500
	calctest.Near(t, "cold junction", must(sensor.ColdJunctionError(sensor.TypeK, 500, 25, 1)), float64(exact), 0.01)
}

// Source: IEC 60584-1 as remembered: type K class 1 is 1.5 K up to 375 degC and 0.4 % above, class 2
// 2.5 K up to 333 degC and 0.75 % above.
func TestThermocoupleTolerance(t *testing.T) {
	for _, c := range []struct {
		tc    sensor.Thermocouple
		class int
		t     quantity.Temperature
		want  float64
	}{{"K", 1, 100, 1.5}, {"K", 1, 1000, 4}, {"K", 2, 333, 2.5}, {"K", 2, 1200, 9}, {"T", 1, 0, 0.5}, {"S", 1, 1600, 2.5}, {"S", 2, 600, 1.5}, {"B", 3, 1700, 8.5}, {"E", 3, -200, 3}} {
		calctest.Near(t, string(c.tc), must(sensor.TCTolerance(c.tc, c.class, c.t)), c.want, 0.005)
	}
	for name, err := range map[string]error{
		"B class 1": second(sensor.TCTolerance("B", 1, 700)), "class 4": second(sensor.TCTolerance("K", 4, 100)),
		"too hot": second(sensor.TCTolerance("K", 1, 1100)), "type X": second(sensor.TCTolerance("X", 1, 100)),
	} {
		if !errors.Is(err, calc.ErrRange) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAbsurdThermocouplesAreRefused(t *testing.T) {
	for _, tc := range sensor.Thermocouples() {
		for _, x := range []float64{-271, 2000, math.NaN(), math.Inf(1), math.Inf(-1), 1e30} {
			for name, err := range map[string]error{
				"EMF0": second(sensor.EMF0(tc, quantity.Temperature(x))), "EMF": second(sensor.EMF(tc, 100, quantity.Temperature(x))),
				"Temperature0": second(sensor.Temperature0(tc, quantity.Voltage(x))), "Temperature": second(sensor.Temperature(tc, quantity.Voltage(x), 25)),
			} {
				if !errors.Is(err, calc.ErrRange) {
					t.Errorf("%s of %s at %v: %v", name, tc, x, err)
				}
			}
		}
		if p, err := sensor.ParseThermocouple(" type " + string(tc)); err != nil || p != tc {
			t.Errorf("%s reads back as %s, %v", tc, p, err)
		}
	}
	if err := second(sensor.EMF0("X", 0)); !errors.Is(err, calc.ErrRange) {
		t.Errorf("type X: %v", err)
	}
	if err := second(sensor.Temperature0(sensor.TypeB, -1e-6)); !errors.Is(err, calc.ErrRange) {
		t.Errorf("type B below its minimum: %v", err)
	}
}
