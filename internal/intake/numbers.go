package intake

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// reading is what a numeric cell gave.
type reading struct {
	value float64
	unit  string // written behind the number
	ok    bool
}

// numeric reads a cell that should hold one number, perhaps with a unit. What is none is reported:
// open values put the signal on hold, symbols become remarks, misprints condemn the row.
func (rec *record) numeric(d *draft, i int, column string) reading {
	text := rec.texts[i]
	switch {
	case text == "":
		return reading{}
	case rec.cellKind(i) == CellDate:
		rec.fault(d, i, "IMP-034", fmt.Sprintf("%s is the date %s: a spreadsheet has probably turned a value such as 4-20 or 1.5 into it", column, text), "Type the value again with the cell formatted as text or number.")
		return reading{}
	case isPlaceholder(text):
		if isOpen(text) {
			rec.r.openHold(d, rec.where(i), column, text)
		} else if rec.cellKind(i) == CellFault || strings.HasPrefix(text, "#") {
			rec.r.warn("IMP-038", rec.where(i), fmt.Sprintf("%s shows the error %s and is left empty", column, text), "Mend the formula, or type the value.")
		}
		return reading{}
	}
	v, ok := rangeOrValue(text, rec.r.style)
	switch {
	case ok && v.single:
		if noLimit(v.high) {
			rec.r.assume("IMP-030", rec.where(i), 0.9, "%s %s stands for no limit and is left empty", column, quoted(text))
			return reading{}
		}
		rec.ambiguous(d, i, column, text, v)
		return reading{value: v.high, unit: v.unit, ok: true}
	case ok:
		rec.doubt(d, i, "IMP-035", fmt.Sprintf("%s %s is a range where one value belongs; it is kept as a remark", column, quoted(text)), "Write one value.")
		d.remark(column + " " + text)
		return reading{}
	case symbol(text):
		rec.doubt(d, i, "IMP-028", fmt.Sprintf("%s %s is a symbol or word, no number; it is kept as a remark", column, quoted(text)), "Write the number.")
		d.remark(column + " " + text)
		return reading{}
	}
	msg, remedy := fmt.Sprintf("%s %s is not a number", column, quoted(text)), "Write a number."
	if m := meant(text); m != "" {
		msg += "; did you mean " + m + "?"
		remedy = "Write " + m + "."
	}
	rec.fault(d, i, "LST-002", msg, remedy)
	return reading{}
}

// ambiguous tells how a number such as 2,500 was read.
func (rec *record) ambiguous(d *draft, i int, column, text string, v valueRange) {
	if !v.ambiguous || rec.cellKind(i) == CellNumber {
		return
	}
	sure := 0.9
	if rec.r.style == styleUnknown {
		sure = 0.7
	}
	ends := short(v.high)
	if !v.single {
		ends = short(v.low) + " to " + short(v.high)
	}
	rec.say(d, i, "IMP-031", sure, "%s %s is read as %s", column, quoted(text), ends)
}

// symbol reports whether a text names a value instead of giving it: "HH_SP", "see datasheet", "P_max".
func symbol(t string) bool {
	letters := 0
	for i, r := range t {
		if r >= '0' && r <= '9' {
			if i == 0 {
				return false
			}
			continue
		}
		if r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r > 127 {
			letters++
		}
	}
	return letters >= 2 && (t[0] < '0' || t[0] > '9') && t[0] != '-' && t[0] != '+' && t[0] != '.' || t == "*" || t == "**"
}

// noLimit reports values that controllers and databases use for "none".
func noLimit(v float64) bool {
	switch a := math.Abs(v); {
	case a == 2147483647 || a == 2147483648 || a == 4294967295, a >= 1e30:
		return true
	case a >= 999999 && strings.Trim(short(a), "9.") == "":
		return true
	}
	return false
}

// rawCounts are the upper ends of converters' ranges.
var rawCounts = map[float64]bool{4095: true, 4096: true, 8191: true, 8192: true, 16383: true, 16384: true, 20480: true, 27648: true, 27649: true, 30840: true, 31208: true, 32000: true, 32767: true, 32768: true, 32760: true, 65535: true, 65536: true, 64000: true, 55296: true}

func isRawCounts(lo, hi float64, unit string) bool {
	if unit != "" {
		switch fold(unit) {
		case "count", "counts", "raw", "dec", "digits", "digit", "bit", "bits", "cnt", "int", "inc", "pts":
			return true
		}
		return false
	}
	return rawCounts[hi] && (lo == 0 || lo == -hi || lo == -hi-1 || lo == 819 || lo == 820 || lo == 4000 || lo == 5530 || lo == 5529 || lo == 6240 || lo == 6400 || lo == 6553 || lo == 13107 || lo == 6242 || lo == 11008 || lo == 4096)
}

// ranges reads range and unit of an analogue signal.
func (rec *record) ranges(d *draft, tr *traits) {
	unit, unitAt := rec.unit(d)
	v, at, found := rec.rangeCells(d)
	if !found && len(tr.process) > 0 {
		at = rec.saysRange(tr.process[0])
		if at >= 0 {
			v, found = tr.process[0], true
			if len(tr.process) > 1 {
				rec.say(d, at, "IMP-035", 0.7, "%s holds several ranges; the first is taken", quoted(rec.texts[at]))
			}
			rec.ambiguous(d, at, "range", rec.texts[at], v)
			rec.besides(d, at, v)
			if !slices.Contains(rec.by[roleRange], at) {
				rec.say(d, at, "IMP-037", 0.85, "%s gives the range %s", quoted(rec.texts[at]), strings.TrimSpace(short(v.low)+" to "+short(v.high)+" "+v.unit))
			}
		}
	}
	if !found {
		v, found = rec.describedRange(d, unit)
		at = firstOfRoles(rec, "description")
	}
	if !found {
		if unit != "" {
			d.set("unit", unit, rec.t.columns[unitAt].index)
		}
		rec.lonelyRange(d, tr)
		return
	}
	col := rec.t.columns[at].index
	if v.unit != "" {
		own, known := parseUnit(v.unit)
		switch {
		case unit == "" && (known || len(v.unit) <= 12):
			unit, unitAt = own, at
			if !known {
				rec.r.assume("IMP-032", rec.where(at), 0.6, "unit %s is not known and kept as it is", quoted(v.unit))
			}
		case own == "%" && strings.HasPrefix(unit, "%"): // 0-100 % beside %RH
		case known && unit != own && unit != "":
			rec.doubt(d, at, "IMP-035", fmt.Sprintf("the range is in %s, the unit's column says %s; the range's is taken", own, unit), "Make them agree.")
			unit, unitAt = own, at
		}
	}
	if isRawCounts(v.low, v.high, rawUnit(v.high, unit)) {
		rec.r.assume("IMP-029", rec.where(at), 0.85, "%s to %s are counts of a converter, no range of the process; kept as a remark", short(v.low), short(v.high))
		d.remark(fmt.Sprintf("raw %s..%s", short(v.low), short(v.high)))
		if unit != "" && !isRawCounts(0, 0, unit) {
			d.set("unit", unit, rec.t.columns[unitAt].index)
		}
		return
	}
	d.set("range_low", short(v.low), col)
	highCol := col
	if j := rec.by["range_high"]; len(j) > 0 && rec.texts[j[0]] != "" {
		highCol = rec.t.columns[j[0]].index
	}
	d.set("range_high", short(v.high), highCol)
	if unit != "" {
		d.set("unit", unit, rec.t.columns[unitAt].index)
	}
}

// saysRange is the position of the cell that a range was found in, -1 if none.
func (rec *record) saysRange(v valueRange) int {
	for _, ro := range []role{roleRange, "form", roleElectrical, "kind", roleNature, "voltage_v", "remarks", roleMaker, roleNote, "device", ""} {
		for _, i := range rec.by[ro] {
			if rec.texts[i] != "" && slices.Contains(rec.r.cachedTraits(rec.texts[i]).process, v) {
				return i
			}
		}
	}
	return firstOfRoles(rec, roleRange, "form", roleElectrical, "kind")
}

// besides keeps what a cell says besides its range and nobody has understood: "0-100 % (inverse)".
func (rec *record) besides(d *draft, i int, v valueRange) {
	text := rec.texts[i]
	if !slices.Contains(rec.by[roleRange], i) || v.end <= v.at || v.end > len(text) {
		return
	}
	rest := strings.Trim(stripWords(text[:v.at]+" "+text[v.end:]), " ()[]{},;:.-=/")
	letters := 0
	for _, r := range rest {
		if unicode.IsLetter(r) {
			letters++
		}
	}
	if o := rec.r.cachedTraits(rest); letters < 3 || o.said > 0 || len(o.process) > 0 {
		return
	}
	rec.r.assume("IMP-024", rec.where(i), 0.6, "%s beside the range is kept as a remark", quoted(rest))
	d.remark("range " + text)
}

// describedRange takes a range with a known unit out of the description where no column gives one.
func (rec *record) describedRange(d *draft, unit string) (valueRange, bool) {
	if rec.text(roleRange)+rec.text("range_high") != "" {
		return valueRange{}, false
	}
	for _, i := range rec.by["remarks"] {
		v, ok := rangeOrValue(rec.texts[i], rec.r.style)
		if u, known := parseUnit(v.unit); ok && !v.single && known && u != "" && v.low < v.high && (unit == "" || unit == u) && !v.level() && (v.low <= 0 || containsAny(rec.texts[i], "..", "…", "-", "–", " to ", " bis ", " à ", " a ")) {
			rec.say(d, i, "IMP-037", 0.75, "the range %s to %s %s is taken from the remarks", short(v.low), short(v.high), u)
			return v, true
		}
	}
	for _, v := range rec.r.describedTraits(d.get("description")).process {
		if u, known := parseUnit(v.unit); known && u != "" && v.low < v.high && (unit == "" || unit == u) {
			rec.say(d, firstOfRoles(rec, "description"), "IMP-037", 0.7, "the range %s to %s %s is taken from the description", short(v.low), short(v.high), u)
			return v, true
		}
	}
	return valueRange{}, false
}

// rawUnit keeps a unit that is no unit of counts from hiding that the range is one of counts: 0 to
// 27648 bar is a range of counts all the same.
func rawUnit(high float64, unit string) string {
	switch high {
	case 4095, 8191, 16383, 27648, 27649, 32767, 65535: // no process ends there
		return ""
	}
	switch unit {
	case "bar", "degC", "%", "m", "pH", "mbar", "A":
		return ""
	}
	return unit
}

// rangeCells reads the two columns of a range, or the one.
func (rec *record) rangeCells(d *draft) (v valueRange, at int, found bool) {
	lows, highs := rec.by["range_low"], rec.by["range_high"]
	if len(lows) > 0 && len(highs) > 0 && !(rec.t.columns[highs[0]].sure < 0.9 && rec.text(roleRange) != "" && len(findRanges(rec.text(roleRange), rec.r.style)) > 0) {
		li, hi := lows[0], highs[0]
		lo, up := rec.numeric(d, li, "range_low"), rec.numeric(d, hi, "range_high")
		if !lo.ok && !up.ok {
			return v, -1, false
		}
		if lo.ok != up.ok {
			if up.ok && rec.texts[li] == "" && up.value > 0 {
				rec.say(d, hi, "IMP-037", 0.7, "the range has no low end; 0 is taken")
				lo = reading{ok: true}
			} else {
				i, column, r := li, "range_low", lo
				if up.ok {
					i, column, r = hi, "range_high", up
				}
				d.set(column, short(r.value), rec.t.columns[i].index)
				return v, -1, false
			}
		}
		unit := up.unit
		if unit == "" {
			unit = lo.unit
		}
		if unit == "" {
			unit = rec.t.columns[hi].unit
		}
		return valueRange{low: lo.value, high: up.value, unit: unit}, hiOrLow(rec, li, hi), true
	}
	text, i := rec.get(roleRange)
	if i < 0 || isPlaceholder(text) {
		if i >= 0 && isOpen(text) {
			rec.r.openHold(d, rec.where(i), "range", text)
		}
		return v, -1, false
	}
	if rec.cellKind(i) == CellDate {
		rec.fault(d, i, "IMP-034", fmt.Sprintf("the range is the date %s: a spreadsheet has probably turned a range such as 0-10 into it", text), "Type the range again with the cell formatted as text.")
		return v, -1, false
	}
	o, ok := rangeOrValue(text, rec.r.style)
	if !ok || !o.single {
		return v, -1, false
	}
	if o.high <= 0 {
		return v, -1, false
	}
	rec.say(d, i, "IMP-037", 0.7, "range %s is one value; the range is taken from 0", quoted(text))
	return o, i, true
}

func hiOrLow(rec *record, li, hi int) int {
	if rec.texts[li] != "" {
		return li
	}
	return hi
}

// lonelyRange reports a range column whose text gave nothing.
func (rec *record) lonelyRange(d *draft, tr *traits) {
	text, i := rec.get(roleRange)
	if i < 0 || isPlaceholder(text) || tr.form != "" && rec.r.cachedTraits(text).form != "" || rec.r.cachedTraits(text).said > 0 {
		return
	}
	if m := meant(text); m != "" {
		rec.fault(d, i, "LST-002", fmt.Sprintf("range %s is not understood; did you mean %s?", quoted(text), m), "Write "+m+".")
		return
	}
	if v, ok := rangeOrValue(text, rec.r.style); ok && v.single && v.high == 0 {
		return
	}
	rec.doubt(d, i, "IMP-028", fmt.Sprintf("range %s is not understood; it is kept as a remark", quoted(text)), "Write it as low to high with the unit, such as 0..10 bar.")
	d.remark("range " + text)
}

// unit reads the unit's column, or the unit in the heading of a range column.
func (rec *record) unit(d *draft) (string, int) {
	text, i := rec.get("unit")
	if i >= 0 && !isPlaceholder(text) {
		u, known := parseUnit(text)
		switch {
		case isState(text):
			return "", i
		case !known && len(text) > 24:
			d.remark("unit " + text)
			return "", i
		case !known:
			rec.r.assume("IMP-032", rec.where(i), 0.6, "unit %s is not known and kept as it is", quoted(text))
		case u != text:
			rec.r.assume("IMP-032", rec.where(i), 0.95, "unit %s is written %s", quoted(text), u)
		}
		return u, i
	}
	if i >= 0 && isOpen(text) {
		rec.r.openHold(d, rec.where(i), "unit", text)
	}
	if alone, j := rec.get(roleRange); i < 0 && j >= 0 { // a cell for the range that holds only the unit
		if u, known := parseUnit(alone); known && u != "" && !isState(alone) {
			rec.r.assume("IMP-032", rec.where(j), 0.85, "range %s is a unit only", quoted(alone))
			return u, j
		}
	}
	for _, ro := range []role{roleRange, "range_high", "range_low"} {
		for _, j := range rec.by[ro] {
			if u := rec.t.columns[j].unit; u != "" && rec.texts[j] != "" && u != "mA" {
				return u, j
			}
		}
	}
	return "", -1
}

// reAlarmText is a setpoint that says itself which limits it gives: "L 2.0 / LL 1.5".
var reAlarmText = regexp.MustCompile(`(?i)^(?:hihi|lolo|hh|ll|hi|lo|h|l)\s*[:=@]?\s*[-+]?\d`)

var reAlarm = regexp.MustCompile(`(?i)(?:^|[^a-z])(hihi|lolo|hh|ll|hi|lo|h|l|high|low|max|min)\s*[:=@]?\s*([-+]?\d[\d.,]*)`)

// alarms reads the alarm limits.
func (rec *record) alarms(d *draft) {
	for _, a := range []string{"alarm_low", "alarm_high"} {
		for _, i := range rec.by[role(a)] {
			if t := rec.texts[i]; t != "0" && t != "1" && (isMark(t) || isYes(t) || isNo(t)) {
				continue // "an alarm is wanted" gives no limit
			}
			if v := rec.numeric(d, i, a); v.ok {
				if v.unit != "" {
					if u, known := parseUnit(v.unit); known && d.get("unit") != "" && u != d.get("unit") {
						rec.doubt(d, i, "IMP-035", fmt.Sprintf("%s is in %s, the signal's unit is %s; it is kept as a remark", a, u, d.get("unit")), "Write it in the signal's unit.")
						d.remark(a + " " + rec.texts[i])
						continue
					}
				}
				d.set(a, short(v.value), rec.t.columns[i].index)
			}
		}
	}
	for _, i := range slices.Concat(rec.by[roleAlarm], rec.by[roleSetpoint]) {
		text := rec.texts[i]
		if rec.t.columns[i].role == roleSetpoint && !reAlarmText.MatchString(text) {
			continue // kept as a remark
		}
		if text == "" || isPlaceholder(text) || isMark(text) || isNo(text) || isYes(text) {
			continue
		}
		found := reAlarm.FindAllStringSubmatch(text, -1)
		if len(found) == 0 {
			d.remark("alarm " + text)
			continue
		}
		for _, m := range found {
			v, ok := parseNumber(strings.TrimRight(m[2], ".,"), rec.r.style)
			if !ok {
				continue
			}
			switch strings.ToLower(m[1]) {
			case "h", "hi", "high", "max":
				d.fill("alarm_high", short(v), rec.t.columns[i].index)
			case "l", "lo", "low", "min":
				d.fill("alarm_low", short(v), rec.t.columns[i].index)
			default:
				d.remark("alarm " + m[1] + " " + m[2])
			}
		}
		rec.r.assume("IMP-023", rec.where(i), 0.9, "alarm %s is read as limits", quoted(text))
	}
}

// idleRange keeps what a discrete signal cannot use: a switch's range and limits become remarks.
func (rec *record) idleRange(d *draft, tr *traits) {
	var said []string
	for _, c := range []struct {
		ro   role
		name string
	}{{roleRange, "range"}, {"range_low", "range from"}, {"range_high", "to"}, {"alarm_low", "low"}, {"alarm_high", "high"}} {
		t, i := rec.get(c.ro)
		if i < 0 || isPlaceholder(t) || t == "0" || t == "1" || isState(t) || len(tr.process) == 0 && c.ro == roleRange {
			continue
		}
		if o := rec.r.cachedTraits(t); c.ro == roleRange && (o.said > 0 || o.discrete) {
			continue
		}
		if _, ok := rangeOrValue(t, rec.r.style); !ok && meant(t) != "" {
			rec.doubt(d, i, "IMP-028", fmt.Sprintf("%s %s is not a number; did you mean %s? A discrete signal does not use it", c.name, quoted(t), meant(t)), "Mend the cell.")
		}
		said = append(said, c.name+" "+t)
	}
	if len(said) == 0 {
		return
	}
	if u, i := rec.get("unit"); i >= 0 && !isState(u) && !isPlaceholder(u) {
		said = append(said, u)
	}
	d.remark(strings.Join(said, " "))
}
