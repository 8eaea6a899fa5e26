package project

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/finding"
	q "railwright/internal/quantity"
)

// Row is one row of a signal list as read. A faulty row is left out of the design.
type Row struct {
	Signal Signal
	Faulty bool
	Why    string         // first fault, for the list of what is left out
	Cell   *finding.Where // its spot
}

// ReadRow reads one row: cell gives the text of each canonical column ("" where the file has no such
// column). It applies the rules of one row and fills in what is assumed where cells are empty (id,
// form, active, sensor, supply_class). All faults of the row are returned together.
func ReadRow(cell func(column string) string, at At) (Row, finding.List) {
	r := rowReader{row: Row{Signal: Signal{At: at}}, faulty: map[string]bool{}}
	s := &r.row.Signal
	for _, c := range columns {
		f := c.Parse(cell(c.Name), s)
		switch {
		case f != nil:
			r.add(c.Name, f)
		case c.Required && c.Format(s) == "":
			r.add(c.Name, bad("LST-001", finding.Error, c.Name+" is missing", "Fill in "+c.Name+"."))
		}
	}
	r.check()
	if s.ID == "" && !r.faulty["id"] {
		s.ID = s.Tag
	}
	subject := RowSubject(*s)
	for i := range r.found {
		r.found[i].Subject = subject
	}
	return r.row, r.found
}

// RowSubject names a row in findings and in the list of what is left out.
func RowSubject(s Signal) string {
	switch {
	case s.ID != "":
		return "signal:" + s.ID
	case s.Tag != "":
		return "signal:" + s.Tag
	}
	return "row:" + strconv.Itoa(s.At.Row)
}

// rowReader collects the findings of one row.
type rowReader struct {
	row    Row
	faulty map[string]bool // columns whose cell could not be used
	found  finding.List
}

func (r *rowReader) add(column string, f *finding.Finding) {
	f.Where = r.row.Signal.At.Where(column)
	if f.Severity == finding.Error {
		r.faulty[column] = true
		r.row.fail(f)
	}
	r.found = append(r.found, *f)
}

func (r *Row) fail(f *finding.Finding) {
	if !r.Faulty {
		r.Faulty, r.Why, r.Cell = true, f.Message, f.Where
	}
}

func (r *rowReader) error(column, rule, remedy, format string, args ...any) {
	r.add(column, bad(rule, finding.Error, fmt.Sprintf(format, args...), remedy))
}

func (r *rowReader) warn(column, rule, remedy, format string, args ...any) {
	r.add(column, bad(rule, finding.Warning, fmt.Sprintf(format, args...), remedy))
}

func (r *rowReader) info(column, rule, format string, args ...any) {
	r.add(column, bad(rule, finding.Info, fmt.Sprintf(format, args...), ""))
}

// check applies the rules that look at several cells of the row.
func (r *rowReader) check() {
	s := &r.row.Signal
	if s.SupplyClass == "" && !r.faulty["supply_class"] {
		s.SupplyClass = "normal"
	}
	r.checkRange()
	if s.Kind == "" {
		return // the other rules need it; its absence is reported
	}
	r.checkForm()
	r.checkSensor()
	if s.Form != "" {
		r.checkLoop()
		r.checkWires()
		r.checkVoltage()
	}
	r.checkSafeState()
	r.checkMeaning()
}

func (r *rowReader) checkForm() {
	s := &r.row.Signal
	forms := Forms[s.Kind]
	switch {
	case r.faulty["form"]:
	case s.Form == "":
		s.Form = forms[0]
		if len(forms) > 1 {
			r.info("form", "LST-008", "form is empty; %s is assumed for %s", s.Form, s.Kind)
		}
	case !slices.Contains(forms, s.Form):
		var owners []string
		for _, k := range Kinds {
			if slices.Contains(Forms[k], s.Form) {
				owners = append(owners, string(k))
			}
		}
		r.error("form", "LST-007", fmt.Sprintf("Write one of %s, or change the kind to %s.", strings.Join(forms, ", "), strings.Join(owners, " or ")),
			"form %s belongs to %s, not to %s; allowed for %s are %s", s.Form, strings.Join(owners, " and "), s.Kind, s.Kind, strings.Join(forms, ", "))
		s.Form = ""
	}
}

// CurrentLoop reports whether the signal is a current loop with an input: the ones with active.
func (s *Signal) CurrentLoop() bool {
	return s.Kind == AI && (s.Form == "4-20ma" || s.Form == "0-20ma")
}

func (r *rowReader) checkLoop() {
	s := &r.row.Signal
	if !s.CurrentLoop() || r.faulty["active"] || r.faulty["wires"] {
		return
	}
	switch {
	case s.Active == "" && s.Wires == 4:
		s.Active = "active"
		r.info("active", "LST-009", "active is empty; with 4 wires the device is taken as active (it powers the loop)")
	case s.Active == "":
		s.Active = "passive"
		r.info("active", "LST-009", "active is empty; the device is taken as passive (the station powers the loop)")
	case s.Active == "passive" && s.Wires == 4:
		r.error("wires", "LST-010", "Write active, or 2 wires where the output of the device is powered by the station.",
			"active is passive with 4 wires: nothing would power the loop")
	case s.Active == "active" && s.Wires == 3:
		r.error("wires", "LST-010", "Write passive for a device that the station feeds over the third wire, or 2 wires.",
			"active is active with 3 wires: device and station would both power the loop")
	}
}

// WiresAllowed returns the numbers of conductors that a form can have, the usual one first.
func WiresAllowed(k Kind, form string) []int {
	switch {
	case k == AI:
		return []int{2, 3, 4}
	case k == RTD:
		return []int{3, 2, 4}
	case form == "pnp" || form == "npn":
		return []int{3}
	case form == "pulse-24v":
		return []int{3, 2}
	case form == "encoder-24v":
		return []int{5}
	case form == "encoder-rs422":
		return []int{8}
	case form == "rs485":
		return []int{3, 2}
	case form == "rs232":
		return []int{3}
	case form == "rs422":
		return []int{5, 4}
	}
	return []int{2}
}

func (r *rowReader) checkWires() {
	s := &r.row.Signal
	allowed := WiresAllowed(s.Kind, s.Form)
	if s.Wires == 0 || r.faulty["wires"] || slices.Contains(allowed, s.Wires) {
		return
	}
	sorted := slices.Sorted(slices.Values(allowed))
	words := make([]string, len(sorted))
	for i, n := range sorted {
		words[i] = strconv.Itoa(n)
	}
	r.error("wires", "LST-011", "Mend wires or form.", "wires is %d; %s %s has %s", s.Wires, s.Kind, s.Form, strings.Join(words, " or "))
	s.Wires = 0
}

func (r *rowReader) checkSensor() {
	s := &r.row.Signal
	allowed := Sensors[s.Kind]
	switch {
	case r.faulty["sensor"]:
	case allowed == nil:
		if s.Sensor != "" {
			r.warn("sensor", "LST-019", "Clear the cell, or mend the kind.", "sensor %s has no meaning for %s", s.Sensor, s.Kind)
		}
	case s.Sensor == "" && s.Kind == RTD:
		s.Sensor = "Pt100"
		r.info("sensor", "LST-013", "sensor is empty; Pt100 is assumed")
	case s.Sensor == "":
		r.error("sensor", "LST-012", "Write the thermocouple's type; it stands on the head or on the cable.", "sensor is missing; allowed for %s are %s", s.Kind, strings.Join(allowed, ", "))
	case !slices.Contains(allowed, s.Sensor):
		r.error("sensor", "LST-012", "Mend sensor or kind.", "sensor %s does not belong to %s; allowed are %s", s.Sensor, s.Kind, strings.Join(allowed, ", "))
	}
}

func (r *rowReader) checkRange() {
	s := &r.row.Signal
	if r.faulty["range_low"] || r.faulty["range_high"] {
		return
	}
	lo, hi := s.RangeLow, s.RangeHigh
	switch {
	case lo.Set != hi.Set:
		col := "range_low"
		if lo.Set {
			col = "range_high"
		}
		r.warn(col, "LST-014", "Fill in both ends of the range.", "%s is missing, the other end is given", col)
	case lo.Set && lo.Value >= hi.Value:
		r.error("range_low", "LST-014", "Swap or mend the two.", "range_low %s is not below range_high %s", q.Short(lo.Value), q.Short(hi.Value))
		return
	}
	al, ah := s.AlarmLow, s.AlarmHigh
	for _, a := range []struct {
		column string
		v      q.Opt[float64]
	}{{"alarm_low", al}, {"alarm_high", ah}} {
		if a.v.Set && (lo.Set && a.v.Value < lo.Value || hi.Set && a.v.Value > hi.Value) {
			r.error(a.column, "LST-015", "Mend the alarm limit or the range.", "%s %s is outside the range %s", a.column, q.Short(a.v.Value), rangeText(lo, hi))
		}
	}
	if al.Set && ah.Set && al.Value >= ah.Value {
		r.error("alarm_low", "LST-015", "Swap or mend the two.", "alarm_low %s is not below alarm_high %s", q.Short(al.Value), q.Short(ah.Value))
	}
}

func rangeText(lo, hi q.Opt[float64]) string {
	end := func(o q.Opt[float64]) string {
		if o.Set {
			return q.Short(o.Value)
		}
		return "…"
	}
	return end(lo) + " to " + end(hi)
}

func (r *rowReader) checkVoltage() {
	s := &r.row.Signal
	if !s.Voltage.Set {
		return
	}
	least, most := 0.0, 0.0
	switch s.Form {
	case "120vac":
		least, most = 100, 130
	case "230vac":
		least, most = 200, 250
	case "24v":
		if v := float64(s.Voltage.Value); s.Kind == DO && v >= 40 && v <= 60 {
			return // 48 V DC
		}
		least, most = 18, 32
	default:
		return
	}
	if v := float64(s.Voltage.Value); v < least || v > most {
		also := ""
		if s.Kind == DO && s.Form == "24v" {
			also = " (or 40 to 60 for 48 V)"
		}
		r.error("voltage_v", "LST-018", "Mend voltage_v or form.", "voltage_v is %s; form %s means %s to %s V%s", q.Short(v), s.Form, q.Short(least), q.Short(most), also)
	}
}

func (r *rowReader) checkSafeState() {
	s := &r.row.Signal
	if s.SafeState == "" || r.faulty["safe_state"] {
		return
	}
	if strings.EqualFold(s.SafeState, "hold") {
		s.SafeState = "hold"
	}
	switch {
	case !s.Kind.Output():
		r.warn("safe_state", "LST-019", "Clear the cell, or mend the kind.", "safe_state has no meaning for %s", s.Kind)
	case s.SafeState == "hold":
	case s.Kind == DO:
		if s.SafeState != "0" && s.SafeState != "1" {
			remedy := "Write 0, 1 or hold."
			switch strings.ToLower(s.SafeState) {
			case "off", "open", "false", "closed", "on", "true", "close":
				remedy += " 0 is without current, 1 with current."
			}
			r.error("safe_state", "LST-016", remedy, "safe_state %q is not known for DO; allowed are 0, 1, hold", clip(s.SafeState))
		}
	default:
		v, f := ReadNumber("safe_state", s.SafeState, s.Unit)
		switch {
		case f != nil && f.Severity == finding.Error:
			r.error("safe_state", "LST-016", "Write hold or the value.", "safe_state %q is neither hold nor a value", clip(s.SafeState))
		case s.RangeLow.Set && v < s.RangeLow.Value || s.RangeHigh.Set && v > s.RangeHigh.Value:
			r.error("safe_state", "LST-016", "Mend safe_state or the range.", "safe_state %s is outside the range %s", q.Short(v), rangeText(s.RangeLow, s.RangeHigh))
		default:
			if f != nil {
				r.add("safe_state", f)
			}
			s.SafeState = q.Short(v)
		}
	}
}

// checkMeaning warns of values that nothing will use, and of a row that names itself.
func (r *rowReader) checkMeaning() {
	s := &r.row.Signal
	idle := func(column string, set bool) {
		if set {
			r.warn(column, "LST-019", "Clear the cell, or mend kind or form.", "%s has no meaning for %s %s", column, s.Kind, s.Form)
		}
	}
	if s.Form != "" {
		idle("active", s.Active != "" && !s.CurrentLoop())
		idle("hart", s.HART && (!s.Kind.Analogue() || s.Form != "4-20ma"))
		idle("contact", s.Contact != "" && s.Kind != DI && s.Kind != DO)
		idle("frequency_hz", s.Frequency.Set && s.Kind != CNT && s.Kind != DI && s.Kind != DO)
		idle("inrush_ma", s.Inrush.Set && s.Kind != DO)
		idle("load_ohm", s.Load.Set && !s.Kind.Analogue())
	}
	ex := s.Ui.Set || s.Ii.Set || s.Pi.Set || s.Ci.Set || s.Li.Set
	if ex && s.ExLevel == "" && !r.faulty["ex_level"] {
		r.warn("ex_level", "LST-020", "State ex_level (ia, ib, ic) as the competent person has decided, or clear the figures.",
			"ex_level is empty, yet figures of an intrinsically safe circuit are given; the signal is planned on ordinary modules")
	}
	if slices.Contains(s.RedundantWith, s.Tag) || s.ID != "" && slices.Contains(s.RedundantWith, s.ID) {
		r.error("redundant_with", "LST-021", "Name the partner.", "redundant_with names the signal itself")
	}
}
