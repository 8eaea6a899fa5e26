package formula

import (
	"fmt"
	"sort"
)

// Input describes one named argument or the result of a formula.
type Input struct {
	Name string `json:"name"`
	Unit string `json:"unit"` // as printed: "m", "mA", "ohm/km", "1" for a plain number
	Doc  string `json:"doc,omitempty"`
}

// Formula is one formula of the trade or one count of the design.
//
// Text is written in the syntax of the test's expression library: names of inputs, numbers,
// + - * / ^ parentheses, and the functions listed in Functions. A variadic formula (Variadic true)
// takes any number of inputs, all with Inputs[0].Unit, and its text uses sum(x), max(x) or min(x).
type Formula struct {
	Name     string                    `json:"-"`
	Text     string                    `json:"text"`
	Inputs   []Input                   `json:"inputs"`
	Result   Input                     `json:"result"`
	Source   string                    `json:"source"` // cite reference KEY#row
	Variadic bool                      `json:"variadic,omitempty"`
	Eval     func(x []float64) float64 `json:"-"` // arguments in the order of Inputs
}

// Functions are the names that a formula's text may call beside the arithmetic operators.
var Functions = []string{"abs", "ceil", "exp", "floor", "ln", "max", "min", "pow", "round", "sqrt", "sum"}

// Value is one argument as used: the number, its unit and where it comes from.
type Value struct {
	Name  string  `json:"-"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	From  string  `json:"from"`
}

// Record is one evaluation of a formula.
type Record struct {
	ID      string           `json:"-"`
	Formula string           `json:"formula"`
	Inputs  map[string]Value `json:"inputs"`
	Result  Value            `json:"result"`
}

// Book collects the records of one design. The zero Book is ready to use. It is not safe for
// concurrent use: give each station its own and Merge them in order.
type Book struct {
	formulas map[string]*Formula
	records  map[string]Record
}

// Arg is an argument for Eval: a value and its origin. Name is needed only for variadic formulas.
type Arg struct {
	Name  string
	Value float64
	From  string
}

// Eval evaluates f for the given arguments (in the order of f.Inputs), keeps the record under id
// and returns the result. A second record under the same id is a programmer's mistake and panics
// unless it is identical in formula and result.
func (b *Book) Eval(id string, f *Formula, args ...Arg) float64 {
	if !f.Variadic && len(args) != len(f.Inputs) {
		panic(fmt.Sprintf("formula %s takes %d inputs, not %d", f.Name, len(f.Inputs), len(args)))
	}
	x := make([]float64, len(args))
	in := make(map[string]Value, len(args))
	for i, a := range args {
		x[i] = a.Value
		name, unit := a.Name, ""
		if f.Variadic {
			unit = f.Inputs[0].Unit
			if name == "" {
				name = fmt.Sprintf("%s%d", f.Inputs[0].Name, i+1)
			}
		} else {
			name, unit = f.Inputs[i].Name, f.Inputs[i].Unit
		}
		in[name] = Value{Name: name, Value: a.Value, Unit: unit, From: a.From}
	}
	y := f.Eval(x)
	b.keep(f, Record{ID: id, Formula: f.Name, Inputs: in, Result: Value{Name: f.Result.Name, Value: y, Unit: f.Result.Unit, From: "calc:" + id}})
	return y
}

func (b *Book) keep(f *Formula, r Record) {
	if b.records == nil {
		b.records, b.formulas = map[string]Record{}, map[string]*Formula{}
	}
	if old, ok := b.records[r.ID]; ok && (old.Formula != r.Formula || old.Result.Value != r.Result.Value) {
		panic(fmt.Sprintf("calculation %s recorded twice: %s = %v and %s = %v", r.ID, old.Formula, old.Result.Value, r.Formula, r.Result.Value))
	}
	b.records[r.ID] = r
	b.formulas[f.Name] = f
}

// Merge adds the other book's records to b.
func (b *Book) Merge(other *Book) {
	for _, id := range other.IDs() {
		r := other.records[id]
		b.keep(other.formulas[r.Formula], r)
	}
}

// Lookup returns the record kept under id.
func (b *Book) Lookup(id string) (Record, bool) {
	r, ok := b.records[id]
	return r, ok
}

// IDs returns the ids of all records, sorted.
func (b *Book) IDs() []string {
	ids := make([]string, 0, len(b.records))
	for id := range b.records {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	return ids
}

// Records returns all records by id.
func (b *Book) Records() map[string]Record { return b.records }

// Formulas returns the formulas that the records use, by name.
func (b *Book) Formulas() map[string]*Formula { return b.formulas }
