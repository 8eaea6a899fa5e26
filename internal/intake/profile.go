package intake

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"railwright/internal/project"
)

// profile counts what the cells of a column look like, over a sample.
type profile struct {
	n        int // filled cells
	rows     int // cells looked at
	distinct int

	tag, spaced, long               int
	kind, nature, direction, traits int
	formOnly, sensor                int
	contact, unit, state            int
	number, withUnit, rng, process  int
	address, mark, small, rising    int
	yesno, short, date, placeholder int
	ourKind, upper                  int
	source, binary, system          int
}

const sample = 250

// profileOf looks at a column's cells below the heading.
func (r *reader) profileOf(s *Sheet, col, first, last int) profile {
	var p profile
	seen := map[string]bool{}
	before := -1.0
	step := max(1, (last-first+1)/(4*sample)) | 1 // odd: lists go in twos and fours
	for row := first; row <= last && p.n < sample; row += step {
		p.rows++
		t := s.cell(row, col)
		if t == "" {
			continue
		}
		p.n++
		f := r.features(t)
		if !seen[t] {
			seen[t] = true
			p.distinct++
		}
		p.count(f)
		if f.isNumber {
			if f.value > before {
				p.rising++
			}
			before = f.value
		}
	}
	return p
}

// features of one text, computed once per different text.
type features struct {
	isNumber, withUnit, rng, process, tag, spaced, long, kind, nature, direction, traits, formOnly, sensor              bool
	contact, unit, state, address, mark, small, yesno, short, date, placeholder, upper, ourKind, source, binary, system bool
	value                                                                                                               float64
}

func (r *reader) features(t string) features {
	if f, ok := r.feats[t]; ok {
		return f
	}
	f := look(t)
	if len(r.feats) < 50_000 {
		r.feats[t] = f
	}
	return f
}

var (
	reTag  = regexp.MustCompile(`^[=+\-]?[A-Za-z0-9ÄÖÜäöü&?][A-Za-z0-9ÄÖÜäöü._/\-+=:#&?* ]*$`)
	reDate = regexp.MustCompile(`^\d{4}-\d\d-\d\d(T.*)?$|^\d{1,2}[./]\d{1,2}[./]\d{2,4}$`)
	reAddr = regexp.MustCompile(`(?i)^%?\s*(?:p?[ieaq][wbdx]?|[ioaq]x|d[io]|a[io]|mw|db\d+\.db[wxd])\s*\d+(?:[.:/]\d+)*$|^(?:[ioeaq]|%[ioeaq])\s?[0-9]+[.:][0-9]+$|^[\w ]+[:./]\d+[:./][\w.]+[.:/]\d+$|^\d+[./:-]\d+[./:-]\d+(?:[./:-]\d+)?$|^[0134]\d{4,5}$`)
)

func look(t string) features {
	var f features
	var style numberStyle
	low := strings.ToLower(t)
	n, isNum := scanNumber(t, style)
	if isNum && strings.TrimSpace(n.rest) == "" {
		f.isNumber, f.value = true, n.value
		f.small = n.value == float64(int(n.value)) && n.value >= 0 && n.value <= 64
	} else if v, ok := rangeOrValue(t, style); ok {
		if v.single {
			_, known := parseUnit(v.unit)
			f.withUnit = known && v.unit != ""
		} else {
			f.rng = true
			_, el := v.electrical()
			f.process = !el && !v.level() && !terminals(v)
		}
	}
	f.date = reDate.MatchString(t)
	letters, digits, spaces := 0, 0, 0
	for _, c := range t {
		switch {
		case unicode.IsLetter(c):
			letters++
		case c >= '0' && c <= '9':
			digits++
		case c == ' ':
			spaces++
		}
	}
	f.long = letters >= 12 && spaces >= 1
	f.spaced = spaces >= 1 && letters >= 5 && letters > 2*digits || letters >= 8 && digits == 0
	f.upper = t == strings.ToUpper(t)
	f.short = len(t) <= 12
	f.placeholder = isPlaceholder(t)
	f.address = reAddr.MatchString(t) && !f.date
	f.tag = !f.isNumber && !f.date && !f.address && digits > 0 && letters > 0 && len(t) >= 3 && len(t) <= 45 && spaces <= 2 && reTag.MatchString(t) && !f.rng && !f.withUnit
	_, f.kind = kindWord(t, true)
	f.ourKind = slices.Contains(project.Kinds, project.Kind(strings.ToUpper(strings.TrimSpace(t))))
	f.nature = natureWord(t) != ""
	f.direction = directionWord(t) != ""
	_, f.unit = parseUnit(t)
	f.unit = f.unit && !isDash(t)
	f.state = isState(t)
	_, f.contact = contactCell(t)
	switch low {
	case "yes", "no", "y", "n", "ja", "nein", "j", "oui", "non", "o", "si", "sí", "true", "false", "wahr", "falsch", "vrai", "faux", "verdadero", "falso":
		f.yesno = true
	}
	f.mark = isMark(t)
	f.binary = f.mark || t == "0" || t == "1"
	f.source = isSource(t)
	f.system = inList(fold(t), wSystems)
	tr := parseTraits(t, style)
	f.traits = tr.said > 0
	f.formOnly = tr.form != "" || tr.sensor != "" || tr.relay || tr.level != "" || tr.kind != "" || tr.hart || tr.network
	f.sensor = tr.sensor != "" || isSensorCell(t)
	if f.traits && (tr.form != "" || tr.sensor != "" || tr.hart) && letters < 14 {
		f.tag = false
	}
	if f.kind {
		f.tag = false
	}
	if (tr.form != "" || tr.sensor != "") && letters < 16 && digits >= 2 {
		f.spaced, f.long = false, false // "4-20mA 2-wire HART" describes nothing
	}
	return f
}

// terminals reports a range that may as well be a pair of terminals: "3-4".
func terminals(v valueRange) bool {
	return v.unit == "" && v.low >= 1 && v.high-v.low <= 4 && v.low == float64(int(v.low)) && v.high == float64(int(v.high))
}

func (p *profile) count(f features) {
	add := func(n *int, yes bool) {
		if yes {
			*n++
		}
	}
	add(&p.tag, f.tag)
	add(&p.spaced, f.spaced)
	add(&p.long, f.long)
	add(&p.kind, f.kind)
	add(&p.ourKind, f.ourKind)
	add(&p.nature, f.nature)
	add(&p.direction, f.direction)
	add(&p.traits, f.traits)
	add(&p.formOnly, f.formOnly)
	add(&p.sensor, f.sensor)
	add(&p.contact, f.contact)
	add(&p.unit, f.unit)
	add(&p.state, f.state)
	add(&p.number, f.isNumber)
	add(&p.withUnit, f.withUnit)
	add(&p.rng, f.rng)
	add(&p.process, f.process)
	add(&p.address, f.address)
	add(&p.mark, f.mark)
	add(&p.small, f.small)
	add(&p.yesno, f.yesno)
	add(&p.short, f.short)
	add(&p.date, f.date)
	add(&p.placeholder, f.placeholder)
	add(&p.upper, f.upper)
	add(&p.source, f.source)
	add(&p.binary, f.binary)
	add(&p.system, f.system)
}

// misfit reports that a column's content rules a meaning out, whatever the heading says: crosses are
// no names, numbers in the thousands are no wires, bare numbers under "Speed ref." are no tags.
func (p *profile) misfit(k candidate) bool {
	if p.n < 2 {
		return false
	}
	switch k.role {
	case "wires":
		return p.affinity("wires") < 0.2
	case roleSource:
		return p.share(p.source) < 0.5
	case roleRange:
		return p.share(p.mark) >= 0.8 || k.factor && p.rng == 0 && p.share(p.number) >= 0.8
	case "equipment":
		return p.share(p.system) >= 0.6 || p.share(p.formOnly) >= 0.7 || p.share(p.mark) >= 0.8
	case roleAddress:
		return k.prior < 0.9 && p.affinity(roleAddress) < 0.45 && p.share(p.small) > 0.5
	case "tag":
		return k.prior < 0.9 && p.affinity("tag") < 0.15
	case "description", "device", "place", "station", "current_ma", "voltage_v", roleBox, rolePanel, roleLoop, roleElectrical, "form", roleAlarm, "unit", "range_low", "range_high", roleFunction, roleStatus, roleRating, roleSetpoint:
		if p.share(p.mark) >= 0.8 {
			return true
		}
	}
	return false
}

// share gives n of the filled cells that are no placeholder.
func (p *profile) share(n int) float64 {
	d := p.n - p.placeholder
	if d <= 0 {
		return 0
	}
	return min(1, float64(n)/float64(d))
}

// affinity says how well a column's content suits a role, from 0 to 1.
func (p *profile) affinity(ro role) float64 {
	if p.n == 0 {
		return 0.3
	}
	uniq := min(1, float64(p.distinct)/float64(p.n)/0.6)
	numeric := p.share(p.number + p.withUnit)
	if kind, ok := ro.count(); ok {
		if kind != "" && p.share(p.kind+p.formOnly) > 0.5 {
			return 0.1
		}
		return p.share(p.mark + p.small)
	}
	switch ro {
	case "id":
		return 0.5 * uniq
	case "tag", roleSymbol:
		a := p.share(p.tag)
		if a < 0.4 {
			a = max(a, 0.5*p.share(p.upper)*uniq*(1-p.share(p.number)))
		}
		return a * (0.3 + 0.7*uniq) * (1 - 0.8*p.share(p.long))
	case "description", "remarks", roleNote:
		return min(1, p.share(p.spaced)+0.2*p.share(p.tag)) * (1 - 0.7*p.share(p.kind)) * (1 - 0.6*p.share(p.formOnly))
	case "kind":
		a := max(p.share(p.kind), 0.75*p.share(p.kind+p.formOnly))
		if p.kind > 0 {
			a = max(a, 0.85*p.share(p.kind+p.direction)) // EA, E, A
		}
		return a
	case roleNature:
		return p.share(p.nature)
	case roleDirection:
		return p.share(p.direction)
	case "form":
		return p.share(p.formOnly)
	case roleElectrical:
		return p.share(p.traits)
	case "sensor":
		return p.share(p.sensor)
	case "contact", roleNormal:
		return p.share(p.contact)
	case "active":
		return max(p.share(p.traits), p.share(p.yesno))
	case "hart":
		return max(p.share(p.yesno+p.mark), p.share(p.formOnly))
	case "unit":
		return p.share(p.unit + p.state)
	case roleRange:
		return max(p.share(p.process), 0.8*p.share(p.process+p.withUnit), 0.5*p.share(p.rng))
	case "range_low", "range_high", "alarm_low", "alarm_high", roleAlarmLL, roleAlarmHH:
		return numeric
	case "current_ma", "inrush_ma", "load_ohm", "min_voltage_v", "leakage_ma", "frequency_hz", "response_ms", roleRating, "voltage_v", "ui_v", "ii_ma", "pi_mw", "ci_nf", "li_mh":
		return max(numeric, 0.9*p.share(p.traits+p.number))
	case roleSource:
		return p.share(p.source)
	case "wires":
		return max(p.share(p.small), p.share(p.traits))
	case roleAddress:
		return max(p.share(p.address), 0.4*p.share(p.number))
	case roleSlot, roleChannel, roleRack, roleQuantity:
		return max(p.share(p.small), 0.6*p.share(p.short))
	case roleRowNo:
		return min(p.share(p.number), 0.3+0.7*p.share(p.rising))
	case "device":
		return 0.6*p.share(p.tag) + 0.3
	case rolePanel:
		a := 0.7*(1-numeric*0.7)*(1-0.7*p.share(p.unit)) + 0.2*p.share(p.tag)
		if p.n >= 5 && p.distinct*10 >= p.n*9 {
			a *= 0.5 // each row another: terminals, no panels
		}
		return a
	case "equipment", "station", roleLoop, roleBox:
		return (0.7*(1-numeric*0.7)*(1-0.7*p.share(p.unit)) + 0.2*p.share(p.tag)) * (1 - 0.9*p.share(p.system)) * (1 - 0.8*p.share(p.formOnly))
	case "place":
		return 0.8 * (1 - p.share(p.formOnly)) * (1 - 0.5*p.share(p.kind)) * (1 - 0.6*p.share(p.unit)) * (1 - 0.8*p.share(p.traits))
	case "screen", "supply_class":
		return 0.4 + 0.4*p.share(p.yesno+p.mark)
	case roleRevision:
		return 0.3 + 0.5*p.share(p.short)
	case roleFunction:
		return 0.6 * (1 - numeric)
	case roleMaker:
		return 0.45 * (1 - p.share(p.kind)) * (1 - p.share(p.formOnly))
	}
	return 0.5
}

var (
	wWired   = phrases("hardwired, hard wired, hard wire, hardwire, wired, hw, hard, h w, direct, physical, io, i/o, verdrahtet, hart verdrahtet, konventionell, filaire, cable, cableado, fil a fil, real, field, conventional")
	wLinked  = phrases("soft, software, sw, s w, serial, serial link, modbus, modbus rtu, modbus tcp, profibus, profibus dp, profinet, ethernet, ethernet ip, bacnet, bacnet ip, bacnet ms tp, opc, opc ua, comms, comm, communication, bus, fieldbus, feldbus, foundation fieldbus, ff, canopen, canbus, can, devicenet, network, netzwerk, data link, datalink, virtual, virtuell, virtuel, internal, intern, interne, interno, calculated, derived, computed, gateway, kommunikation, logiciel, liaison, liaison serie, enlace, enlace serie, comunicacion, tcp ip, rs485, rs 485, rs232, ethercat, io link, as i, asi, hmi, scada, dnp3, iec 61850, goose, m bus, mbus, knx, lon, iec 60870 5 104, iec 104, mqtt")
	wSystems = phrases("dcs, esd, plc, f g, fgs, f and g, pcs, sis, local, bms, icss, psd, bpcs, hipps, ups, scada, sps, pls, api, rtu, pas, dcs esd, package, package plc, mcc, tcs, ams, ias, ccs")
)

// isSource reports whether a cell says how a signal comes: by a wire of its own or over a link.
func isSource(t string) bool {
	f := fold(t)
	return inList(f, wWired) || isLinked(f)
}

// isLinked reports whether a folded text says that a signal comes over a link or is no wire at all.
func isLinked(f string) bool {
	if inList(f, wLinked) {
		return true
	}
	first, _, more := strings.Cut(f, " ")
	return more && (first == "soft" || first == "modbus" || first == "serial" || first == "profibus" || first == "profinet" || first == "bacnet" || first == "opc") && len(f) < 40
}

// isMark reports whether a cell is a cross, a tick or a count.
func isMark(t string) bool {
	switch strings.ToLower(t) {
	case "x", "✓", "✔", "•", "●", "■", "√", "*", "yes", "ja", "oui", "si", "sí", "y", "j", "×", "✗", "☒", "☑", "+":
		return true
	}
	return false
}

// countIn reads a cell of a column of marks or counts: 1 for a mark, the number for a count.
func countIn(t string) (int, bool) {
	if t == "" || isDash(t) {
		return 0, true
	}
	if isMark(t) {
		return 1, true
	}
	low := strings.ToLower(t)
	if low == "no" || low == "n" || low == "non" || low == "nein" || isPlaceholder(t) {
		return 0, true
	}
	low = strings.Trim(low, "x* ()")
	if n, err := strconv.Atoi(low); err == nil && n >= 0 {
		return n, true
	}
	if v, ok := parseNumber(t, styleUnknown); ok && v == float64(int(v)) && v >= 0 {
		return int(v), true
	}
	return 0, false
}

// isSensorCell reads single letters and words that name a sensing element in a column of them.
func isSensorCell(t string) bool {
	_, ok := sensorCell(t)
	return ok
}

// sensorCell reads "K", "Type J", "PT 100", "TC-K" in a column of sensing elements.
func sensorCell(t string) (string, bool) {
	if tr := parseTraits(t, styleUnknown); tr.sensor != "" {
		return tr.sensor, true
	}
	switch u := strings.ToUpper(strings.TrimSpace(t)); u {
	case "K", "J", "T", "E", "N", "R", "S", "B":
		return u, true
	}
	return "", false
}

var placeholders = map[string]bool{}

func init() {
	for _, p := range []string{
		"?", "n/a", "na", "n.a.", "n.a", "#n/a", "#ref!", "#value!", "#name?", "#null!", "#div/0!", "#num!", "tba", "tbd", "tbc", "t.b.a.", "t.b.d.", "t.b.c.", "none", "nil", "null", "xx", "xxx", "xxxx", "later",
		"not applicable", "-", "--", "---", ".", "..", "...", "…", "s/o", "k.a.", "k. a.", "ka", "entfällt", "offen", "keine", "sans objet", "néant", "neant", "a definir", "à définir", "por definir", "no aplica", "ninguno", "unknown", "unbekannt", "hold", "to be confirmed", "to be defined", "to be advised", "folgt", "nn", "n.n.", "inconnu", "x.x", "#nv", "#bezug!", "#wert!", "#name", "pendiente", "nan", "(blank)", "blank", "empty",
	} {
		placeholders[p] = true
	}
}

// isPlaceholder reports whether a text stands for a value that is not there.
func isPlaceholder(t string) bool {
	if t == "" {
		return false
	}
	low := strings.ToLower(t)
	if placeholders[low] || isDash(t) {
		return true
	}
	return strings.Trim(low, "?x*_.-/ #") == "" && len(low) >= 2 && !isMark(low) || strings.Trim(t, "?") == ""
}

// isOpen reports whether a placeholder says that the value is still to come.
func isOpen(t string) bool {
	switch low := strings.ToLower(t); low {
	case "tba", "tbd", "tbc", "t.b.a.", "t.b.d.", "t.b.c.", "to be confirmed", "to be defined", "to be advised", "hold", "folgt", "offen", "a definir", "à définir", "por definir", "pendiente", "later":
		return true
	default:
		return strings.Contains(low, "?")
	}
}
