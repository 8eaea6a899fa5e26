package exi

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Level is a level of protection.
type Level string

// The levels: ia for zones 0, 1, 2; ib for 1 and 2; ic for 2; in dust likewise for 20, 21, 22.
const (
	LevelIA Level = "ia"
	LevelIB Level = "ib"
	LevelIC Level = "ic"
)

var levels = []Level{LevelIC, LevelIB, LevelIA} // rising

// Group is a gas group.
type Group string

// The gas groups, from the hardest to ignite.
const (
	GroupIIA Group = "IIA"
	GroupIIB Group = "IIB"
	GroupIIC Group = "IIC"
)

var groups = []Group{GroupIIA, GroupIIB, GroupIIC} // rising

// Cable defaults where no data are stated.
//
// Source: IEC 60079-14 9.4.4 and IEC 60079-25, from memory: 200 pF/m, 1 uH/m or 30 uH/ohm.
const (
	DefaultCapacitance quantity.Capacitance = 200e-12 // per metre
	DefaultInductance  quantity.Inductance  = 1e-6    // per metre
	DefaultLOverR                           = 30e-6   // H/ohm
)

// Stated is a figure that a certificate may or may not state.
type Stated = quantity.Opt[float64]

// Source is the associated apparatus, in SI units.
type Source struct {
	Name   string
	Uo, Io Stated // V, A
	Po     Stated // W; not stated: Uo Io / 4 for a Linear source
	Linear bool   // resistive limiting, the usual barrier
	Co, Lo Stated // F, H, for the gas group below
	LoRo   Stated // H/ohm; stated: the cable's L/R may be compared instead of its inductance
	Level  Level
	Group  Group // for which Co and Lo hold
}

// Device is one apparatus in the field, in SI units.
type Device struct {
	Name       string
	Ui, Ii, Pi Stated // V, A, W
	Ci, Li     Stated // F, H
	Level      Level
	Group      Group
	Simple     bool // simple apparatus: a contact, RTD or thermocouple that stores and gives nothing
}

// Cable is what lies between, in SI units; zero figures take the defaults.
type Cable struct {
	Length      quantity.Length
	Capacitance quantity.Capacitance // per metre
	Inductance  quantity.Inductance  // per metre
	LOverR      float64              // H/ohm; 0: not stated
}

// Circuit is one intrinsically safe circuit in its place.
type Circuit struct {
	Source  Source
	Devices []Device
	Cable   Cable
	Zone    string // "0", "1", "2", "20", "21", "22"; "": not stated
	Group   Group  // of the gas at the place; "": not stated
}

// Line is one line of the comparison.
type Line struct {
	Name    string // "Uo <= Ui"
	Seen    float64
	Allowed float64
	Unit    string
	OK      bool
	Missing string // what is not stated; then OK is false and the figures mean nothing
	Note    string
}

// Report is the comparison of one circuit.
type Report struct {
	Lines     []Line
	Halved    bool // the 1 % rule halved Co and Lo
	MaxLength quantity.Length
}

// OK reports whether every line holds with everything stated.
func (r Report) OK() bool {
	return !slices.ContainsFunc(r.Lines, func(l Line) bool { return !l.OK })
}

// FormulaCapacitance gives a circuit's capacitance.
var FormulaCapacitance = &formula.Formula{
	Name: "exi.capacitance", Text: "ci + c * length / 1000",
	Inputs: []formula.Input{{Name: "ci", Unit: "nF", Doc: "of all devices"}, {Name: "c", Unit: "pF/m", Doc: "cable, 200 where not stated"}, {Name: "length", Unit: "m"}},
	Result: formula.Input{Name: "c_total", Unit: "nF", Doc: "at most Co"},
	Source: "iec-60079-14#16.2.2",
	Eval:   func(x []float64) float64 { return x[0] + x[1]*x[2]/1000 },
}

// FormulaInductance gives a circuit's inductance.
var FormulaInductance = &formula.Formula{
	Name: "exi.inductance", Text: "li + l * length / 1000",
	Inputs: []formula.Input{{Name: "li", Unit: "mH", Doc: "of all devices"}, {Name: "l", Unit: "uH/m", Doc: "cable, 1 where not stated"}, {Name: "length", Unit: "m"}},
	Result: formula.Input{Name: "l_total", Unit: "mH", Doc: "at most Lo"},
	Source: "iec-60079-14#16.2.2",
	Eval:   func(x []float64) float64 { return x[0] + x[1]*x[2]/1000 },
}

// FormulaMaxLength gives the longest cable of a circuit.
var FormulaMaxLength = &formula.Formula{
	Name: "exi.max_length", Text: "max(0, min((co - ci) / c, (lo - li) / l) * 1000)",
	Inputs: []formula.Input{
		{Name: "co", Unit: "nF", Doc: "halved where the 1 % rule asks for it"},
		{Name: "ci", Unit: "nF"},
		{Name: "c", Unit: "pF/m"},
		{Name: "lo", Unit: "mH", Doc: "halved where the 1 % rule asks for it"},
		{Name: "li", Unit: "mH"},
		{Name: "l", Unit: "uH/m"},
	},
	Result: formula.Input{Name: "length", Unit: "m"},
	Source: "iec-60079-14#16.2.2",
	Eval: func(x []float64) float64 {
		return math.Max(0, math.Min((x[0]-x[1])/x[2], (x[3]-x[4])/x[5])*1000)
	},
}

// FormulaMatchedPower gives the power of a linear source.
var FormulaMatchedPower = &formula.Formula{
	Name: "exi.matched_power", Text: "uo * io / 4",
	Inputs: []formula.Input{{Name: "uo", Unit: "V"}, {Name: "io", Unit: "mA"}},
	Result: formula.Input{Name: "po", Unit: "mW"},
	Source: "iec-60079-25#linear-source",
	Eval:   func(x []float64) float64 { return x[0] * x[1] / 4 },
}

// FormulaCoaxInductance gives a cable's inductance from its impedance.
var FormulaCoaxInductance = &formula.Formula{
	Name: "exi.line_inductance", Text: "z ^ 2 * c / 1000",
	Inputs: []formula.Input{{Name: "z", Unit: "ohm", Doc: "wave impedance"}, {Name: "c", Unit: "pF/m"}},
	Result: formula.Input{Name: "l", Unit: "nH/m"},
	Source: "arithmetic#lossless-line",
	Eval:   func(x []float64) float64 { return x[0] * x[0] * x[1] / 1000 },
}

// Formulas returns the formulas that this package declares, in the order of the handbook.
func Formulas() []*formula.Formula {
	return []*formula.Formula{FormulaCapacitance, FormulaInductance, FormulaMaxLength, FormulaMatchedPower, FormulaCoaxInductance}
}

// LineInductance returns the inductance per metre of a cable whose wave impedance and capacitance per
// metre are known: L = Z^2 C.
//
// Source: lossless line.
func LineInductance(z quantity.Resistance, perMetre quantity.Capacitance) (quantity.Inductance, error) {
	if err := errors.Join(calc.Positive("wave impedance", z, 1000, "ohm"), calc.Positive("capacitance per metre", perMetre, 1e-8, "F/m")); err != nil {
		return 0, err
	}
	return quantity.Inductance(float64(z) * float64(z) * float64(perMetre)), nil
}

// IsSimple reports whether a device's own generation keeps within the limits of simple apparatus:
// 1.5 V, 100 mA and 25 mW.
//
// Source: IEC 60079-11 5.7 (1.5 V from memory; 100 mA and 25 mW seen).
func IsSimple(u quantity.Voltage, i quantity.Current, p quantity.Power) (bool, error) {
	if err := errors.Join(calc.Voltage("generated voltage", u), calc.Current("generated current", i), calc.Power("generated power", p)); err != nil {
		return false, err
	}
	return u <= 1.5 && i <= 0.1 && p <= 0.025, nil
}

// LevelForZone returns the lowest level of protection that a zone takes.
//
// Source: IEC 60079-14 (ia: 0 and 20; ib: 1 and 21; ic: 2 and 22).
func LevelForZone(zone string) (Level, error) {
	switch zone {
	case "0", "20":
		return LevelIA, nil
	case "1", "21":
		return LevelIB, nil
	case "2", "22":
		return LevelIC, nil
	}
	return "", &calc.ChoiceError{Name: "zone", Seen: fmt.Sprintf("%q", zone), Allowed: "0, 1, 2, 20, 21, 22"}
}

func (c Circuit) check() error {
	var errs []error
	stated := func(name string, s Stated, max float64, unit string) {
		if s.Set {
			errs = append(errs, calc.Within(name, s.Value, 0, max, unit))
		}
	}
	s := c.Source
	stated("Uo", s.Uo, 1000, "V")
	stated("Io", s.Io, 100, "A")
	stated("Po", s.Po, 1000, "W")
	stated("Co", s.Co, 1, "F")
	stated("Lo", s.Lo, 1000, "H")
	stated("Lo/Ro", s.LoRo, 1, "H/ohm")
	for _, d := range c.Devices {
		stated(d.Name+" Ui", d.Ui, 1000, "V")
		stated(d.Name+" Ii", d.Ii, 100, "A")
		stated(d.Name+" Pi", d.Pi, 1000, "W")
		stated(d.Name+" Ci", d.Ci, 1, "F")
		stated(d.Name+" Li", d.Li, 1000, "H")
		errs = append(errs, known("level of "+d.Name, d.Level, levels), known("gas group of "+d.Name, d.Group, groups))
	}
	errs = append(errs, calc.Length("cable length", c.Cable.Length), calc.Within("cable capacitance", c.Cable.Capacitance, 0, 1e-6, "F/m"),
		calc.Within("cable inductance", c.Cable.Inductance, 0, 1e-3, "H/m"), calc.Within("cable L/R", c.Cable.LOverR, 0, 1, "H/ohm"),
		known("level of the source", s.Level, levels), known("gas group of the source", s.Group, groups), known("gas group of the place", c.Group, groups))
	if c.Zone != "" {
		_, err := LevelForZone(c.Zone)
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

func known[T ~string](name string, v T, all []T) error {
	if v == "" || slices.Contains(all, v) {
		return nil
	}
	words := make([]string, len(all))
	for i, a := range all {
		words[i] = string(a)
	}
	return &calc.ChoiceError{Name: name, Seen: fmt.Sprintf("%q", string(v)), Allowed: strings.Join(words, ", ")}
}

// Compare holds the stated data of one circuit against each other. Lines come in a fixed order:
// voltage, current and power of each device, then capacitance and inductance of the whole, then
// level and gas group.
//
//	Uo <= Ui, Io <= Ii, Po <= Pi, sum Ci + Ccable <= Co, sum Li + Lcable <= Lo (or L/R <= Lo/Ro)
//
// If the lumped Ci and the lumped Li both exceed 1 % of Co and Lo, Co and Lo are halved first, and
// Co is then held to 1 uF (IIA, IIB) or 600 nF (IIC). Errors are for figures that make no sense, an
// unknown level, group or zone; a line that fails is a result.
//
// Source: IEC 60079-14:2013 16.2.2 (the 1 % rule and its caps from memory), IEC 60079-25.
func Compare(c Circuit) (Report, error) {
	if err := c.check(); err != nil {
		return Report{}, err
	}
	var r Report
	po := c.Source.Po
	if !po.Set && c.Source.Linear && c.Source.Uo.Set && c.Source.Io.Set {
		po = quantity.Some(c.Source.Uo.Value * c.Source.Io.Value / 4)
	}
	for _, d := range c.Devices {
		if d.Simple {
			continue
		}
		r.hold("Uo <= Ui of "+d.Name, "V", c.Source.Uo, d.Ui)
		r.hold("Io <= Ii of "+d.Name, "A", c.Source.Io, d.Ii)
		r.hold("Po <= Pi of "+d.Name, "W", po, d.Pi)
	}
	r.energy(c)
	r.places(c)
	return r, nil
}

// hold adds the line seen <= allowed. The hair of slack keeps 93 mA against 93 mA from failing for
// the last bit.
func (r *Report) hold(name, unit string, seen, allowed Stated) {
	l := Line{Name: name, Seen: seen.Value, Allowed: allowed.Value, Unit: unit}
	left, right, _ := strings.Cut(name, " <= ")
	switch {
	case !seen.Set:
		l.Missing = left
	case !allowed.Set:
		l.Missing = right
	default:
		l.OK = seen.Value <= allowed.Value*(1+1e-9)
	}
	r.Lines = append(r.Lines, l)
}

func (c Cable) filled() Cable {
	if c.Capacitance == 0 {
		c.Capacitance = DefaultCapacitance
	}
	if c.Inductance == 0 {
		c.Inductance = DefaultInductance
	}
	return c
}

func (r *Report) energy(c Circuit) {
	ci, li := quantity.Some(0.0), quantity.Some(0.0)
	for _, d := range c.Devices {
		if d.Simple {
			ci.Value += d.Ci.Or(0)
			li.Value += d.Li.Or(0)
			continue
		}
		ci = Stated{Value: ci.Value + d.Ci.Value, Set: ci.Set && d.Ci.Set}
		li = Stated{Value: li.Value + d.Li.Value, Set: li.Set && d.Li.Set}
	}
	co, lo := c.Source.Co, c.Source.Lo
	if co.Set && lo.Set && ci.Set && li.Set && ci.Value > 0.01*co.Value && li.Value > 0.01*lo.Value {
		r.Halved = true
		limit := 1e-6
		if c.Source.Group == GroupIIC || c.Source.Group == "" {
			limit = 600e-9
		}
		co.Value, lo.Value = math.Min(co.Value/2, limit), lo.Value/2
	}
	cable := c.Cable.filled()
	length := float64(cable.Length)
	cTotal := Stated{Value: ci.Value + float64(cable.Capacitance)*length, Set: ci.Set}
	lTotal := Stated{Value: li.Value + float64(cable.Inductance)*length, Set: li.Set}
	r.hold("Ci + Ccable <= Co", "F", cTotal, co)
	if c.Source.LoRo.Set && cable.LOverR > 0 && cable.LOverR <= c.Source.LoRo.Value*(1+1e-9) && li.Set && lo.Set {
		r.hold("L/R of the cable <= Lo/Ro", "H/ohm", quantity.Some(cable.LOverR), c.Source.LoRo)
		r.hold("Li <= Lo", "H", li, lo)
		r.Lines[len(r.Lines)-1].Note = "the cable's inductance is covered by its L/R"
		lTotal.Set = false
	} else {
		r.hold("Li + Lcable <= Lo", "H", lTotal, lo)
	}
	if r.Halved {
		r.Lines[len(r.Lines)-1].Note = "Co and Lo halved: lumped Ci and Li both exceed 1 %"
	}
	if co.Set && ci.Set {
		longest := (co.Value - ci.Value) / float64(cable.Capacitance)
		if lTotal.Set && lo.Set {
			longest = math.Min(longest, (lo.Value-li.Value)/float64(cable.Inductance))
		}
		r.MaxLength = quantity.Length(math.Max(0, longest))
	}
}

func (r *Report) places(c Circuit) {
	if c.Zone != "" {
		needed, _ := LevelForZone(c.Zone)
		rank(r, "level of the source for zone "+c.Zone, c.Source.Level, needed, levels)
		for _, d := range c.Devices {
			if !d.Simple {
				rank(r, "level of "+d.Name+" for zone "+c.Zone, d.Level, needed, levels)
			}
		}
	}
	if c.Group != "" {
		rank(r, "gas group of the source's Co and Lo", c.Source.Group, c.Group, groups)
		for _, d := range c.Devices {
			if !d.Simple {
				rank(r, "gas group of "+d.Name, d.Group, c.Group, groups)
			}
		}
	}
}

// rank adds the line "v is at least needed" in a rising order; Seen and Allowed are places in it.
func rank[T ~string](r *Report, name string, v, needed T, rising []T) {
	l := Line{Name: name, Seen: float64(slices.Index(rising, v)), Allowed: float64(slices.Index(rising, needed))}
	l.Note = fmt.Sprintf("%s, needed %s", v, needed)
	if v == "" {
		l.Missing = name
		l.Note = fmt.Sprintf("not stated, needed %s", needed)
	}
	l.OK = l.Seen >= l.Allowed
	r.Lines = append(r.Lines, l)
}
