package project

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"railwright/internal/finding"
	q "railwright/internal/quantity"
)

// Column is one canonical column of the signal list: the one place that readers, writers and
// documentation share.
type Column struct {
	Name     string
	Unit     string // "mA"; "" for texts and plain numbers
	Doc      string
	Default  string   // what an empty cell means, for people
	Required bool     // a row without it is left out
	Allowed  []string // words; nil for texts and numbers
	Numeric  bool
	Min, Max float64 // limits of a number, in Unit

	read  func(c *Column, cell string, s *Signal) *finding.Finding
	write func(s *Signal) string
}

// Parse reads a cell into the column's field. An error finding leaves the field empty; an info says
// how the cell was understood; nil says that all is plain. Rule, severity, message and remedy are
// set; spot and subject are the caller's. An empty cell empties the field.
func (c *Column) Parse(cell string, s *Signal) *finding.Finding { return c.read(c, cell, s) }

// Format writes the field as a cell: with the fewest digits that Parse reads back to the same value.
func (c *Column) Format(s *Signal) string { return c.write(s) }

// Limits says in words what the column takes.
func (c *Column) Limits() string {
	switch {
	case c.Numeric:
		return fmt.Sprintf("%s to %s", q.Short(c.Min), q.Short(c.Max))
	case c.Allowed != nil:
		return strings.Join(c.Allowed, ", ")
	}
	return "text"
}

// Columns returns the canonical columns in their one order.
func Columns() []*Column { return columns }

// ColumnNames returns the names of the canonical columns in their one order.
func ColumnNames() []string {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = c.Name
	}
	return names
}

// ColumnNamed returns the canonical column of that exact name, or nil.
func ColumnNamed(name string) *Column {
	for _, c := range columns {
		if c.Name == name {
			return c
		}
	}
	return nil
}

// MaxText is the longest text of a cell, in characters; MaxName that of a name (tag, id, place,
// device, station and so on).
const (
	MaxText = 2000
	MaxName = 80
)

const big = 1e12

var columns = []*Column{
	name("id", "the signal's own name for ever; tools write it, and it does not change when the tag does", "the tag", func(s *Signal) *string { return &s.ID }),
	required(name("tag", "the signal's unique name", "", func(s *Signal) *string { return &s.Tag })),
	text("description", "what the signal means", func(s *Signal) *string { return &s.Description }),
	required(word("kind", "kind of signal", "", kindNames(), func(s *Signal) *string { return (*string)(&s.Kind) })),
	word("form", "electrical form; see the table of forms", "the kind's first form (info)", formNames(), func(s *Signal) *string { return &s.Form }),
	word("contact", "what the contact is at rest: normally open or normally closed", "not stated", []string{"NO", "NC"}, func(s *Signal) *string { return &s.Contact }),
	word("active", "who powers a current loop: an active device does it itself, a passive one is powered by the station", "passive; active with 4 wires (info)", []string{"active", "passive"}, func(s *Signal) *string { return &s.Active }),
	required(name("place", "id of the place where the device stands", "", func(s *Signal) *string { return &s.Place })),
	name("device", "the sensor or actuator behind the signal; signals of one device at one place share a cable where they may", "a device of its own", func(s *Signal) *string { return &s.Device }),
	name("equipment", "the machine or plant part the signal belongs to", "none", func(s *Signal) *string { return &s.Equipment }),
	plain("range_low", "value at the low end of the signal, in unit", func(s *Signal) *q.Opt[float64] { return &s.RangeLow }),
	plain("range_high", "value at the high end of the signal, in unit", func(s *Signal) *q.Opt[float64] { return &s.RangeHigh }),
	text("unit", "engineering unit of range and alarms", func(s *Signal) *string { return &s.Unit }),
	plain("alarm_low", "low alarm limit, in unit", func(s *Signal) *q.Opt[float64] { return &s.AlarmLow }),
	plain("alarm_high", "high alarm limit, in unit", func(s *Signal) *q.Opt[float64] { return &s.AlarmHigh }),
	{
		Name: "wires", Doc: "conductors between device and station", Default: "the form's usual number", Numeric: true, Min: 2, Max: 8,
		read: readWires, write: writeWires,
	},
	word("sensor", "sensing element of RTD and TC signals", "RTD: Pt100 (info)", sensorNames(), func(s *Signal) *string { return &s.Sensor }),
	number("voltage_v", "V", 1, 0, 1000, "voltage of a load or contact", "the form's", func(s *Signal) *q.Opt[q.Voltage] { return &s.Voltage }),
	number("current_ma", "mA", 1000, 0, 20_000, "current that the device draws (sensor) or the load takes (output)", "the basis's default for kind and form", func(s *Signal) *q.Opt[q.Current] { return &s.Current }),
	number("inrush_ma", "mA", 1000, 0, 200_000, "current when switched on", "not stated", func(s *Signal) *q.Opt[q.Current] { return &s.Inrush }),
	number("load_ohm", "ohm", 1, 0, 1_000_000, "resistance that a current output must drive, or a loop holds besides transmitter and module", "not stated", func(s *Signal) *q.Opt[q.Resistance] { return &s.Load }),
	number("min_voltage_v", "V", 1, 0, 1000, "lowest voltage at the device's terminals with which it still works", "not stated", func(s *Signal) *q.Opt[q.Voltage] { return &s.MinVoltage }),
	number("leakage_ma", "mA", 1000, 0, 100, "current through the device in the off state", "not stated", func(s *Signal) *q.Opt[q.Current] { return &s.Leakage }),
	number("frequency_hz", "Hz", 1, 0, 10_000_000, "highest frequency of pulses; of an output: how often it switches", "not stated", func(s *Signal) *q.Opt[q.Frequency] { return &s.Frequency }),
	number("response_ms", "ms", 1000, 0, 3_600_000, "longest reaction time that the process allows", "not stated", func(s *Signal) *q.Opt[q.Duration] { return &s.Response }),
	name("safe_state", "what an output does when station or network fails: 0, 1, hold, or a value in unit", "not stated", func(s *Signal) *string { return &s.SafeState }),
	{
		Name: "supply_class", Doc: "what feeds the signal's supply group: normal, ups, or safety:NAME (switched off by the safety function NAME)",
		Default: "normal", read: readSupplyClass, write: func(s *Signal) string { return s.SupplyClass },
	},
	name("segregate", "segregation class; its level is set in [basis.segregation]", "none", func(s *Signal) *string { return &s.Segregate }),
	{
		Name: "redundant_with", Doc: "tags or ids of the signals that must not fail together with this one, with ; between them", Default: "none",
		read: readPartners, write: func(s *Signal) string { return strings.Join(s.RedundantWith, "; ") },
	},
	name("station", "station that must serve the signal", "the tool decides", func(s *Signal) *string { return &s.Station }),
	{
		Name: "hart", Doc: "the device speaks HART", Default: "no", Allowed: yesNo, read: readHART,
		write: func(s *Signal) string {
			if s.HART {
				return "yes"
			}
			return ""
		},
	},
	word("ex_level", "level of protection of the intrinsically safe circuit, as the competent person states it", "not intrinsically safe", []string{"ia", "ib", "ic"}, func(s *Signal) *string { return &s.ExLevel }),
	word("ex_zone", "zone in which the device stands", "none", []string{"0", "1", "2", "20", "21", "22"}, func(s *Signal) *string { return &s.ExZone }),
	word("ex_gas", "gas or dust group of the device", "none", []string{"IIA", "IIB", "IIC", "IIIA", "IIIB", "IIIC"}, func(s *Signal) *string { return &s.ExGas }),
	number("ui_v", "V", 1, 0, 1000, "highest voltage allowed at the device (Ui)", "not stated", func(s *Signal) *q.Opt[q.Voltage] { return &s.Ui }),
	number("ii_ma", "mA", 1000, 0, 20_000, "highest current allowed into the device (Ii)", "not stated", func(s *Signal) *q.Opt[q.Current] { return &s.Ii }),
	number("pi_mw", "mW", 1000, 0, 100_000, "highest power allowed into the device (Pi)", "not stated", func(s *Signal) *q.Opt[q.Power] { return &s.Pi }),
	number("ci_nf", "nF", 1e9, 0, 1_000_000, "effective capacitance of the device (Ci)", "not stated", func(s *Signal) *q.Opt[q.Capacitance] { return &s.Ci }),
	number("li_mh", "mH", 1000, 0, 100_000, "effective inductance of the device (Li)", "not stated", func(s *Signal) *q.Opt[q.Inductance] { return &s.Li }),
	word("screen", "screened cable wanted", "yes for AI, AO, RTD, TC, SER and encoders, else no", yesNo, func(s *Signal) *string { return &s.Screen }),
	name("cable", "code of the field cable that must be used", "the tool decides", func(s *Signal) *string { return &s.Cable }),
	text("hold", "what is still to be confirmed; blocks issue for construction", func(s *Signal) *string { return &s.Hold }),
	text("remarks", "anything else", func(s *Signal) *string { return &s.Remarks }),
	word("suppressor", "what quenches the coil of an output's load; none: a coil without; not-a-coil: a lamp, a heater, an electronic input", "not stated", Suppressors, func(s *Signal) *string { return &s.Suppressor }),
	word("junction", "whether a thermocouple's junction is joined to its sheath", "not stated", []string{"earthed", "insulated"}, func(s *Signal) *string { return &s.Junction }),
	word("tolerance", "tolerance class of the sensing element: AA, A, B, C of a resistance thermometer, 1, 2, 3 of a thermocouple", "not stated", []string{"AA", "A", "B", "C", "1", "2", "3"}, func(s *Signal) *string { return &s.Tolerance }),
}

// Suppressors are the words of column suppressor.
var Suppressors = []string{"none", "diode", "rc", "varistor", "built-in", "not-a-coil"}

var yesNo = []string{"yes", "no"}

func kindNames() []string {
	names := make([]string, len(Kinds))
	for i, k := range Kinds {
		names[i] = string(k)
	}
	return names
}

func formNames() []string {
	var all []string
	for _, k := range Kinds {
		for _, f := range Forms[k] {
			if !slices.Contains(all, f) {
				all = append(all, f)
			}
		}
	}
	return all
}

func sensorNames() []string { return append(slices.Clone(Sensors[RTD]), Sensors[TC]...) }

func required(c *Column) *Column { c.Required = true; return c }

// cleaned collapses blanks and line ends to single blanks and reports what cannot be carried.
func cleaned(column, cell string, most int) (string, *finding.Finding) {
	t := strings.Join(strings.Fields(cell), " ")
	switch {
	case !utf8.ValidString(t) || strings.ContainsRune(t, utf8.RuneError):
		return "", bad("LST-006", finding.Error, fmt.Sprintf("%s %q holds characters that were lost when the file was saved", column, clip(t)), "Save the list as UTF-8 and mend the text.")
	case strings.IndexFunc(t, unicode.IsControl) >= 0:
		return "", bad("LST-006", finding.Error, fmt.Sprintf("%s %q holds an invisible control character", column, clip(t)), "Type the text again.")
	case utf8.RuneCountInString(t) > most:
		return "", bad("LST-006", finding.Error, fmt.Sprintf("%s %q has %d characters, at most %d are allowed", column, clip(t), utf8.RuneCountInString(t), most), "Shorten it.")
	}
	return t, nil
}

func text(column, doc string, at func(*Signal) *string) *Column {
	return &Column{
		Name: column, Doc: doc, Default: "empty", write: func(s *Signal) string { return *at(s) },
		read: func(_ *Column, cell string, s *Signal) (f *finding.Finding) {
			*at(s), f = cleaned(column, cell, MaxText)
			return f
		},
	}
}

// name is a text that other places refer to; commas and semicolons would break lists of names.
func name(column, doc, def string, at func(*Signal) *string) *Column {
	return &Column{
		Name: column, Doc: doc, Default: def, write: func(s *Signal) string { return *at(s) },
		read: func(_ *Column, cell string, s *Signal) *finding.Finding {
			t, f := cleaned(column, cell, MaxName)
			if f == nil && strings.ContainsAny(t, ",;") {
				t, f = "", bad("LST-006", finding.Error, fmt.Sprintf("%s %q holds a comma or semicolon, which part names in lists", column, clip(t)), "Take it out.")
			}
			*at(s) = t
			return f
		},
	}
}

// word takes one of the allowed words; case does not matter.
func word(column, doc, def string, allowed []string, at func(*Signal) *string) *Column {
	return &Column{
		Name: column, Doc: doc, Default: def, Allowed: allowed, write: func(s *Signal) string { return *at(s) },
		read: func(c *Column, cell string, s *Signal) *finding.Finding {
			w, f := readWord(c, cell)
			*at(s) = w
			return f
		},
	}
}

func readWord(c *Column, cell string) (string, *finding.Finding) {
	t := strings.TrimSpace(cell)
	if t == "" {
		return "", nil
	}
	for _, a := range c.Allowed {
		if strings.EqualFold(a, t) {
			return a, nil
		}
	}
	msg := fmt.Sprintf("%s %q is not known; allowed are %s", c.Name, clip(t), strings.Join(c.Allowed, ", "))
	remedy := "Write one of them."
	if near, ok := finding.Nearest(t, c.Allowed); ok {
		msg += fmt.Sprintf("; did you mean %s?", near)
		remedy = fmt.Sprintf("Write %s.", near)
	}
	return "", bad("LST-004", finding.Error, msg, remedy)
}

// number is a column in unit whose field is SI: cell = field x factor.
func number[T ~float64](column, unit string, factor, least, most float64, doc, def string, at func(*Signal) *q.Opt[T]) *Column {
	return &Column{
		Name: column, Unit: unit, Doc: doc, Default: def, Numeric: true, Min: least, Max: most,
		read: func(c *Column, cell string, s *Signal) *finding.Finding {
			*at(s) = q.Opt[T]{}
			v, given, f := readLimited(c, cell)
			if given {
				*at(s) = q.Some(T(v / factor))
			}
			return f
		},
		write: func(s *Signal) string {
			if o := *at(s); o.Set {
				return q.ShortScaled(float64(o.Value), factor)
			}
			return ""
		},
	}
}

func plain(column, doc string, at func(*Signal) *q.Opt[float64]) *Column {
	return number(column, "", 1, -big, big, doc, "not stated", at)
}

// readLimited reads a number and holds it against the column's limits.
func readLimited(c *Column, cell string) (v float64, given bool, f *finding.Finding) {
	if strings.TrimSpace(cell) == "" {
		return 0, false, nil
	}
	v, f = ReadNumber(c.Name, cell, c.Unit)
	if f != nil && f.Severity == finding.Error {
		return 0, false, f
	}
	if v < c.Min || v > c.Max {
		return 0, false, bad("LST-003", finding.Error,
			fmt.Sprintf("%s is %s; allowed is %s to %s", c.Name, strings.TrimSpace(q.Short(v)+" "+c.Unit), q.Short(c.Min), strings.TrimSpace(q.Short(c.Max)+" "+c.Unit)),
			"Check value and unit.")
	}
	return v, true, f
}

func readWires(c *Column, cell string, s *Signal) *finding.Finding {
	s.Wires = 0
	v, given, f := readLimited(c, cell)
	switch {
	case !given:
		return f
	case v != float64(int(v)):
		return bad("LST-002", finding.Error, fmt.Sprintf("wires is %s; a whole number from 2 to 8 belongs here", q.Short(v)), "Count the conductors.")
	}
	s.Wires = int(v)
	return f
}

func writeWires(s *Signal) string {
	if s.Wires == 0 {
		return ""
	}
	return strconv.Itoa(s.Wires)
}

func readHART(c *Column, cell string, s *Signal) *finding.Finding {
	s.HART = false
	switch strings.ToLower(strings.TrimSpace(cell)) {
	case "true", "yes": // TRUE is what a spreadsheet makes of a tick
		s.HART = true
		return nil
	case "false", "no", "":
		return nil
	}
	_, f := readWord(c, cell)
	return f
}

func readSupplyClass(c *Column, cell string, s *Signal) *finding.Finding {
	s.SupplyClass = ""
	t, f := cleaned(c.Name, cell, MaxName)
	if f != nil || t == "" {
		return f
	}
	low := strings.ToLower(t)
	class, fn, isSafety := strings.Cut(t, ":")
	switch {
	case low == "normal" || low == "ups":
		s.SupplyClass = low
	case isSafety && strings.EqualFold(class, "safety") && nameLike(strings.TrimSpace(fn)):
		s.SupplyClass = "safety:" + strings.TrimSpace(fn)
	default:
		msg, remedy := fmt.Sprintf("supply_class %q is not known; allowed are normal, ups, safety:NAME", clip(t)), "Write one of them."
		if near, ok := finding.Nearest(class, []string{"normal", "ups", "safety"}); ok {
			if near == "safety" {
				near = "safety:NAME, with the name of the safety function in letters, digits, - _ ."
			}
			remedy = fmt.Sprintf("Write %s.", strings.TrimSuffix(near, "."))
		}
		return bad("LST-017", finding.Error, msg, remedy)
	}
	return nil
}

func nameLike(s string) bool {
	return s != "" && strings.IndexFunc(s, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-_.", r)
	}) < 0
}

func readPartners(c *Column, cell string, s *Signal) *finding.Finding {
	s.RedundantWith = nil
	t, f := cleaned(c.Name, cell, MaxText)
	if f != nil {
		return f
	}
	for _, p := range strings.FieldsFunc(t, func(r rune) bool { return r == ';' || r == ',' }) {
		if p = strings.TrimSpace(p); p != "" && !slices.Contains(s.RedundantWith, p) {
			s.RedundantWith = append(s.RedundantWith, p)
		}
	}
	return nil
}
