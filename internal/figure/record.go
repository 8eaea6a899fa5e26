package figure

import (
	"fmt"
	"strconv"

	"railwright/internal/calc/conductor"
	"railwright/internal/formula"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// HotCopper is the conductor temperature at which voltages are computed: the limit of PVC insulation.
const HotCopper = 70.0

// Arg is a formula's argument with its origin; name is needed for variadic formulas only.
func Arg(name string, v float64, from string, parts ...any) formula.Arg {
	return formula.Arg{Name: name, Value: v, From: fmt.Sprintf(from, parts...)}
}

// Eval evaluates a formula that several figures lean on, or returns the result of its record.
func Eval(book *formula.Book, id string, f *formula.Formula, args ...formula.Arg) float64 {
	if r, ok := book.Lookup(id); ok {
		return r.Result.Value
	}
	return book.Eval(id, f, args...)
}

// Copper records the resistance of one core per length at a temperature, in ohm/km, and returns it
// with its origin; false for no area or an unknown class. A size that is no row of IEC 60228 leaves a
// record ".r20" of how its resistance was found. name says what the temperature is ("hot",
// "cold", "at 40 degC") and is part of the record's id; from is where the temperature comes from.
func Copper(book *formula.Book, area q.CrossSection, class int, name string, t float64, from string) (r float64, origin string, ok bool) {
	core := fmt.Sprintf("conductor:%smm2 class %d", q.Short(float64(area)), class)
	r20, ok := largest20(book, core, area, conductor.Class(strconv.Itoa(class)))
	if !ok {
		return 0, "", false
	}
	id := core + "." + name
	r = Eval(book, id, conductor.FormulaHotResistance, r20, Arg("", t, "%s", from))
	return r, "calc:" + id, true
}

// largest20 is the resistance at 20 degC with its origin: a row of the table, or a record for other sizes.
func largest20(book *formula.Book, core string, area q.CrossSection, class conductor.Class) (formula.Arg, bool) {
	if row, err := conductor.At20(area, class); err == nil {
		return Arg("", float64(row.R20)*1000, "cite:%s", row.Source), true
	}
	o, err := conductor.OffTableOf(area, class)
	if err != nil {
		return formula.Arg{}, false
	}
	from := "cite:common-practice#area-as-stated"
	if o.AreaFrom != "" {
		from = "cite:" + o.AreaFrom
	}
	id := core + ".r20"
	v := Eval(book, id, conductor.FormulaOffTable, Arg("", float64(o.Area), "%s", from), Arg("", o.Allowance, "cite:%s", o.From))
	return Arg("", v, "calc:%s", id), true
}

// Hot is Copper at HotCopper.
func Hot(book *formula.Book, area q.CrossSection, class int) (r float64, origin string, ok bool) {
	return Copper(book, area, class, "hot", HotCopper, "cite:common-practice#hot-copper")
}

// Ambient returns the highest and lowest ambient temperature of a place with their origins.
func (v *View) Ambient(place string) (high, low float64, highFrom, lowFrom string) {
	b := &v.Project.Basis
	high, low = float64(b.AmbientMax), float64(b.AmbientMin)
	highFrom, lowFrom = "project:basis.ambient_max_c", "project:basis.ambient_min_c"
	p := v.Places[place]
	if p == nil {
		return high, low, highFrom, lowFrom
	}
	if p.AmbientMax.Set {
		high, highFrom = float64(p.AmbientMax.Value), "project:place."+place+".ambient_max_c"
	}
	if p.AmbientMin.Set {
		low, lowFrom = float64(p.AmbientMin.Value), "project:place."+place+".ambient_min_c"
	}
	return high, low, highFrom, lowFrom
}

// Stated returns an optional column of a signal with its origin, or the fallback with its.
func Stated[T ~float64](s *project.Signal, column string, value q.Opt[T], per float64, fallback float64, from string) (float64, string) {
	if value.Set {
		return float64(value.Value) * per, "signal:" + s.ID + "." + column
	}
	return fallback, from
}
