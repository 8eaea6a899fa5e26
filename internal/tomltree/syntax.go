package tomltree

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"
)

// explain says in our own words what is wrong at off in the expression that begins at start. The
// parser's message only picks the words; it is never shown.
func explain(data []byte, start, off int, message string) (msg, remedy string) {
	has := func(s string) bool { return strings.Contains(message, s) }
	line := lineAt(data, off)
	seen := snippet(data, off)
	first := bytes.Count(data[:start], []byte("\n")) + 1
	switch {
	case !utf8.Valid(line) || has("UTF-8"):
		return "the line holds bytes that are no UTF-8 text", "Save the file as UTF-8."
	case has("carriage return") || has("newline but got U+000D"):
		return "a lone carriage return ends the line", "Save the file with line ends of LF or CR LF."
	case has("close table name"), has("close array table name"):
		return fmt.Sprintf("the header %q is not closed", snippet(data, start)), "Write [name] for one table, [[name]] for each of several."
	case has("array is incomplete"), has("after array value"):
		return fmt.Sprintf("the list that begins in line %d is not closed, or a comma is missing before %s", first, orEnd(seen)),
			"Put commas between the items and ] at the end."
	case has("inline table is incomplete"), has("after inline table"), has("comma in inline table"):
		return fmt.Sprintf("the table in braces that begins in line %d is not closed, or a comma is wrong or missing before %s", first, orEnd(seen)),
			"Put commas between its keys and } at the end."
	case has("not terminated"), has("unterminated"), has("cannot have new lines"), has("too many quotes"):
		return fmt.Sprintf("the text that begins in line %d has no closing quote, or one too many", first), `Close it: "text".`
	case has("escape"), has(`character after \`):
		return fmt.Sprintf("%q is no escape that TOML knows", snippet(data, max(start, off-1))), `Write a backslash as \\, or put the text in single quotes.`
	case has("control characters"):
		return "an invisible control character stands in the line", "Take it out, or type the line again."
	case has("leading zeroes"):
		return fmt.Sprintf("%s has a zero in front", value(line)), `Write a number without it, or text in quotes ("007").`
	case has("expected '=' after key"), has("expected key"), has("start of key"):
		return noKey(line, seen)
	case has("nested more"):
		return "lists are nested too deep", "Write it flatter."
	case has("newline but got"):
		return tooMuch(line, seen)
	}
	if first != bytes.Count(data[:off], []byte("\n"))+1 {
		return fmt.Sprintf("the list that begins in line %d is not closed, or %s in it is no value", first, orEnd(seen)),
			"Put commas between the items, text in quotes, and ] at the end."
	}
	return wrongValue(line, seen)
}

func noKey(line []byte, seen string) (msg, remedy string) {
	if i := bytes.IndexByte(line, ':'); i > 0 && bytes.IndexByte(line, '=') < 0 {
		return fmt.Sprintf("%q has a colon where = belongs", clip(string(bytes.TrimSpace(line)))),
			fmt.Sprintf("Write %s = %s.", clip(string(bytes.TrimSpace(line[:i]))), clip(string(bytes.TrimSpace(line[i+1:]))))
	}
	if bytes.IndexByte(line, '=') < 0 {
		return fmt.Sprintf("%q is neither a header nor key = value", clip(string(bytes.TrimSpace(line)))),
			"Write key = value; put a # before a remark."
	}
	return fmt.Sprintf("the key before = is not one word (stopped at %s)", orEnd(seen)),
		`A key has letters, digits, _ and - only; put others in quotes ("Loop no" = "tag").`
}

func tooMuch(line []byte, seen string) (msg, remedy string) {
	if v := value(line); decimalComma.MatchString(v) {
		return fmt.Sprintf("%s has a decimal comma", v), fmt.Sprintf("Write %s with a point.", strings.Replace(v, ",", ".", 1))
	}
	if m := numberUnit.FindStringSubmatch(value(line)); m != nil {
		return wrongValue(line, seen)
	}
	return fmt.Sprintf("the value ends before %s", orEnd(seen)), "One key = value a line; text stands in quotes; a remark begins with #."
}

var (
	decimalComma = regexp.MustCompile(`^[+-]?[0-9]+,[0-9]+$`)
	numberUnit   = regexp.MustCompile(`^([+-]?[0-9]+(?:\.[0-9]+)?)\s*([A-Za-z%°].*)$`)
)

func wrongValue(line []byte, seen string) (msg, remedy string) {
	v := value(line)
	switch low := strings.ToLower(v); {
	case v == "":
		return "no value stands after =", "Write the value, or take the line out to have the default."
	case low == "true" || low == "yes" || low == "on":
		return fmt.Sprintf("%s is no value of TOML", v), "Write true."
	case low == "false" || low == "no" || low == "off":
		return fmt.Sprintf("%s is no value of TOML", v), "Write false."
	case decimalComma.MatchString(v):
		return fmt.Sprintf("%s has a decimal comma", v), fmt.Sprintf("Write %s.", strings.Replace(v, ",", ".", 1))
	}
	if near, ok := digitsFor(v); ok {
		return fmt.Sprintf("%s is not a number; did you mean %s?", v, near), fmt.Sprintf("Write %s.", near)
	}
	if m := numberUnit.FindStringSubmatch(v); m != nil {
		return fmt.Sprintf("%s has letters behind the number", v),
			fmt.Sprintf("Write %s for a number (the unit is in the key's name), %q for text.", m[1], v)
	}
	if strings.HasPrefix(v, "'") || strings.HasPrefix(v, `"`) || strings.ContainsAny(v, "[]{}") {
		return fmt.Sprintf("the value cannot be read at %s", orEnd(seen)), "Check quotes, brackets and commas."
	}
	return fmt.Sprintf("%s is neither a number nor true, false, a list or a text in quotes", v), fmt.Sprintf("Text stands in quotes: %q.", v)
}

// digitsFor reads letters that look like digits as such: "12O" is 120.
func digitsFor(v string) (string, bool) {
	if !strings.ContainsAny(v, "0123456789") {
		return "", false
	}
	t := strings.NewReplacer("O", "0", "o", "0", "l", "1", "I", "1").Replace(v)
	for i, r := range t {
		if (r < '0' || r > '9') && r != '.' && (i > 0 || r != '-') {
			return "", false
		}
	}
	return t, t != v && strings.Count(t, ".") < 2
}

// lineAt returns the line that holds off.
func lineAt(data []byte, off int) []byte {
	off = min(off, len(data))
	if off > 0 && off == len(data) && data[off-1] == '\n' {
		off--
	}
	line, _, _ := bytes.Cut(data[lineStart(data, off):], []byte("\n"))
	return line
}

// value returns what stands after = in a line, without a remark.
func value(line []byte) string {
	_, v, _ := bytes.Cut(line, []byte("="))
	return clip(string(bytes.TrimSpace(stripComment(v))))
}

// snippet returns the rest of the line from off, cut short.
func snippet(data []byte, off int) string {
	off = min(off, len(data))
	line, _, _ := bytes.Cut(data[off:], []byte("\n"))
	return clip(string(bytes.TrimSpace(line)))
}

func orEnd(s string) string {
	if s == "" {
		return "the end of the line"
	}
	return fmt.Sprintf("%q", s)
}

// clip cuts a quotation to a readable length.
func clip(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
