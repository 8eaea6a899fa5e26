package intake

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// valueRange is a range found in free text: "0..10 bar", "-20 to +80 °C", "±5 mm".
type valueRange struct {
	low, high float64
	lowText   string // as written
	highText  string
	unit      string // as written, "" where none follows
	single    bool   // only one value was given; low is 0
	ambiguous bool   // a thousands comma or decimal comma was decided by the list's style
	at, end   int    // where in the text
}

// electrical reports whether the range is a signal level and not a process range, and its form.
func (v valueRange) electrical() (form string, ok bool) {
	u, _ := parseUnit(trimDC(v.unit))
	is := func(lo, hi float64) bool { return v.low == lo && v.high == hi }
	switch {
	case v.single:
		return "", false
	case is(4, 20) && (u == "mA" || v.unit == ""):
		return "4-20ma", true
	case is(0, 20) && u == "mA":
		return "0-20ma", true
	case is(0, 10) && u == "V":
		return "0-10v", true
	case is(-10, 10) && u == "V":
		return "10v-bipolar", true
	case u == "mA" && is(20, 4):
		return "4-20ma", true
	}
	return "", false
}

// level reports whether the range is in milliamperes or volts at signal size, of any form.
func (v valueRange) level() bool {
	u, _ := parseUnit(trimDC(v.unit))
	return !v.single && (u == "mA" && v.high <= 24 || (u == "V" || u == "mV") && v.high <= 10 && v.low >= -10)
}

func trimDC(unit string) string {
	f := strings.ToLower(strings.TrimSpace(unit))
	for _, tail := range []string{"dc", "d.c.", "ac"} {
		if r, ok := strings.CutSuffix(f, tail); ok {
			return strings.TrimSpace(unit[:len(r)])
		}
	}
	return unit
}

// findRanges returns the ranges in a text, from left to right.
func findRanges(s string, style numberStyle) []valueRange {
	var out []valueRange
	if strings.ContainsAny(s, "OoIl") && misprint.MatchString(s) {
		return nil
	}
	for i := 0; i < len(s); {
		if !rangeMayBegin(s, i) {
			_, n := utf8.DecodeRuneInString(s[i:])
			i += n
			continue
		}
		if v, ok := rangeAt(s, i, style); ok {
			out = append(out, v)
			i = v.end
			continue
		}
		i += numberLength(s[i:], style)
	}
	return out
}

// rangeMayBegin: at a digit or sign that does not continue a word ("PT100", "P-101" begin none).
func rangeMayBegin(s string, i int) bool {
	r, n := utf8.DecodeRuneInString(s[i:])
	digit := r >= '0' && r <= '9'
	sign := strings.ContainsRune("-+−–±", r)
	if !digit && !sign {
		return false
	}
	if i > 0 {
		before, _ := utf8.DecodeLastRuneInString(s[:i])
		if unicode.IsLetter(before) || unicode.IsDigit(before) || before == '.' && digit || before == '_' {
			return false
		}
		if sign && (before == ')' || before == '/') && r != '±' {
			return before == '/'
		}
	}
	if sign {
		rest := strings.TrimLeft(s[i+n:], " +/-")
		return rest != "" && rest[0] >= '0' && rest[0] <= '9'
	}
	return true
}

func numberLength(s string, style numberStyle) int {
	if n, ok := scanNumber(s, style); ok {
		return len(n.text)
	}
	_, n := utf8.DecodeRuneInString(s)
	return max(1, n)
}

// rangeAt reads a range that begins at i.
func rangeAt(s string, i int, style numberStyle) (valueRange, bool) {
	for _, pm := range []string{"±", "+/-", "+-", "+ / -", "-/+"} {
		if rest, ok := strings.CutPrefix(s[i:], pm); ok {
			n, ok := scanNumber(strings.TrimLeft(rest, " "), style)
			if !ok || n.value < 0 {
				return valueRange{}, false
			}
			u, tail := scanUnit(n.rest)
			return valueRange{low: -n.value, high: n.value, lowText: "-" + n.text, highText: n.text, unit: u, at: i, end: len(s) - len(tail)}, true
		}
	}
	a, ok := scanNumber(s[i:], style)
	if !ok {
		return valueRange{}, false
	}
	unitA, rest := "", a.rest
	after, sep := cutSeparator(rest)
	if !sep {
		unitA, rest = scanUnit(a.rest)
		if after, sep = cutSeparator(rest); !sep || unitA == "" {
			return valueRange{}, false
		}
	}
	b, ok := scanNumber(after, style)
	if !ok {
		return valueRange{}, false
	}
	unitB, tail := scanUnit(b.rest)
	if unitB == "" && i > 0 && (s[i-1] == '(' || s[i-1] == '[') && len(tail) > 0 && (tail[0] == ')' || tail[0] == ']') {
		unitB, tail = scanUnit(tail[1:]) // (0-100)%
	}
	if unitB == "" {
		if u, left, ok := unitApart(b.rest); ok {
			unitB, tail = u, left
		}
	}
	if tail != "" {
		if r, _ := utf8.DecodeRuneInString(tail); unitB == "" && (unicode.IsLetter(r) && len(tail) == len(b.rest)) {
			return valueRange{}, false
		}
	}
	if unitB == "" {
		unitB = unitA
	}
	return valueRange{
		low: a.value, high: b.value, lowText: a.text, highText: b.text, unit: unitB,
		ambiguous: a.ambiguous || b.ambiguous, at: i, end: len(s) - len(tail),
	}, true
}

// unitApart reads a unit that a sign parts from the range: "0 / 12.5 / m", "0-10; bar".
func unitApart(rest string) (unit, tail string, ok bool) {
	t := strings.TrimLeft(rest, " ")
	if t == "" || !strings.ContainsRune("/,;|:", rune(t[0])) {
		return "", rest, false
	}
	unit, tail = scanUnit(t[1:])
	u, known := parseUnit(unit)
	return unit, tail, known && u != "" && strings.Trim(tail, " )]};,.") == ""
}

// cutSeparator cuts what stands between the two ends of a range.
func cutSeparator(s string) (string, bool) {
	t := strings.TrimLeft(s, " ")
	low := strings.ToLower(t)
	for _, w := range []string{"to ", "bis ", "à ", "a ", "al ", "hasta ", "jusqu'à ", "jusqu'a ", "until ", "up to ", "and ", "et ", "und ", "y "} {
		if strings.HasPrefix(low, w) && len(s) > len(t) {
			return strings.TrimLeft(t[len(w):], " "), true
		}
	}
	for _, w := range []string{"....", "...", "..", "…", "‥", "–", "—", "−", "-", "~", "÷", "/", ";", ":", "→", "to", "bis"} {
		if strings.HasPrefix(low, w) {
			rest := strings.TrimLeft(t[len(w):], " .")
			if rest == "" || !strings.ContainsRune("0123456789+-−–", firstRune(rest)) {
				return "", false
			}
			return rest, true
		}
	}
	return "", false
}

func firstRune(s string) rune {
	r, _ := utf8.DecodeRuneInString(s)
	return r
}

// scanUnit reads the unit at the beginning of a text: letters, degree and percent signs, raised
// digits, slashes between them. It returns what follows.
func scanUnit(s string) (unit, rest string) {
	t := strings.TrimLeft(s, " ")
	i := 0
	closers := ""
	for i < len(t) {
		r, n := utf8.DecodeRuneInString(t[i:])
		switch {
		case unicode.IsLetter(r) || strings.ContainsRune("°º˚%‰µΩ²³", r):
		case i > 0 && (r == '/' || r == '.' || r == '^' || r == '·') && followedByLetter(t[i+n:]):
		case i > 0 && (r >= '0' && r <= '9') && raised(t, i):
		case i > 0 && r == '-' && strings.HasPrefix(t[i:], "-1"):
			n = 2
		case r == '(' || r == '[':
			if end := strings.IndexAny(t[i:], ")]"); i > 0 && end >= 2 && end <= 4 {
				n = end + 1 // bar(g)
			} else if i == 0 && end > 0 && end <= 12 {
				closers = t[i+1 : i+end]
				if _, known := parseUnit(closers); known && !isDash(closers) {
					return closers, strings.TrimLeft(t[end+1:], " ")
				}
				return "", s
			} else {
				return cutUnit(t, i, s)
			}
		case r == ' ' && i > 0:
			// "deg C", "bar g", "mm H2O": two words are a unit only if known as one.
			if u, n := twoWords(t, i); u {
				return t[:n], t[n:]
			}
			return cutUnit(t, i, s)
		default:
			return cutUnit(t, i, s)
		}
		i += n
	}
	return cutUnit(t, i, s)
}

// cutUnit accepts t[:i] as a unit unless it is a joining word.
func cutUnit(t string, i int, whole string) (string, string) {
	switch strings.ToLower(t[:i]) {
	case "":
		return "", whole
	case "to", "bis", "à", "al", "hasta", "and", "et", "und", "y", "or", "wire", "wires", "x", "with", "mit", "avec", "con", "hart", "loop", "signal", "passive", "active", "passiv", "aktiv", "smart", "isolated", "analog", "analogue", "and hart", "output", "input", "linear", "sqrt":
		return "", whole
	case "a":
		if rest := strings.TrimLeft(t[i:], " "); rest != "" && (rest[0] >= '0' && rest[0] <= '9' || rest[0] == '-' || rest[0] == '+') {
			return "", whole // Spanish and French "0 a 10"
		}
	}
	return t[:i], t[i:]
}

func followedByLetter(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsLetter(r) || r == '°' || r == 'µ'
}

// raised reports whether the digit at i belongs to a unit: m3, H2O, CO2, min-1.
func raised(t string, i int) bool {
	c := t[i]
	if c != '2' && c != '3' && c != '4' {
		return false
	}
	next := byte(' ')
	if i+1 < len(t) {
		next = t[i+1]
	}
	return next < '0' || next > '9'
}

func twoWords(t string, i int) (bool, int) {
	rest := t[i+1:]
	end := strings.IndexFunc(rest, func(r rune) bool {
		return !unicode.IsLetter(r) && r != '(' && r != ')' && (r < '0' || r > '9')
	})
	if end < 0 {
		end = len(rest)
	}
	if end == 0 || end > 6 {
		return false, 0
	}
	_, known := unitTable[unitKey(t[:i+1+end])]
	return known, i + 1 + end
}

// rangeOrValue reads a whole cell as a range or as one value with a unit. It says false where the
// text holds anything else.
func rangeOrValue(s string, style numberStyle) (valueRange, bool) {
	t := stripWords(s)
	if all := findRanges(t, style); len(all) == 1 && strings.Trim(t[:all[0].at]+t[all[0].end:], " ()[]=:;,.") == "" {
		return all[0], true
	}
	t = strings.Trim(t, "()[]{} ")
	if strings.ContainsAny(t, "OoIl") && misprint.MatchString(t) {
		return valueRange{}, false
	}
	for _, cut := range []string{"<", ">", "≤", "≥", "=", "max", "ca.", "~"} {
		if r, ok := strings.CutPrefix(strings.ToLower(t), cut); ok {
			t = strings.TrimLeft(t[len(t)-len(r):], " .=")
		}
	}
	n, ok := scanNumber(t, style)
	if !ok {
		return valueRange{}, false
	}
	u, rest := scanUnit(n.rest)
	if strings.Trim(rest, " .") != "" {
		return valueRange{}, false
	}
	return valueRange{high: n.value, highText: n.text, unit: u, single: true, ambiguous: n.ambiguous, end: len(s)}, true
}

// stripWords takes off words that lists put before a range.
func stripWords(s string) string {
	t := strings.TrimSpace(s)
	for {
		low := strings.ToLower(t)
		cut := ""
		for _, w := range []string{"range", "bereich", "messbereich", "mb", "plage", "rango", "span", "cal", "calibrated", "from", "von", "de", "desde", "entre", "between", "scale", "echelle", "échelle"} {
			if strings.HasPrefix(low, w) && len(low) > len(w) && strings.ContainsRune(" :=.", rune(low[len(w)])) {
				cut = w
			}
		}
		if cut == "" {
			return t
		}
		t = strings.TrimLeft(t[len(cut):], " :=.")
	}
}
