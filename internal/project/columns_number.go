package project

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"railwright/internal/finding"
	q "railwright/internal/quantity"
)

var (
	plainNumber  = regexp.MustCompile(`^[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?$`)
	decimalComma = regexp.MustCompile(`^([+-]?)([0-9]+),([0-9]+)$`)
	groupedDigit = regexp.MustCompile(`^[+-]?[0-9]{1,3}(?:[ '\x{00A0}\x{202F}][0-9]{3})+(?:[.,][0-9]+)?$`)
	trailingUnit = regexp.MustCompile(`^(.*[0-9.,])[ \x{00A0}\x{202F}]*([A-Za-zµμΩ%°].*)$`)
)

// ReadNumber reads a cell as a number in the given unit. It takes digits with a decimal point; what
// can mean only one other thing (a decimal comma, the column's own unit behind the number, a
// typographic minus) is taken with an info. Anything else is an error that says what was probably
// meant. name is the column's name for messages.
func ReadNumber(name, cell, unit string) (float64, *finding.Finding) {
	text := strings.TrimSpace(cell)
	if plainNumber.MatchString(text) {
		return finite(name, text)
	}
	t := strings.NewReplacer("−", "-", "–", "-", "\u00A0", " ", "\u202F", " ").Replace(text)
	wrong := func(meant string) (float64, *finding.Finding) {
		msg := fmt.Sprintf("%s %q is not a number", name, clip(text))
		remedy := "Write digits with a decimal point"
		if unit != "" {
			remedy += "; the column is in " + unit
		}
		if meant != "" {
			msg += fmt.Sprintf("; did you mean %s?", strings.TrimSpace(meant+" "+unit))
			remedy = fmt.Sprintf("Write %s", meant)
		}
		return 0, bad("LST-002", finding.Error, msg, remedy+".")
	}
	if m := trailingUnit.FindStringSubmatch(t); m != nil {
		if digits, ok := letterDigits(t); ok {
			return wrong(digits)
		}
		if digits, ok := letterDigits(strings.TrimSpace(strings.TrimSuffix(t, unit))); ok && unit != "" {
			return wrong(digits)
		}
		if !sameUnit(m[2], unit) {
			return wrong(otherUnit(m[1], m[2], unit))
		}
		t = strings.TrimSpace(m[1])
	} else if digits, ok := letterDigits(t); ok {
		return wrong(digits)
	}
	if groupedDigit.MatchString(t) {
		return wrong(strings.NewReplacer(" ", "", "'", "", ",", ".").Replace(t))
	}
	if m := decimalComma.FindStringSubmatch(t); m != nil {
		if len(m[3]) == 3 && len(m[2]) <= 3 && strings.Trim(m[2], "0") != "" {
			msg := fmt.Sprintf("%s %q may mean %s%s.%s or %s%s%s", name, clip(text), m[1], m[2], m[3], m[1], m[2], m[3])
			return 0, bad("LST-002", finding.Error, msg, "Write it with a decimal point, or without the comma.")
		}
		t = m[1] + m[2] + "." + m[3]
	}
	if !plainNumber.MatchString(t) {
		return wrong("")
	}
	v, f := finite(name, t)
	if f == nil {
		f = bad("LST-005", finding.Info, fmt.Sprintf("%s %q is read as %s", name, clip(text), strings.TrimSpace(q.Short(v)+" "+unit)), "")
	}
	return v, f
}

func finite(name, text string) (float64, *finding.Finding) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, bad("LST-003", finding.Error, fmt.Sprintf("%s %q is too large a number", name, clip(text)), "Write a smaller one.")
	}
	if v == 0 {
		return 0, nil // no negative zero
	}
	return v, nil
}

// letterDigits reads letters that look like digits as such: "12O" is 120. The text must hold a
// digit and nothing else but such letters, sign and point.
func letterDigits(t string) (string, bool) {
	if !strings.ContainsAny(t, "0123456789") {
		return "", false
	}
	out := strings.NewReplacer("O", "0", "o", "0", "l", "1", "I", "1").Replace(t)
	return out, out != t && plainNumber.MatchString(out)
}

func sameUnit(seen, unit string) bool {
	norm := func(s string) string {
		s = strings.NewReplacer("Ω", "ohm", "Ohm", "ohm", "ohms", "ohm", "μ", "µ").Replace(strings.TrimSpace(s))
		return strings.TrimSuffix(s, ".")
	}
	return unit != "" && norm(seen) == norm(unit)
}

// otherUnit converts a number with another unit of the same quantity, for "did you mean".
func otherUnit(number, seen, unit string) string {
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.Replace(number, ",", ".", 1)), 64)
	if err != nil || len(unit) == 0 {
		return ""
	}
	prefix := map[string]int{"n": -9, "µ": -6, "u": -6, "m": -3, "": 0, "k": 3, "M": 6}
	for _, base := range []string{"Hz", "ohm", "A", "V", "W", "F", "H", "s"} {
		from, ok1 := strings.CutSuffix(strings.NewReplacer("Ω", "ohm", "μ", "µ").Replace(strings.TrimSpace(seen)), base)
		to, ok2 := strings.CutSuffix(unit, base)
		if !ok1 || !ok2 {
			continue
		}
		a, known1 := prefix[from]
		b, known2 := prefix[to]
		if known1 && known2 {
			scaled, err := strconv.ParseFloat(strconv.FormatFloat(v*math.Pow10(a-b), 'g', 12, 64), 64)
			if err == nil {
				return q.Short(scaled)
			}
		}
	}
	return ""
}

// clip cuts a quotation to a readable length.
func clip(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
