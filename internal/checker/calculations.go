package checker

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"
)

// calculationLaw evaluates every record's formula text again, with a general expression library
// and not with the Go function that the planner used, and follows the origins of its inputs.
func calculationLaw(r *run) {
	if r.opt.NoTrace {
		return
	}
	programs := map[string]*vm.Program{}
	for _, name := range slices.Sorted(maps.Keys(r.d.Formulas)) {
		f := r.d.Formulas[name]
		p, err := compile(f.Text)
		if err != nil {
			r.bad("CALC", "formula:"+name, "a text that can be evaluated", "%q: %s", f.Text, firstLine(err))
			continue
		}
		programs[name] = p
		if !r.knownCite(f.Source) {
			r.bad("TRC", "formula:"+name, "a known source", "%q", f.Source)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(r.d.Calculations)) {
		rec := r.d.Calculations[id]
		f, ok := r.d.Formulas[rec.Formula]
		if !ok {
			r.bad("CALC", "calc:"+id, "a formula of the design", "%q", rec.Formula)
			continue
		}
		r.inputsLaw(id, rec, f)
		if p := programs[rec.Formula]; p != nil {
			r.evaluate(id, rec, f, p)
		}
		for _, name := range slices.Sorted(maps.Keys(rec.Inputs)) {
			r.origin("calc:"+id+" "+name, rec.Inputs[name])
		}
	}
	r.endless()
}

func firstLine(err error) string {
	line, _, _ := strings.Cut(err.Error(), "\n")
	return line
}

// inputsLaw: the record has the formula's inputs and units.
func (r *run) inputsLaw(id string, rec docRecord, f docFormula) {
	if rec.Result.Unit != f.Result.Unit && f.Result.Unit != "" {
		r.bad("CALC", "calc:"+id, "result in "+f.Result.Unit, "in %s", rec.Result.Unit)
	}
	if f.Variadic {
		for name, v := range rec.Inputs {
			if len(f.Inputs) == 0 || v.Unit != f.Inputs[0].Unit {
				r.bad("CALC", "calc:"+id, "inputs of one unit", "%s in %s", name, v.Unit)
			}
		}
		return
	}
	if len(rec.Inputs) != len(f.Inputs) {
		r.bad("CALC", "calc:"+id, fmt.Sprintf("%d inputs", len(f.Inputs)), "%d", len(rec.Inputs))
	}
	for _, in := range f.Inputs {
		if v, ok := rec.Inputs[in.Name]; !ok || v.Unit != in.Unit {
			r.bad("CALC", "calc:"+id, "input "+in.Name+" in "+in.Unit, "unit %q", v.Unit)
		}
	}
}

func (r *run) evaluate(id string, rec docRecord, f docFormula, p *vm.Program) {
	env := map[string]any{}
	var all []float64
	for _, name := range slices.Sorted(maps.Keys(rec.Inputs)) {
		env[name] = rec.Inputs[name].Value
		all = append(all, rec.Inputs[name].Value)
	}
	if f.Variadic && len(f.Inputs) > 0 {
		env[f.Inputs[0].Name] = all
	}
	out, err := expr.Run(p, env)
	if err != nil {
		r.bad("CALC", "calc:"+id, "a formula that can be evaluated", "%s", firstLine(err))
		return
	}
	want, err := number(out)
	if err != nil || math.Abs(want-rec.Result.Value) > 1e-9*math.Max(1, math.Abs(want)) {
		r.bad("CALC", "calc:"+id, fmt.Sprintf("%s = %v", f.Text, want), "%v", rec.Result.Value)
	}
}

func compile(text string) (*vm.Program, error) {
	options := []expr.Option{expr.DisableAllBuiltins(), expr.AllowUndefinedVariables()}
	for name, fn := range functionsOfText {
		options = append(options, expr.Function(name, func(args ...any) (any, error) {
			x, err := flatten(args)
			if err != nil || len(x) == 0 && name != "sum" {
				return nil, fmt.Errorf("%s needs numbers", name)
			}
			return fn(x), nil
		}))
	}
	return expr.Compile(text, options...)
}

// functionsOfText are the names that a formula's text may call.
var functionsOfText = map[string]func([]float64) float64{
	"abs":   func(x []float64) float64 { return math.Abs(x[0]) },
	"ceil":  func(x []float64) float64 { return math.Ceil(x[0]) },
	"exp":   func(x []float64) float64 { return math.Exp(x[0]) },
	"floor": func(x []float64) float64 { return math.Floor(x[0]) },
	"ln":    func(x []float64) float64 { return math.Log(x[0]) },
	"max":   func(x []float64) float64 { return slices.Max(x) },
	"min":   func(x []float64) float64 { return slices.Min(x) },
	"pow":   func(x []float64) float64 { return math.Pow(x[0], x[len(x)-1]) },
	"round": func(x []float64) float64 { return math.Round(x[0]) },
	"sqrt":  func(x []float64) float64 { return math.Sqrt(x[0]) },
	"sum": func(x []float64) float64 {
		total := 0.0
		for _, v := range x {
			total += v
		}
		return total
	},
}

func flatten(args []any) ([]float64, error) {
	var x []float64
	for _, a := range args {
		if list, ok := a.([]float64); ok {
			x = append(x, list...)
			continue
		}
		v, err := number(a)
		if err != nil {
			return nil, err
		}
		x = append(x, v)
	}
	return x, nil
}

func number(v any) (float64, error) {
	switch v := v.(type) {
	case float64:
		return v, nil
	case int:
		return float64(v), nil
	}
	return 0, fmt.Errorf("%v is no number", v)
}

func (r *run) knownCite(ref string) bool {
	if r.opt.KnownCite != nil {
		return r.opt.KnownCite(ref)
	}
	return ref != "" && !strings.HasPrefix(ref, "#")
}

// endless reports calculations that lean on themselves.
func (r *run) endless() {
	state := map[string]int{} // 1 open, 2 done
	var visit func(id string) bool
	visit = func(id string) bool {
		switch state[id] {
		case 1:
			return false
		case 2:
			return true
		}
		state[id] = 1
		ok := true
		for _, name := range slices.Sorted(maps.Keys(r.d.Calculations[id].Inputs)) {
			if next, is := strings.CutPrefix(r.d.Calculations[id].Inputs[name].From, "calc:"); is && !visit(next) {
				ok = false
			}
		}
		state[id] = 2
		return ok
	}
	for _, id := range slices.Sorted(maps.Keys(r.d.Calculations)) {
		if state[id] == 0 && !visit(id) {
			r.bad("TRC", "calc:"+id, "a chain that ends", "it leans on itself")
		}
	}
}
