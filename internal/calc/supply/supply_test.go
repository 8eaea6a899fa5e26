package supply_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/supply"
	"railwright/internal/quantity"
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func second[T any](_ T, err error) error { return err }

func TestTotal(t *testing.T) {
	full, part, err := supply.Total([]supply.Item{{Name: "coupler", Each: 0.3, Count: 1}, {Name: "DO", Each: 0.5, Count: 8, Coincidence: 0.5}})
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, "full", full, 4.3, 1e-12)
	calctest.Near(t, "coincident", part, 2.3, 1e-12)
	_, _, err = supply.Total([]supply.Item{{Name: "a", Each: -1}, {Name: "b", Count: 1}, {Name: "c", Each: 1, Count: -1}})
	const want = "line 1 (a): current: -1 A is out of range, allowed 0 to 200000 A\nline 3 (c): count: -1 is out of range, allowed 0 to 1e+06"
	if err == nil || err.Error() != want {
		t.Errorf("got %q, want %q", err, want)
	}
}

// Own arithmetic: 10 A, 2.5 %/K above 60 degC: 8.75 A at 65, nothing above 70 degC.
func TestDerated(t *testing.T) {
	d := supply.Derating{Start: 60, PerKelvin: 0.025, Limit: 70}
	for ambient, want := range map[quantity.Temperature]float64{25: 10, 60: 10, 65: 8.75, 70: 7.5, 70.1: 0} {
		calctest.Near(t, "derated", must(supply.Derated(10, ambient, d)), want, 1e-9)
	}
}

func TestUnits(t *testing.T) {
	for _, c := range []struct {
		need, each quantity.Current
		redundant  int
		want       int
	}{{0, 10, 0, 1}, {20, 10, 0, 2}, {20.1, 10, 0, 3}, {9, 10, 1, 2}, {0.1 + 0.2, 0.3, 0, 1}} {
		if got := must(supply.Units(c.need, c.each, c.redundant)); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// Second way: a load of constant power discharges a capacitor, step by step.
func TestHoldupStepByStep(t *testing.T) {
	const c, p, eta = 2.0, 40.0, 0.9
	u, time := 23.0, 0.0
	for h := 1e-4; u > 12; time += h {
		u -= p / eta / u / c * h
	}
	got := must(supply.Holdup(c, 23, 12, p, eta))
	calctest.Near(t, "hold-up", got, time, 1e-3*time)
	calctest.Near(t, "and back", must(supply.HoldupCapacitance(p, got, 23, 12, eta)), c, 1e-9)
}

// Own arithmetic: 7 Ah at 24 V feed 84 W (3.5 A) two hours without any losses.
func TestBattery(t *testing.T) {
	calctest.Near(t, "plain", must(supply.Battery(7, 24, 84, supply.BatteryUse{})), 7200, 1e-6)
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0.3, 1)
		use := supply.BatteryUse{
			Depth: share.Draw(t, "depth"), Ageing: share.Draw(t, "ageing"), Cold: share.Draw(t, "cold"), Efficiency: share.Draw(t, "eta"),
			Peukert: rapid.Float64Range(1, 1.4).Draw(t, "k"),
		}
		ah := rapid.Float64Range(1, 200).Draw(t, "Ah")
		p := quantity.Power(rapid.Float64Range(1, 500).Draw(t, "p"))
		time := must(supply.Battery(ah, 24, p, use))
		if time > 1e8 || time == 0 {
			t.Skip()
		}
		if back := must(supply.BatteryCapacity(p, time, 24, use)); math.Abs(back-ah) > 1e-9*ah {
			t.Fatalf("%v Ah back as %v", ah, back)
		}
		if must(supply.Battery(ah, 24, p*1.1, use)) > time {
			t.Fatal("a larger load lasts longer")
		}
	})
}

// Own arithmetic: 240 W at 90 % from 230 V, cos phi 0.95: 240/(0.9*230*0.95) = 1.2204 A; loss 26.67 W.
func TestFeederCurrent(t *testing.T) {
	calctest.Near(t, "single", must(supply.InputCurrent(1, 240, 0.9, 230, 0.95)), 1.22045, 1e-4)
	calctest.Near(t, "three", must(supply.InputCurrent(3, 480, 0.92, 400, 0.6)), 480/(math.Sqrt(3)*0.92*400*0.6), 1e-9)
	calctest.Near(t, "loss", must(supply.Loss(240, 0.9)), 26.6667, 1e-3)
	i, tau, err := supply.Inrush(325, 10, 150e-6)
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, "inrush", i, 32.5, 1e-9)
	calctest.Near(t, "tau", tau, 0.0015, 1e-12)
	calctest.Near(t, "start", must(supply.StartTime(0.02, 24, 12, 8)), 0.12, 1e-9)
	if err := second(supply.StartTime(0.02, 24, 8, 8)); !errors.Is(err, calc.ErrRange) {
		t.Errorf("a load that takes all: %v", err)
	}
}

func TestAbsurdSuppliesAreRefused(t *testing.T) {
	d := supply.Derating{Start: 60, PerKelvin: 0.025, Limit: 70}
	for _, x := range calctest.Absurd() {
		v, i, p := quantity.Voltage(x), quantity.Current(x), quantity.Power(x)
		errs := map[string]error{
			"required": second(supply.Required(i, 0.2)), "margin": second(supply.Required(1, x)), "derated": second(supply.Derated(i, 25, d)),
			"units": second(supply.Units(i, 1, 0)), "each": second(supply.Units(1, i, 0)), "loss": second(supply.Loss(p, 0.9)), "eta": second(supply.Loss(1, x)),
			"holdup c": second(supply.Holdup(quantity.Capacitance(x), 24, 12, 1, 1)), "holdup u": second(supply.Holdup(1, v, 12, 1, 1)), "holdup end": second(supply.Holdup(1, 24, v, 1, 1)),
			"capacity": second(supply.HoldupCapacitance(p, 1, 24, 12, 1)), "battery": second(supply.Battery(x, 24, 1, supply.BatteryUse{})),
			"battery p": second(supply.Battery(1, 24, p, supply.BatteryUse{})), "depth": second(supply.Battery(1, 24, 1, supply.BatteryUse{Depth: x})),
			"autonomy": second(supply.BatteryCapacity(1, quantity.Duration(x), 24, supply.BatteryUse{})), "mains": second(supply.InputCurrent(1, 1, 0.9, v, 1)),
			"start": second(supply.StartTime(quantity.Capacitance(x), 24, 12, 8)),
		}
		if x != -1 {
			errs["ambient"] = second(supply.Derated(1, quantity.Temperature(x), d))
		}
		for name, err := range errs {
			if !errors.Is(err, calc.ErrRange) {
				t.Errorf("%s %v: %v, want a refusal", name, x, err)
			}
		}
	}
	if err := second(supply.Units(200_000, 0.001, 0)); !errors.Is(err, calc.ErrRange) {
		t.Errorf("millions of units: %v", err)
	}
}

// Own arithmetic: 24.1 V, 1 %, a diode of 0.6 V: 23.259 V.
func TestLowest(t *testing.T) {
	calctest.Near(t, "lowest", must(supply.Lowest(24.1, 0.01, 0.6)), 23.259, 1e-9)
	for _, x := range calctest.Absurd() {
		if err := second(supply.Lowest(quantity.Voltage(x), 0.01, 0)); !errors.Is(err, calc.ErrRange) {
			t.Errorf("%v V: %v", x, err)
		}
		if err := second(supply.Lowest(24, x, 0)); !errors.Is(err, calc.ErrRange) {
			t.Errorf("tolerance %v: %v", x, err)
		}
	}
}
