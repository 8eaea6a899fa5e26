package formula_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/formula"
)

var product = &formula.Formula{
	Name: "test.product", Text: "a * b", Source: "arithmetic",
	Inputs: []formula.Input{{Name: "a", Unit: "m"}, {Name: "b", Unit: "ohm/km"}},
	Result: formula.Input{Name: "p", Unit: "mohm"},
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

var total = &formula.Formula{
	Name: "test.total", Text: "sum(x)", Source: "arithmetic", Variadic: true,
	Inputs: []formula.Input{{Name: "x", Unit: "A"}}, Result: formula.Input{Name: "t", Unit: "A"},
	Eval: func(x []float64) float64 {
		s := 0.0
		for _, v := range x {
			s += v
		}
		return s
	},
}

func TestEvalLeavesARecord(t *testing.T) {
	var b formula.Book
	if got := b.Eval("r1", product, formula.Arg{Value: 2, From: "project:x"}, formula.Arg{Value: 3, From: "cite:iec-60228#5"}); got != 6 {
		t.Errorf("got %v", got)
	}
	r, ok := b.Lookup("r1")
	want := formula.Record{ID: "r1", Formula: "test.product", Inputs: map[string]formula.Value{
		"a": {Name: "a", Value: 2, Unit: "m", From: "project:x"}, "b": {Name: "b", Value: 3, Unit: "ohm/km", From: "cite:iec-60228#5"},
	}, Result: formula.Value{Name: "p", Value: 6, Unit: "mohm", From: "calc:r1"}}
	if diff := cmp.Diff(want, r); !ok || diff != "" {
		t.Errorf("record (-want +got):\n%s", diff)
	}
	text, err := json.Marshal(r)
	const wantText = `{"formula":"test.product","inputs":{"a":{"value":2,"unit":"m","from":"project:x"},"b":{"value":3,"unit":"ohm/km","from":"cite:iec-60228#5"}},"result":{"value":6,"unit":"mohm","from":"calc:r1"}}`
	if err != nil || string(text) != wantText {
		t.Errorf("%s, %v", text, err)
	}
}

func TestVariadicInputsAreNamed(t *testing.T) {
	var b formula.Book
	b.Eval("s", total, formula.Arg{Name: "pump", Value: 1}, formula.Arg{Value: 2})
	r, _ := b.Lookup("s")
	if r.Result.Value != 3 || r.Inputs["pump"].Value != 1 || r.Inputs["x2"].Value != 2 || r.Inputs["x2"].Unit != "A" {
		t.Errorf("%+v", r)
	}
	if got := b.Eval("none", total); got != 0 {
		t.Errorf("the empty sum is %v", got)
	}
}

func TestMergeKeepsAll(t *testing.T) {
	var a, b, c formula.Book
	a.Eval("2", product, formula.Arg{Value: 1}, formula.Arg{Value: 1})
	b.Eval("1", total, formula.Arg{Value: 4})
	c.Merge(&a)
	c.Merge(&b)
	c.Merge(&formula.Book{})
	if got := c.IDs(); !slices.Equal(got, []string{"1", "2"}) || len(c.Records()) != 2 || len(c.Formulas()) != 2 {
		t.Errorf("ids %v, %d records, %d formulas", got, len(c.Records()), len(c.Formulas()))
	}
}

func TestProgrammersMistakesPanic(t *testing.T) {
	for name, f := range map[string]func(b *formula.Book){
		"too few inputs": func(b *formula.Book) { b.Eval("x", product, formula.Arg{Value: 1}) },
		"other result": func(b *formula.Book) {
			b.Eval("x", total, formula.Arg{Value: 1})
			b.Eval("x", total, formula.Arg{Value: 2})
		},
		"another formula": func(b *formula.Book) {
			b.Eval("x", total, formula.Arg{Value: 1})
			b.Eval("x", product, formula.Arg{Value: 1}, formula.Arg{Value: 1})
		},
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			f(&formula.Book{})
		})
	}
	var b formula.Book
	b.Eval("x", total, formula.Arg{Value: 1})
	b.Eval("x", total, formula.Arg{Value: 1}) // the same again is no mistake
}
