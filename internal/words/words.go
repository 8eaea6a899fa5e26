package words

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text returns the message for a key with its arguments filled in, as fmt.Sprintf does.
func Text(key string, args ...any) string {
	s, ok := english[key]
	if !ok {
		panic("words: no text for " + key)
	}
	if len(args) == 0 {
		return s
	}
	return fmt.Sprintf(s, args...)
}

// irregular holds the plurals that do not just add an s.
var irregular = map[string]string{
	"supply":       "supplies",
	"junction box": "junction boxes",
	"is":           "are",
	"has":          "have",
	"entry":        "entries",
	"supply unit":  "supply units",
	"info":         "infos",
}

// Plural returns the noun as it stands after the number n.
func Plural(n int, noun string) string {
	if n == 1 {
		return noun
	}
	if p, ok := irregular[noun]; ok {
		return p
	}
	return noun + "s"
}

// Count prints a number with its noun: "no stations", "1 station", "12 000 signals".
func Count(n int, noun string) string {
	if n == 0 {
		return "no " + Plural(n, noun)
	}
	return Thousands(int64(n)) + " " + Plural(n, noun)
}

// Sentence begins a text with a capital letter.
func Sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Thousands prints a whole number with a space between thousands: "12 345".
func Thousands(n int64) string {
	s := strconv.FormatInt(n, 10)
	sign := ""
	if strings.HasPrefix(s, "-") {
		sign, s = "-", s[1:]
	}
	var b strings.Builder
	for i, r := range s {
		if i > 0 && (len(s)-i)%3 == 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
	}
	return sign + b.String()
}

// FileNote says what a file of a project folder holds; "" for one it does not know.
func FileNote(name string) string { return find("file." + name) }

func find(key string) string { return english[key] }
