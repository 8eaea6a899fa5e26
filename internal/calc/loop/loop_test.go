package loop_test

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/loop"
	"railwright/internal/quantity"
)

const examples = "testdata/worked_examples.csv"

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func second[T any](_ T, err error) error { return err }

func TestWorkedLoops(t *testing.T) {
	ex := func(id string) map[string]string { return calctest.Example(t, examples, id) }
	// The pages size at 20 mA, and LOOP-03/-04 ignore the transmitter's own voltage.
	calctest.Published(t, ex("LOOP-01"), must(loop.TwoWire{Supply: 24, Needed: 12, Current: 0.020}.Solve()).MaxLoad)
	r := must(loop.TwoWire{Supply: 24, Current: 0.020, Input: 250, HART: 500}.Solve())
	calctest.Published(t, ex("LOOP-03"), r.MaxCable)
	calctest.Published(t, ex("LOOP-04"), float64(r.MaxCable)/42)
	rc := must(loop.HARTTimeConstant(250+7.36, 68e-9, 100e-12, 100))
	calctest.Published(t, ex("HART-01"), rc*1e6)
	// HART-02: the capacitance that 65 us leaves for 280 + 250 + 7.36 ohm.
	calctest.Published(t, ex("HART-02"), float64(loop.HARTMaxRC)/537.36*1e9)
}

// Second way: the loop node by node. Nodes: after the barrier, after the first core, after the
// transmitter, after the second core, after the resistor; the module's input leads to 0 V. The
// transmitter is a current source of 22 mA.
func TestTwoWireNodeByNode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		l := loop.TwoWire{
			Supply: quantity.Voltage(draw("supply", 15, 30)), Needed: quantity.Voltage(draw("needed", 8, 14)), Input: quantity.Resistance(draw("input", 50, 300)),
			Cable: quantity.Resistance(draw("cable", 0.1, 200)), HART: quantity.Resistance(draw("hart", 1, 250)), Barrier: quantity.Resistance(draw("barrier", 1, 400)), Surge: quantity.Resistance(draw("surge", 0.1, 20)),
		}
		series := []float64{float64(l.Barrier), float64(l.Cable) / 2, 0, float64(l.Cable) / 2, float64(l.HART + l.Surge), float64(l.Input)}
		const n = 5
		g := mat.NewDense(n, n, nil)
		rhs := mat.NewVecDense(n, nil)
		join := func(a, b int, r float64) { // -1: supply, n: 0 V
			c := 1 / r
			for _, p := range [][2]int{{a, b}, {b, a}} {
				if p[0] < 0 || p[0] >= n {
					continue
				}
				g.Set(p[0], p[0], g.At(p[0], p[0])+c)
				switch {
				case p[1] == -1:
					rhs.SetVec(p[0], rhs.AtVec(p[0])+c*float64(l.Supply))
				case p[1] < n:
					g.Set(p[0], p[1], g.At(p[0], p[1])-c)
				}
			}
		}
		for k, r := range series {
			if k == 2 { // the transmitter, between nodes 1 and 2
				rhs.SetVec(1, rhs.AtVec(1)-0.022)
				rhs.SetVec(2, rhs.AtVec(2)+0.022)
				continue
			}
			join(k-1, k, r)
		}
		var u mat.VecDense
		if err := u.SolveVec(g, rhs); err != nil {
			t.Fatal(err)
		}
		want := u.AtVec(1) - u.AtVec(2)
		got := must(l.Solve())
		if math.Abs(float64(got.AtTransmitter)-want) > 1e-7 {
			t.Fatalf("%v, node by node %v", got.AtTransmitter, want)
		}
		declared := loop.FormulaTransmitterVoltage.Eval([]float64{float64(l.Supply), 0, 22, float64(l.Input), 100, float64(l.Cable) / 2 / 100 * 1000, float64(l.HART + l.Barrier + l.Surge)})
		if math.Abs(declared-want) > 1e-7 {
			t.Fatalf("declared formula %v, node by node %v", declared, want)
		}
		if got.MaxCable > 0 {
			l.Cable = got.MaxCable
			if m := must(l.Solve()).Margin; math.Abs(float64(m)) > 1e-9 {
				t.Fatalf("margin %v at the longest cable", m)
			}
		}
	})
}

// Source: rows NE43 of the file (3 pages agree).
func TestNE43(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/signal_levels.csv") {
		if row["item"] != "NE43" {
			continue
		}
		var a, b float64
		switch row["parameter"] {
		case "measurement range":
			if _, err := fmt.Sscanf(row["value"], "3.8..%f", &b); err != nil {
				t.Fatal(err)
			}
			a = 3.8
			for _, mA := range []float64{a, 4, 12, 20, b} {
				if s := must(loop.Classify(quantity.Current(mA / 1000))); s != loop.Measurement {
					t.Errorf("%v mA: %s", mA, s)
				}
			}
		case "fail low":
			if _, err := fmt.Sscanf(row["value"], "<=%f", &a); err != nil {
				t.Fatal(err)
			}
			if s := must(loop.Classify(quantity.Current(a / 1000))); s != loop.FailureLow {
				t.Errorf("%v mA: %s", a, s)
			}
		case "fail high":
			if _, err := fmt.Sscanf(row["value"], ">=%f", &a); err != nil {
				t.Fatal(err)
			}
			if s := must(loop.Classify(quantity.Current(a / 1000))); s != loop.FailureHigh {
				t.Errorf("%v mA: %s", a, s)
			}
		}
	}
	for mA, want := range map[float64]loop.State{0: loop.FailureLow, 3.7: loop.BelowRange, 20.8: loop.AboveRange, 22: loop.FailureHigh} {
		if s := must(loop.Classify(quantity.Current(mA / 1000))); s != want {
			t.Errorf("%v mA: %s, want %s", mA, s, want)
		}
	}
}

// Source: IEC 61131-2 table 7 (see ByType) and IEC 60947-5-2: the worst 2-wire switch leaks 1.5 mA,
// three times what a type 1 input takes for a "0", and needs 5 mA where types 1 and 3 draw 2.
func TestTwoWireSwitchOnEachType(t *testing.T) {
	for n, want := range map[int]struct{ on, off, current bool }{1: {false, false, false}, 2: {true, true, true}, 3: {true, true, false}} {
		in := loop.SwitchedInput{Supply: 20.4, Switch: loop.TwoWireSwitch, Input: must(loop.ByType(n))}
		r := must(in.Solve())
		if r.OnMargin >= 0 != want.on || r.OffMargin >= 0 != want.off || r.CurrentMargin >= 0 != want.current {
			t.Errorf("type %d: %+v", n, r)
		}
	}
	// Bleeder, own arithmetic: 5 V / (1.5 - 0.5 mA) = 5 kohm, 28.8 V squared over it = 0.166 W.
	r := must(loop.SwitchedInput{Supply: 24, Switch: loop.TwoWireSwitch, Input: must(loop.ByType(1))}.Solve())
	calctest.Near(t, "bleeder", r.Bleeder, 5000, 1e-6)
	calctest.Near(t, "power", r.BleederPower, 0.165888, 1e-6)
	if c := must(loop.SwitchedInput{Supply: 20.4, Input: must(loop.ByType(1)), Cable: 50}.Solve()); !c.OK() {
		t.Errorf("a dry contact on type 1: %+v", c)
	}
}

// Source: IEC 60947-5-6: sensors guarantee at most 1.0 and at least 2.2 mA; thresholds 1.2 and 2.1.
func TestNAMUR(t *testing.T) {
	for mA, want := range map[float64]loop.NAMUR{0.03: loop.NAMURBreak, 1.0: loop.NAMURBlocked, 1.2: loop.NAMURBlocked, 1.6: loop.NAMURUndecided, 2.1: loop.NAMURConducts, 2.2: loop.NAMURConducts, 6.5: loop.NAMURShort} {
		if got := must(loop.ClassifyNAMUR(quantity.Current(mA / 1000))); got != want {
			t.Errorf("%v mA: %s, want %s", mA, got, want)
		}
	}
	calctest.Near(t, "short on no line", must(loop.NAMURCurrent(0, 0)), 0.0082, 1e-12)
	calctest.Near(t, "1.85 kohm on 50 ohm", must(loop.NAMURCurrent(50, 1850)), 8.2/2900, 1e-12)
}

func TestOutput(t *testing.T) {
	// A 24 V, 0.5 A valve that needs 21.6 V (-10 %) on 150 m of 1.5 mm2 at 15.9 ohm/km hot, own
	// arithmetic: 2*0.15*15.9*0.5 = 2.385 V, 24 - 0.5 - 2.385 = 21.115 V.
	o := loop.Output{Kind: loop.Inductive, Current: 0.5, Supply: 24, Drop: 0.5, Cable: 2 * 0.15 * 15.9, MinVoltage: 21.6, Rated: 0.5, Inductance: 1.2, Rate: 2, Leakage: 0.0005, Release: 2.4}
	r := must(o.Solve())
	calctest.Near(t, "at the valve", r.AtLoad, 21.115, 1e-9)
	calctest.Near(t, "energy", r.Energy, 0.15, 1e-12)
	calctest.Near(t, "loss", r.ClampLoss, 0.3, 1e-12)
	if r.VoltageMargin >= 0 || !r.NeedsClamp || r.MayHold {
		t.Errorf("%+v", r)
	}
	lamp := must(loop.Output{Kind: loop.Lamp, Current: 0.2, Supply: 24, Rated: 0.5, Peak: 1.5}.Solve())
	if lamp.Inrush != 2 || lamp.InrushMargin >= 0 {
		t.Errorf("5 W lamp on a 0.5 A channel: %+v", lamp)
	}
}

// Second way: the cable's capacitor charged step by step.
func TestPulseLineStepByStep(t *testing.T) {
	p := loop.PulseLine{Charge: 2200, Discharge: 3300, Length: 400, Supply: 24, On: 11, Off: 5, Filter: 10e-6}
	r := must(p.Solve())
	c := 300e-12 * 400
	u, rise := 0.0, 0.0
	const h = 1e-8
	for ; u < 11; rise += h {
		u += (24 - u) / (2200 * c) * h
	}
	fall := 0.0
	for u = 24; u > 5; fall += h {
		u -= u / (3300 * c) * h
	}
	calctest.Near(t, "rise", r.Rise, rise, 1e-3*rise)
	calctest.Near(t, "fall", r.Fall, fall, 1e-3*fall)
	calctest.Near(t, "frequency", r.MaxFrequency, 1/(2*(math.Max(rise, fall)+10e-6)), 1e-2*float64(r.MaxFrequency))
	declared := loop.FormulaRiseTime.Eval([]float64{2200, 300, 400, 24, 11})
	calctest.Near(t, "declared rise", r.Rise*1e6, declared, 1e-9*declared)
}

// Second way: the divider with complex impedances; and the remedies sit on the edge.
func TestACLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := loop.ACLine{
			Supply: quantity.Voltage(rapid.Float64Range(207, 253).Draw(t, "u")), Frequency: rapid.SampledFrom([]quantity.Frequency{50, 60}).Draw(t, "f"),
			Length: quantity.Length(rapid.Float64Range(1, 3000).Draw(t, "l")), Input: must(loop.ByMains(230)),
		}
		r := must(a.Solve())
		z := complex(0, -1/(2*math.Pi*float64(a.Frequency)*300e-12*float64(a.Length)))
		u := func(rin float64) float64 {
			return cmplx.Abs(complex(float64(a.Supply), 0) * complex(rin, 0) / (complex(rin, 0) + z))
		}
		if got := u(20000); math.Abs(got-float64(r.AtInput)) > 1e-9*got {
			t.Fatalf("%v, by impedances %v", r.AtInput, got)
		}
		if r.MaxBleeder > 0 {
			both := 1 / (1.0/20000 + 1/float64(r.MaxBleeder))
			if got := u(both); math.Abs(got-40) > 1e-6 {
				t.Fatalf("with the bleeder %v V", got)
			}
		}
		a.Length = r.Longest
		if at := must(a.Solve()).AtInput; math.Abs(float64(at)-40) > 1e-6 {
			t.Fatalf("at the longest line %v V", at)
		}
	})
}

func TestRoles(t *testing.T) {
	for _, c := range []struct {
		a, b loop.Role
		want loop.Match
	}{{loop.Active, loop.Active, loop.TwoSources}, {loop.Passive, loop.Passive, loop.NoSource}, {loop.Active, loop.Passive, loop.Fits}, {loop.Passive, loop.Active, loop.Fits}} {
		if got := must(loop.Powered(c.a, c.b)); got != c.want {
			t.Errorf("%s on %s: %s", c.a, c.b, got)
		}
	}
	for _, c := range []struct {
		a, b loop.Side
		want loop.Match
	}{{loop.SwitchesPlus, loop.ExpectsPlus, loop.Fits}, {loop.SwitchesMinus, loop.ExpectsPlus, loop.Opposed}, {loop.SwitchesPlus, loop.ExpectsMinus, loop.Opposed}, {loop.Contact, loop.ExpectsMinus, loop.Fits}} {
		if got := must(loop.Polarity(c.a, c.b)); got != c.want {
			t.Errorf("%s on %s: %s", c.a, c.b, got)
		}
	}
	if !loop.EarthFaultReadsOne(true, loop.SwitchesMinus) || loop.EarthFaultReadsOne(true, loop.SwitchesPlus) || loop.EarthFaultReadsOne(false, loop.SwitchesMinus) {
		t.Error("NPN with earthed 0 V")
	}
	for _, err := range []error{second(loop.Powered("", loop.Active)), second(loop.Polarity(loop.ExpectsPlus, loop.ExpectsPlus)), second(loop.Polarity(loop.Contact, "x"))} {
		if !errors.Is(err, calc.ErrRange) {
			t.Errorf("%v", err)
		}
	}
}

func TestMoreCableNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cable := quantity.Resistance(rapid.Float64Range(0, 500).Draw(t, "cable"))
		more := cable + quantity.Resistance(rapid.Float64Range(0, 500).Draw(t, "more"))
		l := loop.TwoWire{Supply: 20, Needed: 10, Input: 250, Cable: cable}
		lm := l
		lm.Cable = more
		if must(lm.Solve()).Margin > must(l.Solve()).Margin {
			t.Fatal("loop")
		}
		if must(loop.OutputMargin(600, 250, more, 0)) > must(loop.OutputMargin(600, 250, cable, 0)) {
			t.Fatal("output")
		}
		len1, len2 := quantity.Length(cable)*5, quantity.Length(more)*5
		p := loop.PulseLine{Charge: 1000, Length: len1, Supply: 24, On: 11, Off: 5}
		q := p
		q.Length = len2
		if a, b := must(p.Solve()), must(q.Solve()); a.MaxFrequency > 0 && b.MaxFrequency > a.MaxFrequency {
			t.Fatal("counter")
		}
		if a, b := must(loop.HARTLength(250+cable, 5e-9, 100e-12)), must(loop.HARTLength(250+more, 5e-9, 100e-12)); b > a {
			t.Fatal("HART")
		}
		if a, b := must(loop.VoltageSignalError(0, cable, 100000)), must(loop.VoltageSignalError(0, more, 100000)); b < a {
			t.Fatal("voltage signal")
		}
	})
}

func TestAbsurdLoopsAreRefused(t *testing.T) {
	for _, x := range calctest.Absurd() {
		v, i, r, l := quantity.Voltage(x), quantity.Current(x), quantity.Resistance(x), quantity.Length(x)
		in := must(loop.ByType(3))
		for name, err := range map[string]error{
			"supply":     second(loop.TwoWire{Supply: v}.Solve()),
			"needed":     second(loop.TwoWire{Supply: 24, Needed: v}.Solve()),
			"current":    second(loop.TwoWire{Supply: 24, Current: i}.Solve()),
			"cable":      second(loop.TwoWire{Supply: 24, Cable: r}.Solve()),
			"max load":   second(loop.OutputMargin(r, 1, 1, 1)),
			"classify":   second(loop.Classify(i)),
			"hart":       second(loop.HARTTimeConstant(250, 0, 0, l)),
			"hart r":     second(loop.HARTLength(r, 0, 1e-10)),
			"divider":    second(loop.VoltageSignalError(r, 1, 1)),
			"di supply":  second(loop.SwitchedInput{Supply: v, Input: in}.Solve()),
			"di leakage": second(loop.SwitchedInput{Supply: 24, Input: in, Switch: loop.Switch{Leakage: i}}.Solve()),
			"namur":      second(loop.ClassifyNAMUR(i)),
			"namur line": second(loop.NAMURCurrent(r, 1)),
			"do":         second(loop.Output{Kind: loop.Resistive, Supply: 24, Rated: 1, Current: i}.Solve()),
			"do rated":   second(loop.Output{Kind: loop.Resistive, Supply: 24, Rated: i}.Solve()),
			"pulse":      second(loop.PulseLine{Charge: r, Supply: 24, On: 11, Off: 5}.Solve()),
			"pulse l":    second(loop.PulseLine{Length: l, Supply: 24, On: 11, Off: 5}.Solve()),
			"ac":         second(loop.ACLine{Supply: v, Input: must(loop.ByMains(230))}.Solve()),
			"ac length":  second(loop.ACLine{Supply: 230, Length: l, Input: must(loop.ByMains(230))}.Solve()),
		} {
			if !errors.Is(err, calc.ErrRange) {
				t.Errorf("%s %v: %v, want a refusal", name, x, err)
			}
		}
	}
	for _, err := range []error{second(loop.ByType(4)), second(loop.ByMains(400)), second(loop.Output{Kind: "odd", Supply: 24, Rated: 1}.Solve())} {
		if !errors.Is(err, calc.ErrRange) {
			t.Errorf("%v", err)
		}
	}
}
