package conductor_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/conductor"
	"railwright/internal/quantity"
)

// Source of the rows: IEC 60228:2004 tables 1 to 3, four prints that agree (see the file).
func TestResistanceTableIsIEC60228(t *testing.T) {
	columns := map[string][]conductor.Class{
		"class1_plain_ohm_km":  {conductor.Class1},
		"class2_plain_ohm_km":  {conductor.Class2},
		"class5_plain_ohm_km":  {conductor.Class5, conductor.Class6},
		"class2_tinned_ohm_km": {conductor.Class2Tinned},
		"class5_tinned_ohm_km": {conductor.Class5Tinned},
	}
	for _, row := range calctest.Rows(t, "testdata/conductor_resistance.csv") {
		area := quantity.CrossSection(calctest.Float(t, row["mm2"]))
		for column, classes := range columns {
			for _, class := range classes {
				r, err := conductor.ResistancePerLength(area, class, 20)
				if err != nil {
					t.Fatal(err)
				}
				calctest.Near(t, row["mm2"]+" mm2 "+column, r*1000, calctest.Float(t, row[column]), 1e-9)
			}
		}
	}
}

// Source: DIN VDE 0295 as printed on one page; IEC 60228 has no such sizes.
func TestSmallSizesAreFlexibleOnly(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/conductor_resistance_small.csv") {
		area := quantity.CrossSection(calctest.Float(t, row["mm2"]))
		got, err := conductor.At20(area, conductor.Class5)
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, row["mm2"], got.R20*1000, calctest.Float(t, row["flexible_plain_ohm_km"]), 1e-9)
		if got.Source != "din-vde-0295#below-0.5" {
			t.Errorf("%s mm2 cites %s", row["mm2"], got.Source)
		}
		if _, err := conductor.At20(area, conductor.Class2); !errors.Is(err, calc.ErrRange) {
			t.Errorf("class 2, %s mm2: %v, want a refusal", row["mm2"], err)
		}
	}
}

// Source: column one_over_1_plus_alpha_dt, and the printed kt within the 0.5 % that the doc states.
func TestTemperatureFactor(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/copper_temperature_factor.csv") {
		temp := calctest.Float(t, row["t_c"])
		r, err := conductor.At(0.01, quantity.Temperature(temp))
		if err != nil {
			t.Fatal(err)
		}
		kt := 0.01 / float64(r)
		calctest.Near(t, row["t_c"]+" degC", kt, calctest.Float(t, row["one_over_1_plus_alpha_dt"]), 0.00006)
		calctest.Near(t, row["t_c"]+" degC printed", kt, calctest.Float(t, row["kt_table"]), 0.005*kt)
	}
}

// Second way: each table value lies above the theoretical resistance of its nominal section
// (stranding and tolerance) and below 1.2 times it.
func TestTableAgainstResistivity(t *testing.T) {
	for _, class := range []conductor.Class{conductor.Class1, conductor.Class2, conductor.Class5, conductor.Class2Tinned, conductor.Class5Tinned} {
		last := math.Inf(1)
		for _, row := range conductor.Table(class) {
			theory, err := conductor.Theoretical(row.Area, 20)
			if err != nil {
				t.Fatal(err)
			}
			if ratio := float64(row.R20 / theory); ratio < 1 || ratio > 1.30 {
				t.Errorf("class %s, %v mm2: %.3f times the theoretical value", class, row.Area, ratio)
			}
			if float64(row.R20) >= last {
				t.Errorf("class %s, %v mm2: not below the smaller size", class, row.Area)
			}
			last = float64(row.R20)
		}
	}
}

// Source: the file's ASTM B258 formula columns and printed tables.
func TestAWG(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/awg.csv") {
		n, err := conductor.ParseAWG(row["awg"])
		if err != nil {
			t.Fatal(err)
		}
		d, err := n.DiameterMM()
		if err != nil {
			t.Fatal(err)
		}
		area, _ := n.Area()
		r, err := conductor.Theoretical(area, 20)
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, "d of AWG "+row["awg"], d, calctest.Float(t, row["d_mm_formula"]), 0.00006)
		calctest.Near(t, "area of AWG "+row["awg"], area, calctest.Float(t, row["area_mm2_formula"]), 0.00006)
		calctest.Near(t, "ohm/km of AWG "+row["awg"], r*1000, calctest.Float(t, row["ohm_km_formula"]), 0.0006)
		printed := calctest.Float(t, row["area_mm2_table"])
		calctest.Near(t, "printed area", area, printed, 0.006*printed)
		for name, f := range map[string]func(quantity.CrossSection) (conductor.AWG, error){"nearest": conductor.NearestAWG, "at least": conductor.AWGAtLeast} {
			if back, err := f(area); err != nil || back != n {
				t.Errorf("%s of AWG %v's own area: %v, %v", name, n, back, err)
			}
		}
	}
	// Source: gauge names, own arithmetic: AWG 4/0 has d = 0.46 inch = 11.684 mm by definition.
	d, _ := conductor.AWG(-3).DiameterMM()
	calctest.Near(t, "4/0", d, 11.684, 0.0005)
	// 2.5 mm2 lies between AWG 14 (2.08) and AWG 13 (2.62).
	if n, _ := conductor.AWGAtLeast(2.5); n != 13 {
		t.Errorf("AWGAtLeast(2.5 mm2) = %v, want 13", n)
	}
}

func TestAWGNamesReadBack(t *testing.T) {
	for n := conductor.ThickestAWG; n <= conductor.ThinnestAWG; n++ {
		for _, s := range []string{n.String(), "AWG " + n.String(), "awg" + n.String()} {
			if back, err := conductor.ParseAWG(s); err != nil || back != n {
				t.Errorf("ParseAWG(%q) = %v, %v, want %v", s, back, err, n)
			}
		}
	}
	for s, want := range map[string]conductor.AWG{"0": 0, "00": -1, "0000": -3} {
		if n, err := conductor.ParseAWG(s); err != nil || n != want {
			t.Errorf("ParseAWG(%q) = %v, %v, want %v", s, n, err, want)
		}
	}
	for _, s := range []string{"", "AWG", "41", "5/0", "0/0", "-1", "1/2", "x", "-1/0", "00000"} {
		if n, err := conductor.ParseAWG(s); !errors.Is(err, calc.ErrRange) {
			t.Errorf("ParseAWG(%q) = %v, %v, want a refusal", s, n, err)
		}
	}
}

func TestAbsurdConductorsAreRefused(t *testing.T) {
	for _, x := range append(calctest.Absurd(), 0) {
		if _, err := conductor.ResistancePerLength(quantity.CrossSection(x), conductor.Class5, 20); !errors.Is(err, calc.ErrRange) {
			t.Errorf("ResistancePerLength(%v mm2): %v", x, err)
		}
		if _, err := conductor.Theoretical(quantity.CrossSection(x), 20); !errors.Is(err, calc.ErrRange) {
			t.Errorf("Theoretical(%v mm2): %v", x, err)
		}
		if _, err := conductor.NearestAWG(quantity.CrossSection(x)); !errors.Is(err, calc.ErrRange) {
			t.Errorf("NearestAWG(%v mm2): %v", x, err)
		}
	}
	for _, x := range []float64{math.NaN(), -273, 251, 1e30, math.Inf(1)} {
		if _, err := conductor.ResistancePerLength(2.5, conductor.Class5, quantity.Temperature(x)); !errors.Is(err, calc.ErrRange) {
			t.Errorf("at %v degC: %v", x, err)
		}
	}
	_, err := conductor.At20(3, conductor.Class5)
	const want = "cross-section, class 5: 3 mm2 is not in the table, allowed 0.14, 0.22, 0.25, 0.34, 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120 mm2"
	if err == nil || err.Error() != want {
		t.Errorf("error reads %q, want %q", err, want)
	}
}

func TestHotterOrThinnerHasMoreResistance(t *testing.T) {
	sizes := conductor.Sizes(conductor.Class5)
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(sizes)-2).Draw(t, "size")
		temp := rapid.Float64Range(-40, 120).Draw(t, "t")
		more := rapid.Float64Range(0, 100).Draw(t, "hotter by")
		a, _ := conductor.ResistancePerLength(sizes[i], conductor.Class5, quantity.Temperature(temp))
		b, _ := conductor.ResistancePerLength(sizes[i+1], conductor.Class5, quantity.Temperature(temp))
		c, _ := conductor.ResistancePerLength(sizes[i], conductor.Class5, quantity.Temperature(temp+more))
		if !(b < a && a <= c) {
			t.Fatalf("%v, %v, %v at %v", a, b, c, temp)
		}
	})
}

// Source: own arithmetic on the areas of ASTM B258: the thinnest even gauge with at least 97 % of the area
// (AWG 20: 0.518 mm2, 18: 0.823, 16: 1.309, 14: 2.08, 12: 3.31, 10: 5.26, 8: 8.37, 6: 13.3, 4: 21.2, 1/0: 53.5).
func TestSoldAWG(t *testing.T) {
	for area, want := range map[quantity.CrossSection]string{0.14: "24", 0.5: "20", 0.75: "18", 1: "16", 1.5: "14", 2.5: "12", 4: "10", 6: "8", 10: "6", 16: "4", 35: "1/0", 50: "1/0", 95: "4/0"} {
		if n, err := conductor.SoldAWG(area); err != nil || n.String() != want {
			t.Errorf("%v mm2: AWG %v, %v, want %s", float64(area), n, err, want)
		}
	}
	if _, err := conductor.SoldAWG(120); !errors.Is(err, calc.ErrRange) {
		t.Errorf("120 mm2: %v, want a refusal", err)
	}
}
