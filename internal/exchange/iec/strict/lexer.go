package strict

import (
	"fmt"
	"strings"
)

type kind int

const (
	end kind = iota
	word
	number  // digits
	real    // digits with a point
	symbol  // := : ; ( ) , + - * / < > <= >= = <> #
	address // %IX0.0
)

// token is one word of the source. Comments hang on the token before them.
type token struct {
	kind    kind
	text    string // words as written
	line    int
	comment string // of a comment that follows on the same line
}

func (t token) is(s string) bool {
	return t.kind == symbol && t.text == s || t.kind == word && strings.EqualFold(t.text, s)
}

// MaxBytes is the longest source that is read.
const MaxBytes = 64 << 20

// Fault is what is wrong with a source, and in which line.
type Fault struct {
	Line int
	What string
}

func (f *Fault) Error() string { return fmt.Sprintf("line %d: %s", f.Line, f.What) }

func fault(line int, format string, args ...any) error {
	return &Fault{line, fmt.Sprintf(format, args...)}
}

// lex cuts the source into tokens. Every byte must be printable ASCII, a tab or a line end.
func lex(src string) ([]token, error) {
	if len(src) > MaxBytes {
		return nil, fault(0, "source of %d bytes; at most %d are read", len(src), MaxBytes)
	}
	var out []token
	line := 1
	for i := 0; i < len(src); {
		c := src[i]
		switch {
		case c == '\n':
			line++
			i++
		case c == ' ' || c == '\t' || c == '\r':
			i++
		case strings.HasPrefix(src[i:], "(*"):
			n, err := comment(src[i:], line)
			if err != nil {
				return nil, err
			}
			text := src[i+2 : i+n-2]
			if len(out) > 0 && out[len(out)-1].line == line {
				out[len(out)-1].comment = strings.TrimSpace(text)
			}
			line += strings.Count(text, "\n")
			i += n
		default:
			t, n, err := next(src[i:], line)
			if err != nil {
				return nil, err
			}
			out = append(out, t)
			i += n
		}
	}
	return append(out, token{kind: end, line: line}), nil
}

// comment returns the length of the comment that src begins with. Comments do not nest (IEC 61131-3, second
// edition; the third lets them, so a file for both has none inside another).
func comment(src string, line int) (int, error) {
	stop := strings.Index(src[2:], "*)")
	if stop < 0 {
		return 0, fault(line, "comment without end")
	}
	text := src[2 : 2+stop]
	if strings.Contains(text, "(*") {
		return 0, fault(line, "comment inside a comment")
	}
	for _, c := range []byte(text) {
		if c > 0x7e || c < 0x20 && c != '\n' && c != '\t' && c != '\r' {
			return 0, fault(line, "comment holds byte 0x%02X, which is not ASCII", c)
		}
	}
	return stop + 4, nil
}

func next(src string, line int) (token, int, error) {
	c := src[0]
	switch {
	case letter(c) || c == '_':
		n := run(src, func(c byte) bool { return letter(c) || digit(c) || c == '_' })
		return token{kind: word, text: src[:n], line: line}, n, nil
	case digit(c):
		return numeral(src, line)
	case c == '%':
		n := 1 + run(src[1:], func(c byte) bool { return letter(c) || digit(c) || c == '.' })
		return token{kind: address, text: src[:n], line: line}, n, nil
	}
	for _, s := range []string{":=", "<=", ">=", "<>", ":", ";", "(", ")", ",", "+", "-", "*", "/", "<", ">", "=", "#"} {
		if strings.HasPrefix(src, s) {
			return token{kind: symbol, text: s, line: line}, len(s), nil
		}
	}
	return token{}, 0, fault(line, "character %q", c)
}

// numeral reads digits, or a REAL literal: digits, point, digits, and E with a signed whole number.
func numeral(src string, line int) (token, int, error) {
	n := run(src, digit)
	k := number
	if n < len(src) && src[n] == '.' {
		m := run(src[n+1:], digit)
		if m == 0 {
			return token{}, 0, fault(line, "no digit behind the decimal point")
		}
		n, k = n+1+m, real
		if n < len(src) && (src[n] == 'E' || src[n] == 'e') {
			e := n + 1
			if e < len(src) && (src[e] == '+' || src[e] == '-') {
				e++
			}
			m := run(src[e:], digit)
			if m == 0 {
				return token{}, 0, fault(line, "no digit in the exponent")
			}
			n = e + m
		}
	}
	if n < len(src) && src[n] == '_' {
		return token{}, 0, fault(line, "number runs into a name")
	}
	return token{kind: k, text: src[:n], line: line}, n, nil
}

func run(src string, ok func(byte) bool) int {
	n := 0
	for n < len(src) && ok(src[n]) {
		n++
	}
	return n
}

func letter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }
func digit(c byte) bool  { return c >= '0' && c <= '9' }
