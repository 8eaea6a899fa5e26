package conductor_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/conductor"
	"railwright/internal/quantity"
)

// Source: DIN 46228-4 colours, three pages; sleeve lengths from memory, as the file says.
func TestFerrules(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/ferrules_din46228.csv") {
		area := quantity.CrossSection(calctest.Float(t, row["mm2"]))
		f, err := conductor.FerruleFor(area, false)
		if err != nil {
			t.Fatal(err)
		}
		if area < 0.5 {
			if f.Colour != "" { // pages disagree below 0.5 mm2
				t.Errorf("%v mm2 has a colour: %+v", area, f)
			}
			continue
		}
		if f.Colour != row["collar_colour_din46228_4"] {
			t.Errorf("%v mm2: %s, want %s", area, f.Colour, row["collar_colour_din46228_4"])
		}
		calctest.Near(t, row["mm2"]+" sleeve", f.Sleeve*1000, calctest.Float(t, row["sleeve_len_mm"]), 1e-9)
		calctest.Near(t, row["mm2"]+" strip", f.Strip-f.Sleeve, 0.002, 1e-12) // ferrule_facts: 10 -> 12
	}
	twin, err := conductor.FerruleFor(1.5, true)
	if err != nil || twin.ClampAs != 3 || conductor.WiresPerFerrule(true) != 2 {
		t.Errorf("twin 1.5: %+v, %v", twin, err)
	}
	for _, x := range append(calctest.Absurd(), 0, 51) {
		if _, err := conductor.FerruleFor(quantity.CrossSection(x), false); !errors.Is(err, calc.ErrRange) {
			t.Errorf("%v mm2: %v", x, err)
		}
	}
	if _, err := conductor.FerruleFor(25, true); !errors.Is(err, calc.ErrRange) {
		t.Errorf("twin 25: %v", err)
	}
}

// Source: EN 60439-1 annex A table A.1.
func TestStandardClamp(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/terminal_conductor_range.csv") {
		c, err := conductor.StandardClamp(quantity.Current(calctest.Float(t, row["rated_current_A"])))
		if err != nil {
			t.Fatal(err)
		}
		for name, got := range map[string]quantity.CrossSection{"rigid_min_mm2": c.SolidMin, "rigid_max_mm2": c.SolidMax, "flex_min_mm2": c.FlexibleMin, "flex_max_mm2": c.FlexibleMax} {
			calctest.Near(t, row["rated_current_A"]+" A "+name, got, calctest.Float(t, row[name]), 1e-9)
		}
		for _, end := range []conductor.WireEnd{conductor.Flexible, conductor.Ferruled} {
			at, _ := c.Takes(c.FlexibleMax, end)
			above, _ := c.Takes(c.FlexibleMax+0.1, end)
			if !at || above {
				t.Errorf("%s at the edge: %v, above: %v", end, at, above)
			}
		}
	}
	if _, err := (conductor.ClampRange{}).Takes(1, "twisted"); !errors.Is(err, calc.ErrRange) {
		t.Errorf("twisted: %v", err)
	}
}

// Source: IEC 60757 table 1.
func TestColours(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/colour_codes_iec60757.csv") {
		name, err := conductor.ColourName(row["code"])
		if err != nil {
			t.Fatal(err)
		}
		if code, err := conductor.ColourCode(name); err != nil || code != row["code"] {
			t.Errorf("%s: %s, %v", name, code, err)
		}
		if len(name) > len(row["colour"]) || row["colour"][:len(name)] != name {
			t.Errorf("code %s is %q, want %q", row["code"], name, row["colour"])
		}
	}
	for want, names := range map[string][]string{"RDBU": {"blue", "red"}, "GNYE": {"yellow", "green"}, "BK": {"black"}} {
		if got, err := conductor.CombinedCode(names...); err != nil || got != want {
			t.Errorf("CombinedCode(%v) = %s, %v, want %s", names, got, err, want)
		}
	}
	if _, err := conductor.ColourCode("mauve"); !errors.Is(err, calc.ErrRange) {
		t.Errorf("mauve: %v", err)
	}
}

func TestGlandSealsItsCable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := quantity.Length(rapid.Float64Range(0.003, 0.045).Draw(t, "d"))
		g, err := conductor.GlandFor(d)
		if err != nil || d > g.Max || d < g.Min {
			t.Fatalf("%v m: %+v, %v", d, g, err)
		}
	})
	for _, x := range append(calctest.Absurd(), 0, 0.002, 0.1) {
		if _, err := conductor.GlandFor(quantity.Length(x)); !errors.Is(err, calc.ErrRange) {
			t.Errorf("%v m: %v", x, err)
		}
	}
}

// Own arithmetic: ten cables of 10 mm in 100 x 50 mm: 1000/5000 = 0.2.
func TestTrayFill(t *testing.T) {
	d := make([]quantity.Length, 10)
	for i := range d {
		d[i] = 0.010
	}
	fill, err := conductor.TrayFill(d, 0.1, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, "fill", fill, 0.2, 1e-12)
	if _, err := conductor.TrayFill(d, 0, 0.05); !errors.Is(err, calc.ErrRange) {
		t.Errorf("no width: %v", err)
	}
	r, err := conductor.BendRadius(0.012, conductor.BendScreened)
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, "radius", r, 0.072, 1e-12)
}
