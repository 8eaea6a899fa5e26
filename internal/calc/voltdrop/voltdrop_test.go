package voltdrop_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/calctest"
	"railwright/internal/calc/conductor"
	"railwright/internal/calc/voltdrop"
	"railwright/internal/quantity"
)

const examples = "testdata/worked_examples.csv"

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func TestWorkedExamples(t *testing.T) {
	ex := func(id string) map[string]string { return calctest.Example(t, examples, id) }
	// PWR-01: 8 x 8 W + 4 x 17 W at 24 V are 5.5 A; 7.41 ohm/km is IEC 60228 class 2, 2.5 mm2.
	r := must(conductor.ResistancePerLength(2.5, conductor.Class2, 20))
	calctest.Published(t, ex("PWR-01"), must(voltdrop.Drop(380, r, 5.5)))
	calctest.Published(t, ex("PWR-02"), must(voltdrop.LoopResistance(380, r)))
	// PWR-04: 4.99 ohm per 1000 ft; only the product of feet and ohm per foot counts.
	calctest.Published(t, ex("PWR-04"), must(voltdrop.Drop(100, 4.99e-3, 4)))
	// PWR-05 and -08: 5 m out and back, theoretical copper at 20 and 30 degC.
	calctest.Published(t, ex("PWR-05"), must(voltdrop.Drop(5, must(conductor.Theoretical(2.5, 20)), 20)))
	calctest.Published(t, ex("PWR-07"), must(conductor.Theoretical(1, 30))*1000)
	calctest.Published(t, ex("PWR-08"), must(voltdrop.Drop(5, must(conductor.Theoretical(2.5, 30)), 20)))
}

// nodal solves a tree of feeders node by node: conductance matrix, loads as current sinks and
// resistors, by general linear algebra. It shares no code with the package.
func nodal(source float64, branches []voltdrop.Branch) []float64 {
	n := len(branches)
	g := mat.NewDense(n, n, nil)
	rhs := mat.NewVecDense(n, nil)
	for k, b := range branches {
		c := 1 / float64(b.Loop)
		g.Set(k, k, g.At(k, k)+c)
		if p := b.Parent; p >= 0 {
			g.Set(p, p, g.At(p, p)+c)
			g.Set(k, p, g.At(k, p)-c)
			g.Set(p, k, g.At(p, k)-c)
		} else {
			rhs.SetVec(k, rhs.AtVec(k)+c*source)
		}
		rhs.SetVec(k, rhs.AtVec(k)-float64(b.Load.Current))
		if b.Load.Resistance > 0 {
			g.Set(k, k, g.At(k, k)+1/float64(b.Load.Resistance))
		}
	}
	var u mat.VecDense
	if err := u.SolveVec(g, rhs); err != nil {
		panic(err)
	}
	return u.RawVector().Data
}

func drawTree(t *rapid.T) []voltdrop.Branch {
	n := rapid.IntRange(1, 12).Draw(t, "branches")
	bs := make([]voltdrop.Branch, n)
	for k := range bs {
		bs[k] = voltdrop.Branch{
			Parent: rapid.IntRange(-1, k-1).Draw(t, "parent"),
			Loop:   quantity.Resistance(rapid.Float64Range(0.001, 3).Draw(t, "loop")),
			Load:   voltdrop.Load{Current: quantity.Current(rapid.Float64Range(0, 2).Draw(t, "i"))},
		}
		if rapid.Bool().Draw(t, "resistor") {
			bs[k].Load.Resistance = quantity.Resistance(rapid.Float64Range(1, 1000).Draw(t, "r"))
		}
	}
	return bs
}

func TestTreeAgainstNodeByNode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		source := rapid.Float64Range(5, 60).Draw(t, "source")
		bs := drawTree(t)
		nodes, err := voltdrop.Tree(quantity.Voltage(source), bs)
		if err != nil {
			t.Fatal(err)
		}
		for k, want := range nodal(source, bs) {
			if math.Abs(float64(nodes[k].Voltage)-want) > 1e-8*(1+math.Abs(want)) {
				t.Fatalf("node %d: %v, node by node %v", k, nodes[k].Voltage, want)
			}
		}
	})
}

// Kirchhoff: what leaves the source is what the loads take, with loads of every kind.
func TestTreeBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bs := drawTree(t)
		for k := range bs {
			bs[k].Load.Power = quantity.Power(rapid.Float64Range(0, 5).Draw(t, "p"))
		}
		nodes, err := voltdrop.Tree(48, bs)
		if errors.Is(err, voltdrop.ErrCollapse) {
			t.Skip()
		}
		if err != nil {
			t.Fatal(err)
		}
		for k, b := range bs {
			want := float64(b.Load.Current) + float64(b.Load.Power)/float64(nodes[k].Voltage)
			if b.Load.Resistance > 0 {
				want += float64(nodes[k].Voltage) / float64(b.Load.Resistance)
			}
			for c, child := range bs {
				if child.Parent == k {
					want += float64(nodes[c].Current)
				}
			}
			if math.Abs(want-float64(nodes[k].Current)) > 1e-6*(1+want) {
				t.Fatalf("node %d takes %v, flows %v", k, want, nodes[k].Current)
			}
		}
	})
}

func TestChainStarAndTreeAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 10).Draw(t, "n")
		steps := make([]voltdrop.Step, n)
		drops := 0.0
		for k := range steps {
			steps[k] = voltdrop.Step{
				Length:    quantity.Length(rapid.Float64Range(0.5, 100).Draw(t, "l")),
				PerLength: quantity.ResistancePerLength(rapid.Float64Range(0.001, 0.1).Draw(t, "r")),
				Contacts:  quantity.Resistance(rapid.Float64Range(0, 0.1).Draw(t, "c")),
				Current:   quantity.Current(rapid.Float64Range(0, 1).Draw(t, "i")),
			}
		}
		chain := must(voltdrop.Chain(24, steps))
		for k, s := range steps {
			behind := 0.0
			for _, later := range steps[k:] {
				behind += float64(later.Current)
			}
			drops += (2*float64(s.Length)*float64(s.PerLength) + float64(s.Contacts)) * behind
			if math.Abs(24-drops-float64(chain[k].Voltage)) > 1e-9*(1+drops) {
				t.Fatalf("step %d: %v, by hand %v", k, chain[k].Voltage, 24-drops)
			}
		}
		star := must(voltdrop.Star(24, voltdrop.Step{}, steps))
		for k, s := range steps {
			alone := must(voltdrop.AtLoad(24, s.Length, s.PerLength, s.Current)) - s.Current.Through(s.Contacts)
			if math.Abs(float64(star[k+1].Voltage-alone)) > 1e-9*(1+math.Abs(float64(alone))) {
				t.Fatalf("branch %d: %v, alone %v", k, star[k+1].Voltage, alone)
			}
			if star[k+1].Voltage < chain[k].Voltage-1e-9 {
				t.Fatalf("a star of the same pieces is worse than the chain at %d", k)
			}
		}
	})
}

// Second way: constant power by the closed formula and by Newton's method in a tree of one branch.
func TestConstantPowerTwoWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := quantity.Power(rapid.Float64Range(0, 200).Draw(t, "p"))
		r := quantity.Resistance(rapid.Float64Range(0, 5).Draw(t, "r"))
		u, err := voltdrop.AtConstantPower(24, p, r)
		nodes, err2 := voltdrop.Tree(24, []voltdrop.Branch{{Parent: -1, Loop: r, Load: voltdrop.Load{Power: p}}})
		near := 4*float64(p)*float64(r) > 0.99999*24*24 && 4*float64(p)*float64(r) < 1.00001*24*24
		if near {
			t.Skip("at the very edge of collapse")
		}
		if (err == nil) != (err2 == nil) {
			t.Fatalf("closed: %v, tree: %v", err, err2)
		}
		if err == nil && math.Abs(float64(nodes[0].Voltage-u)) > 1e-6 {
			t.Fatalf("closed %v, tree %v", u, nodes[0].Voltage)
		}
	})
}

func TestMoreLengthNeverRaisesVoltage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := quantity.Length(rapid.Float64Range(0, 5000).Draw(t, "l"))
		more := quantity.Length(rapid.Float64Range(0, 5000).Draw(t, "more"))
		i := quantity.Current(rapid.Float64Range(0, 20).Draw(t, "i"))
		sizes := conductor.Sizes(conductor.Class5)
		k := rapid.IntRange(1, len(sizes)-1).Draw(t, "size")
		r := must(conductor.ResistancePerLength(sizes[k], conductor.Class5, 70))
		thin := must(conductor.ResistancePerLength(sizes[k-1], conductor.Class5, 70))
		u := must(voltdrop.AtLoad(24, l, r, i))
		if must(voltdrop.AtLoad(24, l+more, r, i)) > u || must(voltdrop.AtLoad(24, l, thin, i)) > u {
			t.Fatal("longer or thinner is better")
		}
		longest := must(voltdrop.LongestFor(24, 20.4, r, i))
		if longest > 0 && longest < 100e3 {
			if got := must(voltdrop.AtLoad(24, longest, r, i)); math.Abs(float64(got)-20.4) > 1e-9 {
				t.Fatalf("at the longest length %v V", got)
			}
		}
	})
}

func TestConductorForIsTheSmallest(t *testing.T) {
	// Own arithmetic: 20.4 V to 19.2 V, 60 m, 1 A: 2*60*r <= 1.2 gives r <= 10 ohm/km at 70 degC,
	// 8.36 at 20 degC: 2.5 mm2 (7.98), not 1.5 (13.3).
	area, u, found, err := voltdrop.ConductorFor(20.4, 19.2, 60, 1, conductor.Class5, 70, 0.5)
	if err != nil || !found || area != 2.5 {
		t.Fatalf("%v mm2, %v, %v", area, found, err)
	}
	calctest.Near(t, "voltage", u, 20.4-2*60*7.98e-3*1.1965, 1e-9)
	if _, _, found, err = voltdrop.ConductorFor(20.4, 19.2, 60000, 1, conductor.Class5, 70, 0.5); found || err != nil {
		t.Errorf("60 km: found %v, %v", found, err)
	}
	if _, _, _, err = voltdrop.ConductorFor(20.4, 19.2, 60, 1, "9", 70, 0.5); !errors.Is(err, calc.ErrRange) {
		t.Errorf("class 9: %v", err)
	}
}

// Own arithmetic: 230 V, 100 m of 2.5 mm2 at 7.41 ohm/km, 10 A, cos phi 1: 2*0.1*10*7.41 = 14.82 V;
// three-phase sqrt(3)/2 of it.
func TestDropAC(t *testing.T) {
	calctest.Near(t, "single", must(voltdrop.DropAC(1, 100, 7.41e-3, 0, 10, 1)), 14.82, 1e-9)
	calctest.Near(t, "three", must(voltdrop.DropAC(3, 100, 7.41e-3, 0, 10, 1)), 14.82*math.Sqrt(3)/2, 1e-9)
	calctest.Near(t, "reactance only", must(voltdrop.DropAC(1, 100, 7.41e-3, voltdrop.Reactance, 10, 0)), 0.16, 1e-9)
	if _, err := voltdrop.DropAC(2, 100, 7.41e-3, 0, 10, 1); !errors.Is(err, calc.ErrRange) {
		t.Errorf("two phases: %v", err)
	}
}

func TestAbsurdFeedersAreRefused(t *testing.T) {
	for _, x := range calctest.Absurd() {
		l, r, i, u := quantity.Length(x), quantity.ResistancePerLength(x), quantity.Current(x), quantity.Voltage(x)
		for name, err := range map[string]error{
			"length":  second(voltdrop.AtLoad(24, l, 0.01, 1)),
			"r":       second(voltdrop.AtLoad(24, 10, r, 1)),
			"current": second(voltdrop.AtLoad(24, 10, 0.01, i)),
			"source":  second(voltdrop.AtLoad(u, 10, 0.01, 1)),
			"longest": second(voltdrop.LongestFor(24, u, 0.01, 1)),
			"power":   second(voltdrop.AtConstantPower(24, quantity.Power(x), 1)),
			"chain":   second(voltdrop.Chain(24, []voltdrop.Step{{Length: l, PerLength: 0.01}})),
			"star":    second(voltdrop.Star(24, voltdrop.Step{}, []voltdrop.Step{{Length: 1, PerLength: 0.01, Current: i}})),
			"tree":    second(voltdrop.Tree(24, []voltdrop.Branch{{Parent: -1, Loop: quantity.Resistance(x)}})),
			"ac":      second(voltdrop.DropAC(1, 10, 0.01, 0, 1, x)),
		} {
			if !errors.Is(err, calc.ErrRange) {
				t.Errorf("%s %v: %v, want a refusal", name, x, err)
			}
		}
	}
	if _, err := voltdrop.Tree(24, []voltdrop.Branch{{Parent: 0}}); !errors.Is(err, calc.ErrRange) {
		t.Errorf("own parent: %v", err)
	}
	if nodes, err := voltdrop.Chain(24, nil); err != nil || len(nodes) != 0 {
		t.Errorf("empty chain: %v, %v", nodes, err)
	}
}

func second[T any](_ T, err error) error { return err }
