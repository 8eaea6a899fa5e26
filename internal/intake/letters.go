package intake

import (
	"regexp"
	"strings"
)

// isaLetters finds the function letters of a tag: "10-PSHH-2001A" has PSHH.
var isaLetters = regexp.MustCompile(`(?:^|[^A-Za-z])([A-Z]{1,5})[-_ .]?\d{2,}`)

// fromTag weighs the function letters of a tag after ISA-5.1: the first letter is the measured
// variable, the last ones say what is done with it.
//
// Source: ANSI/ISA-5.1 table of identification letters, from memory.
func (e *evidence) fromTag(tag string) {
	up := strings.ToUpper(tag)
	if s := tagSuffix(up); s != "" {
		switch s {
		case "RUN", "RUNNING", "FLT", "FAULT", "FB", "FBK", "RDY", "READY", "TRIP", "TRP", "OPN", "OPND", "OPENED", "CLSD", "CLOSED", "ZSO", "ZSC", "LSO", "LSC", "GSO", "GSC", "ALM", "STS", "REM", "AUTO", "HTH", "ES", "XA", "YL", "RM", "BM", "SM":
			e.add("D", "in", 4, "tag suffix "+s)
			return
		case "CMD", "START", "STRT", "STOP", "STP", "OPEN", "CLOSE", "CLS", "XC", "HSC", "SOV", "BF", "ENA", "ON", "OFF":
			e.add("D", "out", 4, "tag suffix "+s)
			return
		case "PV", "AI", "MV":
			e.add("A", "in", 4, "tag suffix "+s)
			return
		case "SP", "AO", "OUT", "REF", "CV", "SPD":
			e.add("A", "out", 4, "tag suffix "+s)
			return
		case "DI":
			e.add("D", "in", 6, "tag suffix "+s)
			return
		case "DO":
			e.add("D", "out", 6, "tag suffix "+s)
			return
		}
	}
	m := isaLetters.FindStringSubmatch(up)
	if m == nil {
		return
	}
	nature, dir, w := lettersSay(m[1])
	if w > 0 {
		e.add(nature, dir, w, "tag letters "+m[1])
	}
}

// reWordBit are addresses of word and bit, "I:1/0", or of a word alone, "O:4.0".
var reWordBit = regexp.MustCompile(`^([IOQEAioqea]):\d+(?:\.\d+)?([/.])\d+$`)

// reThreeLevels are addresses of rack, module and channel: "%I0.3.2", "%IW0.5.0".
var reThreeLevels = regexp.MustCompile(`^%([IQEAiqea])(?:([XWDxwd]?)\d+\.\d+\.\d+|([WDwd])\d+\.\d+)$`)

// fromAddress weighs a located address: %IX is a discrete input, %QW an analogue output.
func (e *evidence) fromAddress(address string) {
	if m := reWordBit.FindStringSubmatch(address); m != nil {
		nature, dir := "D", "in"
		if m[2] != "/" {
			nature = "A"
		}
		if strings.ContainsAny(m[1], "OoQqAa") {
			dir = "out"
		}
		e.add(nature, dir, 6, "address "+address)
		return
	}
	if m := reThreeLevels.FindStringSubmatch(address); m != nil {
		nature, dir := "D", "in"
		if size := m[2] + m[3]; size != "" && size != "X" && size != "x" {
			nature = "A"
		}
		if strings.ContainsAny(m[1], "QqAa") {
			dir = "out"
		}
		e.add(nature, dir, 6, "address "+address)
		return
	}
	a, ok := located(address, false)
	if !ok {
		return
	}
	nature, dir := "D", "in"
	if a[2] != 'X' {
		nature = "A"
	}
	if a[1] == 'Q' {
		dir = "out"
	} else if a[1] == 'M' {
		return
	}
	e.add(nature, dir, 6, "address "+a)
}

// reGerman are indication with switching and alarm in one tag (DIN 19227, from memory): LISA, PIRCA.
var reGerman = regexp.MustCompile(`^[DFQ]?I(?:R?C?SA|R?CS?A|R?C?S?AZ|RC?A)$`)

var (
	// reLetters are the orders in which ISA-5.1 lets letters follow the first one: a modifier, readouts,
	// a function, and high, low, open or closed.
	reLetters = regexp.MustCompile(`^[DFKQSZ]?(?:[AEGQWXR]|I?Q?I?R?(?:C|CV|V|Y|Z|K|C?S|C?T)?|I?R?C?S?A?Z?|IT[CS]|[AIC]?[STAZ])(?:H{1,3}|L{1,3}|HL|O|C)?$`)
	// wNoLetters are abbreviations of machines and cabinets that could be read as function letters.
	wNoLetters = phrases("dcs, plc, rtu, rio, ups, mcc, hmi, sis, bms, vsd, vfd, asd, ahu, fcu, pcs, esd, air, fan, cctv, lcp, wet, dry, gas, test, rest, tr")
)

// tagSuffix is the last part of a tag behind the number: "P-101_RUN" has RUN.
func tagSuffix(up string) string {
	i := strings.LastIndexAny(up, "._-/: ")
	if i <= 0 || i == len(up)-1 || !strings.ContainsAny(up[:i], "0123456789") {
		return ""
	}
	s := up[i+1:]
	for _, r := range s {
		if r < 'A' || r > 'Z' {
			return ""
		}
	}
	return s
}

// lettersSay returns what function letters speak for.
func lettersSay(l string) (nature, dir string, weight int) {
	if inList(strings.ToLower(l), wNoLetters) {
		return "", "", 0
	}
	first, tail := l[:1], l[1:]
	switch l {
	case "P", "M", "V", "T", "K", "B", "E", "C", "D", "R", "S", "A", "X", "H", "F", "L", "Q", "W", "Y", "Z", "U", "I", "J", "N", "G", "O":
		return "", "", 0 // a machine or a letter alone says nothing
	case "HS", "HSS", "HZS", "ESD", "ES", "PB", "XS", "YS", "ZS", "GS":
		return "D", "in", 4
	case "XV", "SV", "SOV", "UV", "HV", "EV", "UY", "XY", "HY", "MOV", "XSV", "SDV", "BDV", "ESV":
		return "D", "out", 3
	case "XA", "UA", "YA", "XI", "YI", "XL", "UL", "HA":
		return "D", "in", 2
	case "HC", "XC", "YC", "HSC", "HSO":
		return "D", "out", 2
	case "CV", "FCV", "PCV", "LCV", "TCV", "FV", "PV", "LV", "TV", "AV", "PDV", "FFV":
		return "A", "out", 3
	case "SC", "SCV", "FY", "PY", "LY", "TY":
		return "A", "out", 2
	case "TW", "PG", "TG", "LG", "FE", "FO", "RO", "PSV", "PRV":
		return "", "", 0
	case "TE":
		return "RTD", "in", 2
	case "FQ", "FQI", "FQT", "FQS", "KQ", "JQ":
		return "CNT", "in", 2
	}
	if !strings.Contains("PTLFADSWZVEIJMQBCGKNR", first) && first != "U" || !reLetters.MatchString(tail) {
		return "", "", 0
	}
	switch {
	case reGerman.MatchString(tail):
		return "A", "in", 2
	case strings.HasPrefix(tail, "DT"), strings.HasSuffix(tail, "IT"), tail == "T", strings.HasSuffix(tail, "T") && len(tail) <= 3:
		return "A", "in", 4
	case strings.HasPrefix(tail, "S") && len(tail) > 1, strings.HasPrefix(tail, "DS"), tail == "S", strings.HasPrefix(tail, "IS") && len(tail) > 2:
		return "D", "in", 4
	case strings.HasPrefix(tail, "A") && len(tail) > 1, strings.HasPrefix(tail, "DA"):
		return "D", "in", 2
	case strings.HasSuffix(tail, "I"), strings.HasSuffix(tail, "E"), strings.HasSuffix(tail, "R"):
		return "A", "in", 2
	case strings.HasSuffix(tail, "V"):
		return "A", "out", 2
	case strings.HasPrefix(tail, "IC"), strings.HasPrefix(tail, "C"):
		return "A", "out", 1
	}
	return "", "", 0
}
