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

// Source: IEC 60204-1:2016 table 6 as printed in two equipment manuals (B1 from memory).
func TestAmpacityIsIEC60204(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/ampacity_iec60204_40degC.csv") {
		area := quantity.CrossSection(calctest.Float(t, row["mm2"]))
		for _, m := range []conductor.Method{conductor.MethodB1, conductor.MethodB2, conductor.MethodC, conductor.MethodE} {
			got, err := conductor.Ampacity(area, conductor.Laying{Method: m, Ambient: 40})
			if err != nil {
				t.Fatal(err)
			}
			calctest.Near(t, row["mm2"]+" "+string(m), got, calctest.Float(t, row[string(m)+"_A"]), 1e-9)
		}
	}
}

// Source: IEC 60204-1 table D.1, two manuals.
func TestAmbientFactorsAreTheirOwn(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/ambient_factor_iec60204.csv") {
		got, err := conductor.AmbientFactor(quantity.Temperature(calctest.Float(t, row["ambient_c"])))
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, row["ambient_c"], got, calctest.Float(t, row["factor_to_40C_table"]), 1e-12)
	}
	for _, row := range calctest.Rows(t, "testdata/ambient_factor_iec60364.csv") {
		if row["pvc70"] == "" {
			continue
		}
		got, err := conductor.BuildingAmbientFactor(quantity.Temperature(calctest.Float(t, row["ambient_c"])))
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, row["ambient_c"], got, calctest.Float(t, row["pvc70"]), 1e-12)
		calctest.Near(t, row["ambient_c"]+" formula", got, calctest.Float(t, row["formula_pvc"]), 0.006)
	}
}

// Second way: between rows the chord stays at or below sqrt((70-T)/30), but for the rounding of
// the printed rows.
func TestInterpolatedAmbientIsSafe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temp := rapid.Float64Range(30, 60).Draw(t, "ambient")
		f, err := conductor.AmbientFactor(quantity.Temperature(temp))
		if err != nil {
			t.Fatal(err)
		}
		if exact := math.Sqrt((70 - temp) / 30); f > exact+0.006 {
			t.Fatalf("%v degC: %v above %v", temp, f, exact)
		}
	})
}

// Source: IEC 60364-5-52 table B.52.17.
func TestGroupingFactors(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/grouping_factor.csv") {
		n := int(calctest.Float(t, row["circuits"]))
		if n == 10 || n == 14 || n == 18 {
			continue // interpolated entries of a transcription, not in the standard's table
		}
		for column, m := range map[string]conductor.Method{"item1_bunched": conductor.MethodB2, "item2_single_layer_wall": conductor.MethodC, "item4_perforated_tray": conductor.MethodE} {
			if row[column] == "" {
				continue
			}
			got, err := conductor.GroupingFactor(m, n)
			if err != nil {
				t.Fatal(err)
			}
			calctest.Near(t, row["circuits"]+" "+column, got, calctest.Float(t, row[column]), 1e-12)
		}
	}
	// Counts between rows take the next larger row.
	if f, _ := conductor.GroupingFactor(conductor.MethodB1, 10); f != 0.45 {
		t.Errorf("10 circuits: %v, want 0.45 (row 12)", f)
	}
}

// Source: IEC 60364-5-52 tables B.52.2 and B.52.4.
func TestBuildingAmpacity(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/ampacity_iec60364_30degC.csv") {
		area := quantity.CrossSection(calctest.Float(t, row["mm2"]))
		for _, m := range []conductor.Method{"A1", "A2", "B1", "B2", "C", "E"} {
			for loaded, suffix := range map[int]string{2: "_2", 3: "_3"} {
				cell := row[string(m)+suffix]
				r, err := conductor.RateBuilding(area, loaded, conductor.Laying{Method: m, Ambient: 30})
				if cell == "" {
					if !errors.Is(err, calc.ErrRange) {
						t.Errorf("%v mm2 %s: %v, want a refusal", area, m, err)
					}
					continue
				}
				if err != nil {
					t.Fatal(err)
				}
				calctest.Near(t, row["mm2"]+" "+string(m)+suffix, r.Ampacity, calctest.Float(t, cell), 1e-9)
			}
		}
	}
}

// Second way: the standard's 40 degC values are the 30 degC values of three loaded conductors times
// sqrt(30/40) = 0.87, within the rounding of the tables.
func TestTheTwoSystemsAgree(t *testing.T) {
	for _, area := range []quantity.CrossSection{1.5, 2.5, 4, 6, 10, 16, 25, 35} {
		for _, m := range []conductor.Method{conductor.MethodB1, conductor.MethodB2, conductor.MethodC, conductor.MethodE} {
			machine, err := conductor.Ampacity(area, conductor.Laying{Method: m, Ambient: 40})
			if err != nil {
				t.Fatal(err)
			}
			building, err := conductor.RateBuilding(area, 3, conductor.Laying{Method: m, Ambient: 40})
			if err != nil {
				t.Fatal(err)
			}
			calctest.Near(t, string(m)+" "+quantity.Short(float64(area)), machine, float64(building.Ampacity), 0.03*float64(machine))
		}
	}
}

// Own arithmetic: 2.5 mm2, B2, 50 degC, 3 circuits: 17.4 * 0.82 * 0.7 = 9.9876 A.
func TestRateShowsItsFactors(t *testing.T) {
	r, err := conductor.Rate(2.5, conductor.Laying{Method: conductor.MethodB2, Ambient: 50, Circuits: 3})
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, "Iz", r.Ampacity, 9.9876, 1e-9)
	if r.Base != 17.4 || r.Ambient != 0.82 || r.Grouping != 0.7 || r.Multicore != 1 {
		t.Errorf("factors %+v", r)
	}
}

func TestSmallestForCarries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := quantity.Current(rapid.Float64Range(0, 60).Draw(t, "i"))
		l := conductor.Laying{
			Method:   rapid.SampledFrom([]conductor.Method{"B1", "B2", "C", "E"}).Draw(t, "method"),
			Ambient:  quantity.Temperature(rapid.Float64Range(0, 60).Draw(t, "ambient")),
			Circuits: rapid.IntRange(0, 9).Draw(t, "circuits"),
		}
		area, r, err := conductor.SmallestFor(i, conductor.Class5, l)
		if err != nil {
			t.Skip(err)
		}
		if r.Ampacity < i {
			t.Fatalf("%v mm2 carries %v, asked %v", area, r.Ampacity, i)
		}
		hotter := l
		hotter.Ambient = min(60, l.Ambient+5)
		if rr, err := conductor.Rate(area, hotter); err == nil && rr.Ampacity > r.Ampacity {
			t.Fatalf("hotter air carries more: %v, %v", rr, r)
		}
	})
}

func TestAbsurdLayingIsRefused(t *testing.T) {
	good := conductor.Laying{Method: conductor.MethodC, Ambient: 40}
	for _, x := range append(calctest.Absurd(), 0) {
		if _, err := conductor.Ampacity(quantity.CrossSection(x), good); !errors.Is(err, calc.ErrRange) {
			t.Errorf("%v mm2: %v", x, err)
		}
	}
	for _, l := range []conductor.Laying{
		{Method: conductor.MethodC, Ambient: 61},
		{Method: conductor.MethodC, Ambient: quantity.Temperature(math.NaN())},
		{Method: "Z", Ambient: 40},
		{Ambient: 40},
		{Method: conductor.MethodA1, Ambient: 40},
		{Method: conductor.MethodC, Ambient: 40, Circuits: -1},
		{Method: conductor.MethodC, Ambient: 40, LoadedCores: -1},
	} {
		if _, err := conductor.Ampacity(2.5, l); !errors.Is(err, calc.ErrRange) {
			t.Errorf("%+v: %v", l, err)
		}
	}
	if _, _, err := conductor.SmallestFor(5000, conductor.Class5, good); !errors.Is(err, calc.ErrRange) {
		t.Errorf("5000 A: %v", err)
	}
}
