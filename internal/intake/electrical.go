package intake

import (
	"regexp"
	"strconv"
	"strings"

	"railwright/internal/project"
)

// traits is what free text says about a signal's electrical side.
type traits struct {
	kind     project.Kind // RTD, TC, CNT, SER where the text names one; else ""
	analogue bool
	discrete bool
	form     string
	wires    int
	active   string
	hart     bool
	sensor   string
	contact  string
	voltage  float64 // 0 = none
	ac       bool
	current  float64 // mA, 0 = none
	power    float64 // W or VA, 0 = none
	exLevel  string
	exZone   string
	exGas    string
	relay    bool
	network  bool         // comes over a fieldbus or network, or is no wire at all
	level    string       // a signal level that no form covers, as written ("1-5 V")
	process  []valueRange // ranges in engineering units
	said     int          // how many features were found
	ranges   []valueRange // all ranges
	why      []string     // words that spoke, for messages
}

var (
	reSupply  = regexp.MustCompile(`(?i)(?:\b|^)(?:(ac|dc)\s*)?(12|24|48|60|110|115|120|125|220|230|240)\s*(?:/\s*\d+\s*)?(v|vdc|vac|vcc|vca|volt|volts|v\s*dc|v\s*ac|v\s*cc|v\s*ca|v\s*=|v\s*~)(?:\s*\(?(dc|ac|cc|ca|=|~)\)?)?(?:[^a-z]|$)`)
	reCurrent = regexp.MustCompile(`(?i)(?:^|[^\d.,])(\d+(?:[.,]\d+)?)\s*(ma|a)(?:\s*dc|\s*ac)?(?:[^a-z0-9]|$)`)
	rePower   = regexp.MustCompile(`(?i)(?:^|[^\d.,])(\d+(?:[.,]\d+)?)\s*(w|va|watt)(?:[^a-z0-9/]|$)`)
	reWires   = regexp.MustCompile(`(?i)(?:^|[^0-9a-z.])([234]|two|three|four|zwei|drei|vier)\s*[-–x]?\s*(?:w|wires?|wired|l|leiter|draht|drahtig|adrig|fils?|hilos?|conductors?|leitertechnik|draht-?technik|wire-?technik|w\.)(?:[^a-z]|$)`)
	rePt      = regexp.MustCompile(`(?i)\bpt\s*[-_ ]?\s*(1000|100)\b`)
	reNi      = regexp.MustCompile(`(?i)\bni\s*[-_ ]?\s*(1000|100)\b`)
	reTC      = regexp.MustCompile(`(?i)(?:\b(?:type|typ|tipo|tc|t/c|thermocouples?|thermoelement|thermopar|termopar)(?:[\s:-]+["'(]?|["'(])([kjtenrsb])["']?(?:[^a-z0-9]|$))|(?:^\s*([kjtenrsb])[\s-]*(?:type|typ)\b)`)
	reEx      = regexp.MustCompile(`(?i)\b(?:e?ex)?\s*[-\[( ]?\s*\bi([abc])\b`)
	reExWord  = regexp.MustCompile(`(?i)\b(?:e?ex|intrinsically safe|intrinsic safety|eigensicher\w*|securite intrinseque|sécurité intrinsèque|seguridad intrinseca|seguridad intrínseca)`)
	reGas     = regexp.MustCompile(`\b(III?[ABC])\b`)
	reZone    = regexp.MustCompile(`(?i)\b(?:zone|zona)\s*(20|21|22|0|1|2)\b`)
	reZones   = regexp.MustCompile(`(?i)\b(?:zone|zona)\s*\d{1,2}\s*[/&+,-]\s*\d`) // 0/1: which of them is not for us to say
	rePulse   = regexp.MustCompile(`(?i)\b(pulse|pulses|puls|impuls|impulse|impulsion|impulsions|pulso|pulsos|counter|zähler|zaehler|compteur|contador|frequency|frequenz|fréquence|frecuencia|encoder|drehgeber|codeur|inkremental\w*|incremental)\b`)
	reEncoder = regexp.MustCompile(`(?i)\b(encoder|drehgeber|codeur|inkremental\w*|incremental)\b`)
	reSerial  = regexp.MustCompile(`(?i)\b(modbus[- ]?rtu|rs[- ]?(485|232|422)|serial|seriell|série|serie link|liaison serie)\b`)
	reNet     = regexp.MustCompile(`(?i)\b(profibus|profinet|ethernet|modbus[- ]?tcp|modbus|ethercat|canopen|fieldbus|feldbus|ff h1|devicenet|bacnet|opc|soft|software|virtual|internal|calculated|calc|memory|merker|derived|hmi only|comms?|bus|network|datalink|soft ?signal|logiciel|virtuel|interno|berechnet)\b`)
	reMain    = regexp.MustCompile(`(?i)\bhart\b`)
)

// levelForms are signal ranges that become a form, tried on ranges found in the text.
func (t *traits) takeRanges(s string, style numberStyle) string {
	t.ranges = findRanges(s, style)
	left := s
	for i := len(t.ranges) - 1; i >= 0; i-- {
		v := t.ranges[i]
		form, ok := v.electrical()
		bare := v.unit == ""
		switch {
		case ok && (!bare || strings.TrimSpace(s[:v.at]+s[v.end:]) == "" || mentionsSignal(s)):
			t.form, t.analogue = form, true
			t.said++
		case !ok && v.level() && !bare:
			t.level, t.analogue = strings.TrimSpace(s[v.at:v.end]), true
			t.said++
		case bare && (v.low == 0 || v.low == 1) && v.high == 1:
			t.discrete = true
		default:
			t.process = append([]valueRange{v}, t.process...)
			continue
		}
		left = left[:v.at] + " ; " + left[v.end:]
	}
	return left
}

func mentionsSignal(s string) bool {
	f := fold(s)
	return hasAny(f, signalWords)
}

var signalWords = phrases("hart, ma, wire, 2w, 4w, passive, active, passiv, aktiv, ai, ao, analog, analogue, loop, 2 wire, 4 wire, isolated, transmitter")

// parseTraits reads everything electrical out of a text.
func parseTraits(s string, style numberStyle) traits {
	var t traits
	if s == "" {
		return t
	}
	left := t.takeRanges(s, style)
	if strings.Contains(strings.ToLower(s), "0/4") && strings.Contains(strings.ToLower(s), "20") {
		t.form, t.analogue = "4-20ma", true
		t.said++
	}
	low := strings.ToLower(left)
	f := fold(left)
	t.loop(left, low, f)
	t.sensorElement(left, low, f)
	t.switching(left, low, f)
	t.supply(left)
	if t.power == float64(t.wires) {
		t.power = 0 // "Pt100 3W" has three wires
	}
	t.ex(left, low)
	t.links(left, f)
	return t
}

func (t *traits) saw(word string) {
	t.said++
	t.why = append(t.why, word)
}

var (
	wLoopAlone = phrases("loop, schleife, lazo, boucle, stromschleife")
	wPassive   = phrases("loop powered, loop power, loop pwr, loop pwrd, passive, passiv, passif, pasivo, loop fed, schleifengespeist, speisung durch sps, powered by plc, plc powered, powered from plc, system powered, alimente par boucle, alimentation boucle, boucle passive, alimentado por lazo, lazo pasivo, 2 wire loop, speisung karte, card powered, dcs powered")
	wActive    = phrases("active, aktiv, actif, activo, self powered, externally powered, external supply, external power, fremdgespeist, field powered, mains powered, line powered, active output, auto alimente, alimentation externe, autoalimentado, alimentacion externa, eigenversorgt, separately powered, local power")
)

// digitThen reports whether a digit, perhaps a few blanks, and one of the letters follow one another:
// a cheap test before an expression is tried.
func digitThen(s, letters string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			continue
		}
		for j := i + 1; j < len(s) && j < i+4; j++ {
			if s[j] == ' ' || s[j] == '-' {
				continue
			}
			if strings.IndexByte(letters, s[j]) >= 0 {
				return true
			}
			break
		}
	}
	return false
}

func containsAny(s string, parts ...string) bool {
	for _, p := range parts {
		if strings.Contains(s, p) {
			return true
		}
	}
	return false
}

func (t *traits) loop(s, low, f string) {
	if strings.Contains(low, "hart") && reMain.MatchString(s) {
		t.hart, t.analogue = true, true
		t.saw("HART")
	}
	if !digitThen(low, "wldafhcx\xe2") && !containsAny(low, "wire", "leiter", "draht") {
		// no wires
	} else if m := reWires.FindStringSubmatch(s); m != nil {
		w := strings.ToLower(m[1])
		for i, names := range []string{"2 two zwei", "3 three drei", "4 four vier"} {
			if strings.Contains(names, w) {
				t.wires = i + 2
			}
		}
		t.saw(strings.TrimSpace(m[0]))
	}
	switch {
	case hasAny(f, wPassive), inList(strings.TrimSpace(f), wLoopAlone):
		t.active = "passive"
		t.saw("passive")
	case hasAny(f, wActive):
		t.active = "active"
		t.saw("active")
	}
}

var (
	wRTD = phrases("rtd, resistance thermometer, widerstandsthermometer, resistance temperature detector, sonde a resistance, termorresistencia, thermoresistance, pt100 element")
	wTC  = phrases("thermocouple, thermoelement, termopar, thermopar, t c, tc, thermo couple")
)

func (t *traits) sensorElement(s, low, f string) {
	pt := strings.Contains(low, "pt")
	switch {
	case pt && rePt.MatchString(s):
		t.kind, t.sensor, t.analogue = project.RTD, "Pt"+rePt.FindStringSubmatch(s)[1], true
		t.saw(t.sensor)
	case strings.Contains(low, "ni") && reNi.MatchString(s) && reNi.FindStringSubmatch(s)[1] == "100":
		t.kind, t.sensor, t.analogue = project.RTD, "Ni100", true
		t.saw(t.sensor)
	case containsAny(low, "typ", "tipo", "tc", "t/c", "therm", "term") && reTC.MatchString(s):
		m := reTC.FindStringSubmatch(s)
		t.kind, t.sensor, t.analogue = project.TC, strings.ToUpper(m[1]+m[2]), true
		t.saw("thermocouple " + t.sensor)
	case containsAny(low, "ni", "cu", "pt", "rh") && thermoPair(f) != "":
		t.kind, t.sensor, t.analogue = project.TC, thermoPair(f), true
		t.saw("thermocouple " + t.sensor)
	case t.form == "" && hasAny(f, wThermistor):
		t.level, t.analogue = strings.TrimSpace(s), true
		t.saw("thermistor")
	case hasAny(f, wRTD):
		t.kind, t.analogue = project.RTD, true
		t.saw("resistance thermometer")
	case hasAny(f, wTC):
		t.kind, t.analogue = project.TC, true
		t.saw("thermocouple")
	}
}

// thermoPair reads the materials of a thermocouple as its type. Source: IEC 60584-1, from memory.
func thermoPair(f string) string {
	for _, p := range thermoPairs {
		if hasAny(f, p.words) {
			return p.letter
		}
	}
	return ""
}

var thermoPairs = []struct {
	letter string
	words  []string
}{
	{"N", phrases("nicrsi nisi, nicrosil nisil")},
	{"K", phrases("nicr ni, nicr nial, ni cr ni, chromel alumel")},
	{"E", phrases("nicr cuni, nicr konst, chromel constantan")},
	{"J", phrases("fe cuni, fe konst, fe ko, iron constantan")},
	{"T", phrases("cu cuni, copper constantan")},
	{"B", phrases("pt30rh pt6rh, pt30%rh pt6%rh, pt30rh pt")},
	{"R", phrases("pt13rh pt, pt13%rh pt")},
	{"S", phrases("pt10rh pt, pt10%rh pt, ptrh pt")},
}

var wThermistor = phrases("thermistor, ntc, ptc, 10k, 10k thermistor, 10k3a1, ntc10k, ntc 10k, 20k thermistor, ntc20k, ntc 20k, 10k ohm ntc, ntc 5k, kaltleiter, heissleiter, pt500, ni1000, lg ni1000, pt 500, ni 1000, ni 120, ni120, pt50, cu10, cu50, pt 50")

var (
	wDry   = phrases("pf, dry contact, volt free, potential free, pot free, vfc, potentialfrei, potentialfreier kontakt, pot frei, pot freier kontakt, pf kontakt, contact sec, libre de potentiel, contacto seco, libre de potencial, contacto libre, dry, clean contact, voltage free, hilfskontakt, aux contact, auxiliary contact, switch contact, micro switch, microswitch, reed, limit switch, contact, kontakt, contacto, meldekontakt, schliesserkontakt")
	wNamur = phrases("namur, iec 60947 5 6")
	wPNP   = phrases("pnp, 3 wire pnp, sourcing")
	wNPN   = phrases("npn, sinking")
	wRelay = phrases("relay, relais, rele, interposing relay, koppelrelais, relay output, relaisausgang, sortie relais, salida rele, via ir")
	wWet   = phrases("wetted, wet, wet contact, transistor, solid state, sps signal")
	wProx  = phrases("2 wire prox, 2 wire proximity, 2 draht initiator, proximity 2 wire, 2 wire sensor")
)

func (t *traits) switching(s, low, f string) {
	form := func(name, word string) {
		if t.form == "" {
			t.form = name
		}
		t.discrete = true
		t.saw(word)
	}
	switch {
	case hasAny(f, wNamur):
		form("namur", "NAMUR")
	case hasAny(f, wPNP):
		form("pnp", "PNP")
	case hasAny(f, wNPN):
		form("npn", "NPN")
	case hasAny(f, wProx):
		form("2-wire", "two-wire sensor")
	case hasAny(f, wRelay), f == "ir":
		t.relay, t.discrete = true, true
		t.saw("relay")
	case hasAny(f, wDry):
		form("contact", "contact")
	case hasAny(f, wWet):
		t.discrete = true
		t.saw("wetted")
	}
	if !containsAny(low, "nc", "no", "n.", "n/", "nf", "n c", "n o", "schl", "ffner", "strom", "contact") {
		return
	}
	if c, ok := contactWord(s); ok {
		t.contact, t.discrete = c, true
		t.saw(c)
	}
}

var reContact = regexp.MustCompile(`(?i)(?:^|[^a-z0-9])(n\.?\s?/?\s?[co]\.?|normally[- ]?(?:open|closed?)|norm\.? ?(?:open|closed)|schlie(?:ß|ss)er|öffner|oeffner|ruhestrom|arbeitsstrom|normalement (?:ouvert|ferm[ée]e?)|normalmente (?:abierto|cerrado)|contact [àa] (?:ouverture|fermeture)|n\.?f\.?)(?:[^a-z0-9]|$)`)

var contactDirt = strings.NewReplacer(".", "", " ", "", "-", "", "/", "")

// contactWord finds the normal position of a contact. "NA" is left out here because it also means
// "not applicable"; the contact column knows it.
func contactWord(s string) (string, bool) {
	m := reContact.FindStringSubmatch(s)
	if m == nil {
		return "", false
	}
	w := strings.ToLower(contactDirt.Replace(m[1]))
	switch {
	case w == "nc", w == "nf", strings.Contains(w, "clos"), strings.Contains(w, "ffner"), strings.Contains(w, "ruhestrom"),
		strings.Contains(w, "ferme") && !strings.Contains(w, "fermeture"), strings.Contains(w, "fermé"), strings.Contains(w, "cerrado"), strings.Contains(w, "ouverture"):
		return "NC", true
	}
	return "NO", true
}

func (t *traits) supply(s string) {
	if !digitThen(s, "vV/") && !containsAny(s, "AC", "DC", "ac", "dc") {
		// no voltage
	} else if m := reSupply.FindStringSubmatch(s); m != nil {
		v, _ := strconv.ParseFloat(m[2], 64)
		kind := strings.ToLower(m[1] + m[3] + m[4])
		t.voltage = v
		t.ac = strings.Contains(kind, "ac") || strings.Contains(kind, "ca") || strings.Contains(kind, "~")
		if !t.ac && !strings.Contains(kind, "dc") && !strings.Contains(kind, "cc") && v >= 110 && v != 125 {
			t.ac = true
		}
		t.saw(strings.TrimSpace(m[0]))
	}
	if !digitThen(s, "mMaA") {
		// no current
	} else if m := reCurrent.FindStringSubmatch(s); m != nil {
		v, _ := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
		if strings.EqualFold(m[2], "a") {
			v *= 1000
		}
		t.current = v
		t.said++
	}
	if !digitThen(s, "wWvV") {
		// no power
	} else if m := rePower.FindStringSubmatch(s); m != nil {
		t.power, _ = strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
		t.said++
	}
}

func (t *traits) ex(s, low string) {
	if !containsAny(low, "ex", "ii", "zon", "intrins", "eigensich", "seguridad", "securit", "sécurit") {
		return
	}
	word := reExWord.MatchString(s)
	gas := reGas.FindStringSubmatch(strings.ToUpper(s))
	if m := reEx.FindStringSubmatch(s); m != nil && (word || gas != nil) {
		t.exLevel = "i" + strings.ToLower(m[1])
		t.saw("Ex " + t.exLevel)
	}
	if m := reZone.FindStringSubmatch(s); m != nil && !reZones.MatchString(s) {
		t.exZone = m[1]
		t.said++
	}
	if gas != nil && (word || t.exLevel != "" || t.exZone != "" || reZones.MatchString(s) || strings.HasPrefix(strings.TrimSpace(s), "II")) {
		t.exGas = gas[1]
		t.said++
	}
}

func (t *traits) links(s, f string) {
	if !linkWords.has(f) {
		return
	}
	if m := reSerial.FindString(s); m != "" && !reEncoder.MatchString(s) {
		t.kind, t.analogue, t.discrete = project.SER, false, false
		low := strings.ToLower(m)
		switch {
		case strings.Contains(low, "232"):
			t.form = "rs232"
		case strings.Contains(low, "422"):
			t.form = "rs422"
		default:
			t.form = "rs485"
		}
		t.saw(m)
		return
	}
	if m := rePulse.FindString(s); m != "" && t.kind == "" && t.form != "4-20ma" {
		t.kind, t.discrete = project.CNT, false
		low := strings.ToLower(m)
		switch {
		case strings.HasPrefix(low, "enc") || strings.HasPrefix(low, "dreh") || strings.HasPrefix(low, "cod") || strings.HasPrefix(low, "in"):
			t.form = "encoder-24v"
			if strings.Contains(f, "422") {
				t.form = "encoder-rs422"
			}
		case t.form == "namur":
			t.form = "pulse-namur"
		default:
			t.form = "pulse-24v"
		}
		t.saw(m)
		return
	}
	if m := reNet.FindString(s); m != "" {
		t.network = true
		t.saw(m)
	}
}

// linkWords are the first words of everything that links looks for.
var linkWords = newWordSet(phrases("modbus, rs, rs485, rs232, rs422, serial, seriell, série, serie, liaison, pulse, pulses, puls, impuls, impulse, impulsion, impulsions, pulso, pulsos, counter, zähler, zaehler, compteur, contador, frequency, frequenz, fréquence, frecuencia, encoder, drehgeber, codeur, inkremental, inkrementalgeber, incremental, profibus, profinet, ethernet, ethercat, canopen, fieldbus, feldbus, ff, devicenet, bacnet, opc, soft, software, virtual, internal, calculated, calc, memory, merker, derived, hmi, comms, comm, bus, network, datalink, logiciel, virtuel, interno, berechnet"))

// wordSet is a set of single folded words.
type wordSet map[string]bool

func newWordSet(words []string) wordSet {
	m := wordSet{}
	for _, w := range words {
		m[w] = true
	}
	return m
}

// has reports whether one of the words of a folded text is in the set.
func (m wordSet) has(f string) bool {
	for rest := f; rest != ""; {
		w, tail, _ := strings.Cut(rest, " ")
		if m[w] {
			return true
		}
		rest = tail
	}
	return false
}
