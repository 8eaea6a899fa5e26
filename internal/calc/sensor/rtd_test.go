package sensor_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/conductor"
	"railwright/internal/calc/sensor"
	"railwright/internal/quantity"
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func second[T any](_ T, err error) error { return err }

// Source: IEC 60751 table (printed to 0.01 ohm) and the Callendar-Van Dusen equation recomputed.
func TestPt100(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/pt100_points.csv") {
		temp := quantity.Temperature(calctest.Float(t, row["t_c"]))
		r := must(sensor.Pt100.Resistance(temp))
		calctest.Near(t, row["t_c"]+" degC printed", r, calctest.Float(t, row["R_table_ohm"]), 0.00501)
		calctest.Near(t, row["t_c"]+" degC equation", r, calctest.Float(t, row["R_cvd_ohm"]), 0.000006)
		calctest.Near(t, row["t_c"]+" degC Pt1000", must(sensor.Pt1000.Resistance(temp)), 10*float64(r), 1e-9)
		calctest.Near(t, row["t_c"]+" degC back", must(sensor.Pt100.Temperature(r)), float64(temp), 1e-6)
		for class, column := range map[sensor.RTDClass]string{"A": "classA_C_1995", "B": "classB_C_1995"} {
			if row[column] == "" {
				continue
			}
			tol, _, err := sensor.RTDTolerance(class, temp)
			if err != nil {
				t.Fatal(err)
			}
			calctest.Near(t, row["t_c"]+" class "+string(class), tol, calctest.Float(t, row[column]), 0.0006)
		}
	}
}

// Source: the tolerance table of IEC 60751:1995 as printed (650 degC class B is
// printed 3.6 for 3.55, and the ohm column follows such roundings, by up to a hundredth).
func TestPt100ToleranceTable(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/pt100_tolerance.csv") {
		temp := quantity.Temperature(calctest.Float(t, row["t_c"]))
		slope := must(sensor.Pt100.Sensitivity(temp))
		for class, prefix := range map[sensor.RTDClass]string{"A": "classA", "B": "classB"} {
			if row[prefix+"_C"] == "" {
				continue
			}
			tol, _, _ := sensor.RTDTolerance(class, temp)
			calctest.Near(t, row["t_c"]+" class "+string(class), tol, calctest.Float(t, row[prefix+"_C"]), 0.0501)
			calctest.Near(t, row["t_c"]+" class "+string(class)+" in ohm", float64(tol)*slope, calctest.Float(t, row[prefix+"_ohm"]), 0.0101)
		}
	}
}

// Source: DIN 43760 as remembered: Ni100 has 161.8 ohm at 100 degC, 69.5 at -60, 289.2 at 250 (own
// memory of the printed table).
func TestNickel(t *testing.T) {
	for temp, want := range map[quantity.Temperature]float64{-60: 69.5, 0: 100, 100: 161.8, 180: 223.2, 250: 289.2} {
		calctest.Near(t, "Ni100", must(sensor.Ni100.Resistance(temp)), want, 0.06)
	}
}

func TestRTDInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]sensor.RTD{sensor.Pt100, sensor.Pt200, sensor.Pt500, sensor.Pt1000, sensor.Ni100, sensor.Ni120, sensor.Ni1000}).Draw(t, "rtd")
		low, high, _ := s.Range()
		temp := quantity.Temperature(rapid.Float64Range(float64(low), float64(high)).Draw(t, "t"))
		back := must(s.Temperature(must(s.Resistance(temp))))
		if math.Abs(float64(back-temp)) > 1e-7 {
			t.Fatalf("%v: %v back as %v", s, temp, back)
		}
		h := quantity.Temperature(1e-3) // second way to the slope: by difference
		if temp+h <= high && temp-h >= low && math.Abs(float64(temp)) > 0.01 {
			num := float64(must(s.Resistance(temp+h))-must(s.Resistance(temp-h))) / 2e-3
			if got := must(s.Sensitivity(temp)); math.Abs(got-num) > 1e-6*num {
				t.Fatalf("%v at %v: slope %v, by difference %v", s, temp, got, num)
			}
		}
		if p := must(sensor.ParseRTD(s.String())); p != s {
			t.Fatalf("%v reads back as %v", s, p)
		}
	})
}

// Source: derived rows of the facts file: 2.56 K per ohm near 0 degC, and 2 x 50 m of 0.5 mm2 class 5
// are 3.90 ohm and 9.98 K.
func TestLeadErrors(t *testing.T) {
	calctest.Near(t, "1 ohm of loop", must(sensor.LeadError(sensor.Pt100, 0, 2, 0.5, 0)), 1/0.39083, 0.003)
	core := must(conductor.ResistancePerLength(0.5, conductor.Class5, 20)).Of(50)
	calctest.Near(t, "2 x 50 m", must(sensor.LeadError(sensor.Pt100, 0, 2, core, 0)), 9.98, 0.03)
	calctest.Near(t, "linear", sensor.FormulaTwoWireError.Eval([]float64{50, 39, 0.39083}), 9.98, 0.005)
	calctest.Near(t, "3 wires", must(sensor.LeadError(sensor.Pt100, 0, 3, 10, 0.02)), 0.2/0.39083, 0.001)
	calctest.Near(t, "4 wires", must(sensor.LeadError(sensor.Pt100, 0, 4, 10, 0.02)), 0, 1e-12)
}

func TestAbsurdRTDsAreRefused(t *testing.T) {
	for _, x := range append(calctest.Absurd(), -201, 851) {
		if x != -1 {
			if err := second(sensor.Pt100.Resistance(quantity.Temperature(x))); !errors.Is(err, calc.ErrRange) {
				t.Errorf("%v degC: %v", x, err)
			}
		}
		if x != 851 && x != -201 {
			if err := second(sensor.Pt100.Temperature(quantity.Resistance(x))); !errors.Is(err, calc.ErrRange) {
				t.Errorf("%v ohm: %v", x, err)
			}
			if err := second(sensor.LeadError(sensor.Pt100, 0, 2, quantity.Resistance(x), 0)); !errors.Is(err, calc.ErrRange) {
				t.Errorf("core of %v ohm: %v", x, err)
			}
			if err := second((sensor.RTD{Metal: "Pt", R0: quantity.Resistance(x)}).Resistance(0)); !errors.Is(err, calc.ErrRange) {
				t.Errorf("R0 of %v ohm: %v", x, err)
			}
		}
	}
	for name, err := range map[string]error{
		"metal": second((sensor.RTD{Metal: "Au", R0: 1}).Resistance(0)),
		"wires": second(sensor.LeadError(sensor.Pt100, 0, 5, 1, 0)),
		"name":  second(sensor.ParseRTD("Pt99")),
		"cut":   second(sensor.LeadError(sensor.Pt100, 800, 2, 100, 0)),
	} {
		if !errors.Is(err, calc.ErrRange) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, _, err := sensor.RTDTolerance("D", 0); !errors.Is(err, calc.ErrRange) {
		t.Errorf("class D: %v", err)
	}
}
