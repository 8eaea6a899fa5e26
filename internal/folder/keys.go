package folder

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tomltree"
)

// Key is one key of project.toml, for documentation.
type Key struct {
	Name    string // with its section: "basis.cable.waste_percent"
	Unit    string
	Doc     string
	Default string
	Limits  string
}

// key is one key of a section whose values land in a T.
type key[T any] struct {
	name, unit, doc string
	least, most     float64
	def             string // default in words, where the zero value means something else
	need            bool
	allowed         []string
	at              func(*T) field
}

// field reads and writes one field of the project in the file's own terms.
type field interface {
	// read takes the key's value from the table; the field keeps its value where the key is missing
	// or faulty.
	read(t tomltree.Table, name string, least, most float64, allowed []string, need bool)
	// show prints the field's value as the file would have it; "" for an empty text.
	show() string
}

func readKeys[T any](t tomltree.Table, keys []key[T], to *T) {
	for _, k := range keys {
		k.at(to).read(t, k.name, k.least, k.most, k.allowed, k.need)
	}
}

// textField is a text.
type textField struct {
	get func() string
	set func(string)
}

func text[S ~string](p *S) field {
	return textField{func() string { return string(*p) }, func(v string) { *p = S(v) }}
}

func (f textField) read(t tomltree.Table, name string, _, _ float64, allowed []string, need bool) {
	switch {
	case allowed != nil:
		f.set(t.OneOf(name, f.get(), allowed...))
	case need:
		f.set(clean(t, name, t.NeedString(name)))
	default:
		f.set(clean(t, name, t.String(name, f.get())))
	}
}

func (f textField) show() string { return f.get() }

// clean refuses texts that messages and lists cannot carry.
func clean(t tomltree.Table, name, s string) string {
	if i := strings.IndexFunc(s, func(r rune) bool { return r < ' ' || r == 127 }); i >= 0 || len(s) > project.MaxText {
		t.Report("PRJ-027", finding.Error, name, fmt.Sprintf("%s holds line ends or other invisible characters, or is too long", name), "Write it on one line.")
		return ""
	}
	return s
}

// flagField is true or false.
type flagField struct{ p *bool }

func truth(p *bool) field { return flagField{p} }

func (f flagField) read(t tomltree.Table, name string, _, _ float64, _ []string, _ bool) {
	*f.p = t.Bool(name, *f.p)
}

func (f flagField) show() string { return strconv.FormatBool(*f.p) }

// lengthsField is a list of lengths in whole metres; an empty one leaves the default.
type lengthsField struct{ p *[]q.Millimetres }

func (f lengthsField) read(t tomltree.Table, name string, least, most float64, _ []string, _ bool) {
	var lengths []q.Millimetres
	for _, m := range t.Ints(name, int64(least), int64(most)) {
		lengths = append(lengths, q.Millimetres(m)*1000)
	}
	if len(lengths) > 0 {
		slices.Sort(lengths)
		*f.p = slices.Compact(lengths)
	}
}

func (f lengthsField) show() string {
	parts := make([]string, len(*f.p))
	for i, l := range *f.p {
		parts[i] = q.Short(l.Metres())
	}
	return strings.Join(parts, ", ")
}

// countField is an integer in the project that the file gives in a larger unit: count = value x per.
type countField struct {
	get func() int64
	set func(int64)
	per int64
}

func count[T ~int64 | ~int](p *T, per int64) field {
	return countField{func() int64 { return int64(*p) }, func(v int64) { *p = T(v) }, per}
}

func (f countField) read(t tomltree.Table, name string, least, most float64, _ []string, need bool) {
	if !t.Has(name) && !need {
		return
	}
	var v int64
	if f.per == 1 {
		v = f.whole(t, name, least, most, need)
	} else {
		v = f.scaled(t, name, least, most, need)
	}
	f.set(v)
}

func (f countField) whole(t tomltree.Table, name string, least, most float64, need bool) int64 {
	if need {
		return t.NeedInt(name, int64(least), int64(most))
	}
	return t.Int(name, f.get(), int64(least), int64(most))
}

func (f countField) scaled(t tomltree.Table, name string, least, most float64, need bool) int64 {
	old := float64(f.get()) / float64(f.per)
	v := old
	if need {
		v = t.NeedFloat(name, least, most)
	} else {
		v = t.Float(name, old, least, most)
	}
	return exact(t, name, v, f.per)
}

// exact turns a value into counts and reports digits that would be lost.
func exact(t tomltree.Table, name string, v float64, per int64) int64 {
	n := math.Round(v * float64(per))
	if math.Abs(v*float64(per)-n) > 1e-6*math.Max(1, math.Abs(n)*1e-9) {
		t.Report("PRJ-010", finding.Error, name, fmt.Sprintf("%s is %s; the finest step is %s", name, q.Short(v), q.Short(1/float64(per))),
			fmt.Sprintf("Write %s.", q.Short(n/float64(per))))
	}
	return int64(n)
}

func (f countField) show() string { return q.Short(float64(f.get()) / float64(f.per)) }

// realField is a physical quantity in the file's own unit; it may be unset.
type realField struct {
	get func() (float64, bool)
	set func(float64)
}

func physical[T ~float64](p *T) field {
	return realField{func() (float64, bool) { return float64(*p), true }, func(v float64) { *p = T(v) }}
}

func optional[T ~float64](p *q.Opt[T]) field {
	return realField{func() (float64, bool) { return float64(p.Value), p.Set }, func(v float64) { *p = q.Some(T(v)) }}
}

func (f realField) read(t tomltree.Table, name string, least, most float64, _ []string, need bool) {
	if !t.Has(name) && !need {
		return
	}
	const none = math.MaxFloat64
	if need && !t.Has(name) {
		t.NeedFloat(name, least, most)
		return
	}
	if v := t.Float(name, none, least, most); v != none {
		f.set(v)
	}
}

func (f realField) show() string {
	v, set := f.get()
	if !set {
		return ""
	}
	return q.Short(v)
}

// kindsField is one number for every kind, or a table of numbers by kind.
type kindsField struct {
	per int64 // counts of the project in one unit of the file; 0 where the project holds the value itself
	get func(project.Kind) float64
	set func(project.Kind, float64)
}

func kindCounts[T ~int64](m *map[project.Kind]T, per int64) field {
	return kindsField{
		per,
		func(k project.Kind) float64 { return float64((*m)[k]) / float64(per) },
		func(k project.Kind, v float64) { (*m)[k] = T(math.Round(v * float64(per))) },
	}
}

func kindReals[T ~float64](m *map[project.Kind]T) field {
	return kindsField{
		0,
		func(k project.Kind) float64 { return float64((*m)[k]) },
		func(k project.Kind, v float64) { (*m)[k] = T(v) },
	}
}

func (f kindsField) read(t tomltree.Table, name string, least, most float64, _ []string, _ bool) {
	const none = math.MaxFloat64
	take := func(t tomltree.Table, key string, kinds ...project.Kind) {
		v := t.Float(key, none, least, most)
		if v == none {
			return
		}
		if f.per > 0 {
			v = float64(exact(t, key, v, f.per)) / float64(f.per)
		}
		for _, k := range kinds {
			f.set(k, v)
		}
	}
	switch {
	case !t.Has(name):
	case t.IsTable(name):
		for _, k := range project.Kinds {
			take(t.Table(name), string(k), k)
		}
	default:
		take(t, name, project.Kinds...)
	}
}

func (f kindsField) show() string {
	var p []string
	for _, k := range project.Kinds {
		p = append(p, fmt.Sprintf("%s %s", k, q.Short(f.get(k))))
	}
	return groupEqual(p)
}

// groupEqual turns "DI 10", "DO 10", "SER 0" into "DI, DO 10; SER 0".
func groupEqual(pairs []string) string {
	var values []string
	names := map[string][]string{}
	for _, p := range pairs {
		n, v, _ := strings.Cut(p, " ")
		if !slices.Contains(values, v) {
			values = append(values, v)
		}
		names[v] = append(names[v], n)
	}
	if len(values) == 1 {
		return values[0]
	}
	var out []string
	for _, v := range values {
		out = append(out, strings.Join(names[v], ", ")+" "+v)
	}
	return strings.Join(out, "; ")
}

// describe turns keys into their documentation; def holds the defaults.
func describe[T any](section string, keys []key[T], def *T) []Key {
	out := make([]Key, 0, len(keys))
	for _, k := range keys {
		d := Key{Name: k.name, Unit: k.unit, Doc: k.doc, Default: k.def}
		if section != "" {
			d.Name = section + "." + k.name
		}
		f := k.at(def)
		switch {
		case k.need:
			d.Default = "must be given"
		case d.Default == "":
			d.Default = f.show()
		}
		switch f.(type) {
		case textField:
			d.Limits = strings.Join(k.allowed, ", ")
			if k.allowed == nil {
				d.Limits = "text"
			}
		case flagField:
			d.Limits = "true, false"
		default:
			d.Limits = q.Short(k.least) + " to " + q.Short(k.most)
		}
		out = append(out, d)
	}
	return out
}
