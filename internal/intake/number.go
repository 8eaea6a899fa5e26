package intake

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// numberStyle says which sign a list uses before decimals.
type numberStyle uint8

const (
	styleUnknown numberStyle = iota
	stylePoint
	styleComma
)

// scanned is a number found at the beginning of a text.
type scanned struct {
	value float64
	text  string // as written
	rest  string // what follows
	// ambiguous says that "2,500" could be either; the value follows the list's style.
	ambiguous bool
}

// scanNumber reads a number at the beginning of s: sign, digits with thousands marks (blank, comma,
// point, apostrophe), decimals after comma or point, exponent.
func scanNumber(s string, style numberStyle) (scanned, bool) {
	i := 0
	neg := false
	switch r, n := utf8.DecodeRuneInString(s); r {
	case '-', '−', '–', '—', '‐', '‑':
		neg, i = true, n
	case '+':
		i = n
	}
	for i < len(s) && s[i] == ' ' && i > 0 && i < 3 { // "- 20"
		i++
	}
	start := i
	var b strings.Builder
	var seps []byte // separators in order
	var groups []int
	run := 0
	for i < len(s) {
		c := s[i]
		if c >= '0' && c <= '9' {
			b.WriteByte(c)
			run++
			i++
			continue
		}
		sep, n := separator(s[i:])
		if sep == 0 || run == 0 && i != start || i+n >= len(s) || s[i+n] < '0' || s[i+n] > '9' {
			break
		}
		if (sep == ' ' || sep == '\'') && (!threeDigits(s[i+n:]) || run > 3 || run == 0) {
			break
		}
		seps, groups = append(seps, sep), append(groups, run)
		b.WriteByte('|')
		run = 0
		i += n
	}
	if b.Len() == 0 || i == start {
		return scanned{}, false
	}
	groups = append(groups, run)
	digits, ambiguous, ok := joinGroups(strings.Split(b.String(), "|"), seps, groups, style)
	if !ok {
		return scanned{}, false
	}
	if e := exponent(s[i:]); e > 0 {
		digits += s[i : i+e]
		i += e
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil || math.IsInf(v, 0) {
		return scanned{}, false
	}
	if neg && v != 0 {
		v = -v
	}
	return scanned{value: v, text: s[:i], rest: s[i:], ambiguous: ambiguous}, true
}

// separator recognises a sign between digits.
func separator(s string) (byte, int) {
	switch r, n := utf8.DecodeRuneInString(s); r {
	case '.', ',', ' ':
		return byte(r), n
	case '\'', '’', '`':
		return '\'', n
	case '·', '٫':
		return '.', n
	}
	return 0, 0
}

func threeDigits(s string) bool {
	if len(s) < 3 || len(s) > 3 && s[3] >= '0' && s[3] <= '9' {
		return false
	}
	for i := range 3 {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

func exponent(s string) int {
	if len(s) < 2 || s[0] != 'e' && s[0] != 'E' {
		return 0
	}
	i := 1
	if s[i] == '-' || s[i] == '+' {
		i++
	}
	from := i
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	if i == from || i-from > 2 {
		return 0
	}
	return i
}

// joinGroups decides which separator stands before the decimals.
func joinGroups(parts []string, seps []byte, groups []int, style numberStyle) (digits string, ambiguous, ok bool) {
	whole := func() string { return strings.Join(parts, "") }
	if len(seps) == 0 {
		return whole(), false, true
	}
	last := seps[len(seps)-1]
	tail := groups[len(groups)-1]
	fits := func(upTo int) bool { // groups 1..upTo hold three digits
		for _, g := range groups[1 : upTo+1] {
			if g != 3 {
				return false
			}
		}
		return groups[0] <= 3 && groups[0] > 0
	}
	decimal := func() string {
		w := strings.Join(parts[:len(parts)-1], "")
		if w == "" {
			w = "0"
		}
		return w + "." + parts[len(parts)-1]
	}
	for _, sep := range seps[:len(seps)-1] {
		if sep == last && (last == ',' || last == '.') { // 1.234.567
			return whole(), false, fits(len(groups) - 1)
		}
		if sep != seps[0] {
			return "", false, false
		}
	}
	switch {
	case last == ' ' || last == '\'':
		return whole(), false, fits(len(groups) - 1)
	case len(seps) > 1: // 1.234,5: the last one is different
		return decimal(), false, fits(len(groups) - 2)
	case tail == 3 && groups[0] >= 1 && groups[0] <= 3 && parts[0] != "0":
		switch {
		case last == ',' && style != styleComma, last == '.' && style == styleComma:
			return whole(), true, true
		}
		return decimal(), last == ',' || style == styleComma, true
	}
	return decimal(), false, true
}

// parseNumber reads a text that is a number and nothing else.
func parseNumber(s string, style numberStyle) (float64, bool) {
	n, ok := scanNumber(s, style)
	if !ok || strings.TrimSpace(n.rest) != "" {
		return 0, false
	}
	return n.value, true
}

// styleOf counts what the numbers of a text say about the list's decimal sign.
func styleOf(s string, points, commas *int) {
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			continue
		}
		from := i
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		if i+1 >= len(s) || s[i] != ',' && s[i] != '.' || s[i+1] < '0' || s[i+1] > '9' {
			continue
		}
		j := i + 1
		for j < len(s) && s[j] >= '0' && s[j] <= '9' {
			j++
		}
		again := j < len(s) && (s[j] == '.' || s[j] == ',')
		if !again && (j-i-1 != 3 || s[from] == '0') {
			if s[i] == ',' {
				*commas++
			} else {
				*points++
			}
		}
		for j < len(s) && (s[j] >= '0' && s[j] <= '9' || s[j] == '.' || s[j] == ',') { // 1.2.3 says nothing
			j++
		}
		i = j
	}
}

// short writes a number with the fewest digits that read back to the same value.
func short(v float64) string {
	if v == 0 {
		return "0"
	}
	if a := math.Abs(v); a >= 1e15 || a < 1e-9 {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

var lookalikes = strings.NewReplacer("O", "0", "o", "0", "l", "1", "I", "1")

// misprint finds letters that stand where a digit was meant: "12O", "0-1O bar", "l5". H2O and 10 l
// are none.
var misprint = regexp.MustCompile(`(?:^|[^A-Za-z0-9])\d+(?:[.,]\d+)?[OoI](?:[\d\s.,]|$)|\dl\d|(?:^|[\s\-.(])[OoIl]\d+(?:[\s.,]|$)`)

// meant guesses what a mistyped number or range should have been: letters that look like digits.
func meant(s string) string {
	if !misprint.MatchString(s) {
		return ""
	}
	t := misprint.ReplaceAllStringFunc(s, lookalikes.Replace)
	if _, ok := rangeOrValue(t, styleUnknown); !ok {
		return ""
	}
	return t
}
