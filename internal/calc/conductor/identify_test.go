package conductor_test

import (
	"errors"
	"testing"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/conductor"
)

// Source: the identification file (protective conductor and functional earth seen, others memory).
func TestIdentify(t *testing.T) {
	rows := map[string]string{}
	for _, row := range calctest.Rows(t, "testdata/identification.csv") {
		rows[row["rule"]] = row["value"]
	}
	for use, c := range map[conductor.Use]struct{ row, colour string }{
		conductor.ProtectiveEarth: {"protective conductor", "green-and-yellow"}, conductor.FunctionalEarth: {"functional earth", "pink"}, conductor.Neutral: {"neutral / mid conductor", "blue"},
	} {
		id, err := conductor.Identify(use)
		if err != nil || id.Colour != c.colour || len(rows[c.row]) < len(c.colour) || rows[c.row][:len(c.colour)] != c.colour {
			t.Errorf("%s: %+v, %v; the file says %q", use, id, err, rows[c.row])
		}
	}
	for _, use := range []conductor.Use{"L1", "L2", "L3", "L+", "L-", "power", "AC control", "DC control", "excepted"} {
		id, err := conductor.Identify(use)
		if err != nil || id.Only {
			t.Errorf("%s: %+v, %v", use, id, err)
		}
		if _, err := conductor.ColourCode(id.Colour); err != nil {
			t.Errorf("%s: %v", use, err)
		}
	}
	if _, err := conductor.Identify("X"); !errors.Is(err, calc.ErrRange) {
		t.Errorf("X: %v", err)
	}
}

// Own arithmetic on the practice of 150 mm per class.
func TestSeparation(t *testing.T) {
	for _, c := range []struct {
		a, b    conductor.Disturbance
		divided bool
		want    float64
	}{{1, 1, false, 0}, {1, 4, false, 0.45}, {4, 2, false, 0.3}, {1, 3, true, 0.1}} {
		got, err := conductor.Separation(c.a, c.b, c.divided)
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, "separation", got, c.want, 1e-12)
	}
	if _, err := conductor.Separation(0, 2, false); !errors.Is(err, calc.ErrRange) {
		t.Errorf("class 0: %v", err)
	}
}
