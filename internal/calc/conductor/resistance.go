package conductor

import (
	"fmt"
	"math"
	"strings"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Class is a conductor class of IEC 60228, plain or tinned copper.
type Class string

// The classes that the tables know.
const (
	Class1       Class = "1"        // solid, plain
	Class2       Class = "2"        // stranded, plain
	Class2Tinned Class = "2-tinned" // stranded, tinned
	Class5       Class = "5"        // flexible, plain
	Class5Tinned Class = "5-tinned" // flexible, tinned
	Class6       Class = "6"        // very flexible, plain: the limits of class 5
)

// Copper's constants at 20 degC.
//
// Source: IEC 60028 and IEC 60287-1-1 table 1.
const (
	Resistivity20 = 0.017241 // ohm mm2/m, 100 % IACS, which is 1/58
	Alpha20       = 0.00393  // 1/K
)

// Row is one size of the resistance table.
type Row struct {
	Area   quantity.CrossSection
	R20    quantity.ResistancePerLength // the class's maximum at 20 degC
	Source string                       // cite reference
}

type resistanceRow struct {
	mm2 float64
	// ohm/km at 20 degC: class 1 (and 2) plain, class 5 plain, class 2 tinned, class 5 tinned; 0: no value
	solid, flexible, strandedTinned, flexibleTinned float64
	source                                          string
}

// resistance is IEC 60228:2004 tables 1 to 3. Sizes below 0.5 mm2 are not in that standard: they
// are a DIN VDE 0295 print seen on one page only. Rows above 35 mm2 are from memory.
var resistance = []resistanceRow{
	{0.14, 0, 134, 0, 0, "din-vde-0295#below-0.5"},
	{0.22, 0, 96, 0, 0, "din-vde-0295#below-0.5"},
	{0.25, 0, 76, 0, 0, "din-vde-0295#below-0.5"},
	{0.34, 0, 53, 0, 0, "din-vde-0295#below-0.5"},
	{0.5, 36.0, 39.0, 36.7, 40.1, "iec-60228#tables-1-2-3"},
	{0.75, 24.5, 26.0, 24.8, 26.7, "iec-60228#tables-1-2-3"},
	{1, 18.1, 19.5, 18.2, 20.0, "iec-60228#tables-1-2-3"},
	{1.5, 12.1, 13.3, 12.2, 13.7, "iec-60228#tables-1-2-3"},
	{2.5, 7.41, 7.98, 7.56, 8.21, "iec-60228#tables-1-2-3"},
	{4, 4.61, 4.95, 4.70, 5.09, "iec-60228#tables-1-2-3"},
	{6, 3.08, 3.30, 3.11, 3.39, "iec-60228#tables-1-2-3"},
	{10, 1.83, 1.91, 1.84, 1.95, "iec-60228#tables-1-2-3"},
	{16, 1.15, 1.21, 1.16, 1.24, "iec-60228#tables-1-2-3"},
	{25, 0.727, 0.780, 0.734, 0.795, "iec-60228#tables-1-2-3"},
	{35, 0.524, 0.554, 0.529, 0.565, "iec-60228#tables-1-2-3"},
	{50, 0.387, 0.386, 0.391, 0.393, "from-memory#iec-60228-above-35"},
	{70, 0.268, 0.272, 0.270, 0.277, "from-memory#iec-60228-above-35"},
	{95, 0.193, 0.206, 0.195, 0.210, "from-memory#iec-60228-above-35"},
	{120, 0.153, 0.161, 0.154, 0.164, "from-memory#iec-60228-above-35"},
}

func (r resistanceRow) of(c Class) float64 {
	switch c {
	case Class1, Class2:
		return r.solid
	case Class5, Class6:
		return r.flexible
	case Class2Tinned:
		return r.strandedTinned
	case Class5Tinned:
		return r.flexibleTinned
	}
	return 0
}

// Table returns the resistance table of a class, ascending by size; empty for an unknown class.
func Table(class Class) []Row {
	var rows []Row
	for _, r := range resistance {
		if v := r.of(class); v > 0 {
			rows = append(rows, Row{quantity.CrossSection(r.mm2), quantity.ResistancePerLength(v / 1000), r.source})
		}
	}
	return rows
}

// Sizes returns the sizes that a class has, ascending.
func Sizes(class Class) []quantity.CrossSection {
	rows := Table(class)
	sizes := make([]quantity.CrossSection, len(rows))
	for i, r := range rows {
		sizes[i] = r.Area
	}
	return sizes
}

// SameSize reports whether two cross-sections are the same nominal size (within one part in a million).
func SameSize(a, b quantity.CrossSection) bool {
	return math.Abs(float64(a-b)) <= 1e-6*math.Max(math.Abs(float64(a)), math.Abs(float64(b)))
}

// At20 returns the table row of a nominal size.
//
// It returns a calc.ChoiceError, which lists the sizes, if the class has no such size: use
// Theoretical for an odd one.
//
// Source: IEC 60228:2004 tables 1 to 3; each row names its own.
func At20(area quantity.CrossSection, class Class) (Row, error) {
	if err := calc.Section("cross-section", area); err != nil {
		return Row{}, err
	}
	for i := range resistance { // asked for often: no list is made where the size is there
		r := &resistance[i]
		if v := r.of(class); v > 0 && SameSize(quantity.CrossSection(r.mm2), area) {
			return Row{quantity.CrossSection(r.mm2), quantity.ResistancePerLength(v / 1000), r.source}, nil
		}
	}
	rows := Table(class)
	if len(rows) == 0 {
		return Row{}, &calc.ChoiceError{Name: "conductor class", Seen: fmt.Sprintf("%q", string(class)), Allowed: "1, 2, 2-tinned, 5, 5-tinned, 6"}
	}
	names := make([]string, len(rows))
	for i, r := range rows {
		names[i] = quantity.Short(float64(r.Area))
	}
	return Row{}, &calc.ChoiceError{Name: "cross-section, class " + string(class), Seen: quantity.Short(float64(area)) + " mm2", Allowed: strings.Join(names, ", ") + " mm2"}
}

// FormulaHotResistance gives a conductor's resistance per length at its own temperature.
var FormulaHotResistance = &formula.Formula{
	Name: "conductor.hot_resistance",
	Text: "r20 * (1 + 0.00393 * (t - 20))",
	Inputs: []formula.Input{
		{Name: "r20", Unit: "ohm/km", Doc: "largest resistance of one core at 20 degC"},
		{Name: "t", Unit: "degC", Doc: "conductor temperature"},
	},
	Result: formula.Input{Name: "r", Unit: "ohm/km", Doc: "resistance of one core"},
	Source: "iec-60287-1-1#table-1",
	Eval:   func(x []float64) float64 { return x[0] * (1 + Alpha20*(x[1]-20)) },
}

// At returns a resistance per length, known at 20 degC, at conductor temperature t.
//
//	r(t) = r20 * (1 + 0.00393/K * (t - 20 degC))
//
// Valid for copper from -100 to 250 degC, where copper is linear enough; outside it returns a
// calc.RangeError.
//
// Source: IEC 60287-1-1 table 1 (alpha of annealed copper). IEC 60228 annex B prints the
// approximate 250/(230+t), which differs by at most 0.5 % up to 100 degC.
func At(r20 quantity.ResistancePerLength, t quantity.Temperature) (quantity.ResistancePerLength, error) {
	if err := calc.PerLength("resistance per length", r20); err != nil {
		return 0, err
	}
	if err := calc.Within("conductor temperature", t, -100, 250, "degC"); err != nil {
		return 0, err
	}
	return quantity.ResistancePerLength(FormulaHotResistance.Eval([]float64{float64(r20), float64(t)})), nil
}

// ResistancePerLength returns the largest resistance per length that one core of the size may have at
// conductor temperature t: what IEC 60228 allows, or, for a size that is no row of it, what Largest20
// finds. Errors are those of Largest20 and At.
func ResistancePerLength(area quantity.CrossSection, class Class, t quantity.Temperature) (quantity.ResistancePerLength, error) {
	r20, err := Largest20(area, class)
	if err != nil {
		return 0, err
	}
	return At(r20, t)
}

// FormulaTheoreticalResistance gives the resistance per length of a solid copper section at 20 degC.
var FormulaTheoreticalResistance = &formula.Formula{
	Name:   "conductor.theoretical_resistance",
	Text:   "17.241 / area",
	Inputs: []formula.Input{{Name: "area", Unit: "mm2", Doc: "metallic cross-section"}},
	Result: formula.Input{Name: "r20", Unit: "ohm/km", Doc: "resistance of one core at 20 degC"},
	Source: "iec-60028#resistivity",
	Eval:   func(x []float64) float64 { return 17.241 / x[0] },
}

// Theoretical returns the resistance per length of solid annealed copper of the given metallic
// section at temperature t: what a table size is measured against, and what serves for gauges.
// It counts no stranding (add about 2 %, common practice) and no tin.
//
// Source: IEC 60028 (1/58 ohm mm2/m at 20 degC).
func Theoretical(area quantity.CrossSection, t quantity.Temperature) (quantity.ResistancePerLength, error) {
	if err := calc.Section("cross-section", area); err != nil {
		return 0, err
	}
	return At(quantity.ResistancePerLength(Resistivity20/float64(area)), t)
}

// FormulaConductorTemperature gives the temperature of a conductor that carries less than it may.
var FormulaConductorTemperature = &formula.Formula{
	Name: "conductor.temperature_at_load",
	Text: "ambient + (limit - ambient) * (current / ampacity) ^ 2",
	Inputs: []formula.Input{
		{Name: "ambient", Unit: "degC"},
		{Name: "limit", Unit: "degC", Doc: "conductor temperature at full ampacity, 70 degC for PVC"},
		{Name: "current", Unit: "A"},
		{Name: "ampacity", Unit: "A", Doc: "at this ambient and laying"},
	},
	Result: formula.Input{Name: "t", Unit: "degC", Doc: "conductor temperature"},
	Source: "common-practice#rise-with-square-of-current",
	Eval:   func(x []float64) float64 { return x[0] + (x[1]-x[0])*(x[2]/x[3])*(x[2]/x[3]) },
}

// TemperatureAtLoad returns the temperature of a conductor that carries i where it may carry iz.
//
//	t = t_ambient + (t_limit - t_ambient) * (i/iz)^2
//
// Valid for steady current and i <= iz; above it the result passes the insulation's limit, which
// is for the caller to judge. For a worst case take the limit itself (70 degC for PVC).
//
// Source: common practice (losses grow with the square of the current, as IEC 60287 has it with
// the loss factors left out).
func TemperatureAtLoad(ambient, limit quantity.Temperature, i, iz quantity.Current) (quantity.Temperature, error) {
	for _, err := range []error{
		calc.Within("ambient", ambient, -100, float64(limit), "degC"),
		calc.Within("conductor limit", limit, -100, 250, "degC"),
		calc.Current("current", i), calc.PositiveCurrent("ampacity", iz),
	} {
		if err != nil {
			return 0, err
		}
	}
	return quantity.Temperature(FormulaConductorTemperature.Eval([]float64{float64(ambient), float64(limit), float64(i), float64(iz)})), nil
}
