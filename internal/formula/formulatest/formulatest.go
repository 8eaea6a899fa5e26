// Package formulatest checks that declared formulas say what they compute. It is for tests only.
package formulatest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/expr-lang/expr"

	"railwright/internal/cite"
	"railwright/internal/formula"
)

// Range is where an input's random values come from.
type Range struct{ Min, Max float64 }

// byUnit are the ranges of everyday values, so that most samples make sense.
var byUnit = map[string]Range{
	"V": {1, 60}, "A": {0.001, 40}, "mA": {0.5, 500}, "ohm": {0.01, 600}, "ohm/km": {0.2, 150}, "m": {0.5, 2000},
	"mm": {0.1, 2000}, "mm2": {0.14, 35}, "degC": {-40, 90}, "K": {0.5, 60}, "W": {0.1, 500}, "s": {0.001, 30},
	"%": {1, 99}, "1": {0.05, 20}, "W/m2K": {3, 12}, "m2": {0.1, 8},
}

// Check evaluates each formula's text with a general expression library on many seeded random
// inputs and compares with its Eval; it also checks names, units, sources and the functions used.
// special gives ranges for inputs by "formula.input" or "input".
func Check(t *testing.T, formulas []*formula.Formula, special map[string]Range) {
	t.Helper()
	seen := map[string]bool{}
	for _, f := range formulas {
		t.Run(f.Name, func(t *testing.T) {
			if seen[f.Name] {
				t.Fatalf("formula %s is declared twice", f.Name)
			}
			seen[f.Name] = true
			declared(t, f)
			compare(t, f, special)
		})
	}
}

var (
	namePattern = regexp.MustCompile(`^[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)*$`)
	callPattern = regexp.MustCompile(`([a-z_][a-z0-9_]*)\s*\(`)
	wordPattern = regexp.MustCompile(`[a-z_][a-z0-9_]*`)
)

func declared(t *testing.T, f *formula.Formula) {
	t.Helper()
	if !namePattern.MatchString(f.Name) {
		t.Errorf("name %q is not lower case words joined by dots", f.Name)
	}
	if _, err := cite.Lookup(f.Source); err != nil {
		t.Errorf("source: %v", err)
	}
	if f.Result.Unit == "" || f.Result.Name == "" {
		t.Errorf("result %+v lacks its name or unit", f.Result)
	}
	names := map[string]bool{}
	for _, in := range f.Inputs {
		if in.Unit == "" || !namePattern.MatchString(in.Name) || names[in.Name] {
			t.Errorf("input %+v lacks a unit, has a bad name or is doubled", in)
		}
		names[in.Name] = true
	}
	for _, m := range callPattern.FindAllStringSubmatch(f.Text, -1) {
		if !slices.Contains(formula.Functions, m[1]) {
			t.Errorf("text calls %q, which is not one of %v", m[1], formula.Functions)
		}
	}
	for _, w := range wordPattern.FindAllString(strings.ReplaceAll(f.Text, "e-", "-"), -1) {
		delete(names, w)
	}
	if len(names) > 0 {
		t.Errorf("the text %q does not use %v", f.Text, names)
	}
}

const samples = 200

func compare(t *testing.T, f *formula.Formula, special map[string]Range) {
	t.Helper()
	rng := rand.New(rand.NewPCG(1, uint64(len(f.Name))))
	program, err := expr.Compile(f.Text, expr.Env(environment(f, make([]float64, max(1, len(f.Inputs))))), expr.AsFloat64())
	if err != nil {
		t.Fatalf("text does not compile: %v", err)
	}
	for _, odd := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e308} {
		x := make([]float64, max(1, len(f.Inputs)))
		for i := range x {
			x[i] = odd
		}
		f.Eval(x) // may give anything, but must not panic
	}
	finite := 0
	for range samples {
		x := draw(rng, f, special)
		out, err := expr.Run(program, environment(f, x))
		if err != nil {
			t.Fatalf("text does not run on %v: %v", x, err)
		}
		want, got := out.(float64), f.Eval(x)
		if !math.IsNaN(want) && !math.IsInf(want, 0) {
			finite++
		}
		if !same(want, got) {
			t.Fatalf("%v: the text gives %v, Eval gives %v", x, want, got)
		}
	}
	if finite < samples/4 {
		t.Errorf("only %d of %d samples have a finite result; give the inputs better ranges", finite, samples)
	}
}

func same(a, b float64) bool {
	if math.IsNaN(a) || math.IsNaN(b) {
		return math.IsNaN(a) && math.IsNaN(b)
	}
	return a == b || math.Abs(a-b) <= 1e-9*math.Max(1e-6, math.Max(math.Abs(a), math.Abs(b)))
}

func draw(rng *rand.Rand, f *formula.Formula, special map[string]Range) []float64 {
	n := len(f.Inputs)
	if f.Variadic {
		n = 1 + rng.IntN(6)
	}
	x := make([]float64, n)
	for i := range x {
		in := f.Inputs[min(i, len(f.Inputs)-1)]
		r, ok := special[f.Name+"."+in.Name]
		if !ok {
			r, ok = special[in.Name]
		}
		if !ok {
			r, ok = byUnit[in.Unit]
		}
		if !ok {
			r = Range{0.1, 100}
		}
		x[i] = r.Min + (r.Max-r.Min)*rng.Float64()
	}
	return x
}

func environment(f *formula.Formula, x []float64) map[string]any {
	env := map[string]any{
		"ln": math.Log, "exp": math.Exp, "sqrt": math.Sqrt, "pow": math.Pow,
	}
	if f.Variadic {
		env[f.Inputs[0].Name] = x
		return env
	}
	for i, in := range f.Inputs {
		env[in.Name] = x[i]
	}
	return env
}

// Describe prints a formula on one line, for lists in tests and reports of missing ones.
func Describe(f *formula.Formula) string {
	return fmt.Sprintf("%s: %s = %s [%s]", f.Name, f.Result.Name, f.Text, f.Result.Unit)
}
