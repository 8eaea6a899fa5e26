package tabular

import (
	"bufio"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"
)

// partWriter writes one XML part. Write errors stay in w and come out at Flush.
type partWriter struct{ w *bufio.Writer }

func (p *partWriter) raw(s string) { p.w.WriteString(s) }

// escaped writes text so that reading it back gives the same characters; those that XML cannot hold
// become the format's own _x000D_ escapes.
func (p *partWriter) escaped(s string) {
	from := 0
	put := func(i, n int, with string) {
		p.w.WriteString(s[from:i])
		p.w.WriteString(with)
		from = i + n
	}
	for i, r := range s {
		n := utf8.RuneLen(r)
		switch {
		case r == '&':
			put(i, n, "&amp;")
		case r == '<':
			put(i, n, "&lt;")
		case r == '>':
			put(i, n, "&gt;")
		case r == '"':
			put(i, n, "&quot;")
		case r == '_':
			if _, ok := escapeX(s[i:]); ok {
				put(i, n, "_x005F_")
			}
		case r < ' ' && r != '\t' && r != '\n' || r == 0xFFFE || r == 0xFFFF:
			put(i, n, fmt.Sprintf("_x%04X_", r))
		case r == utf8.RuneError && !strings.HasPrefix(s[i:], "\uFFFD"):
			put(i, 1, "\uFFFD")
		}
	}
	p.w.WriteString(s[from:])
}

// cell writes a value; text that begins like a formula takes the guarded style.
func (p *partWriter) cell(row, col int, v Value, style, guarded int) {
	at := Address(row, col)
	switch {
	case v.Kind == Number && !math.IsNaN(v.Number) && !math.IsInf(v.Number, 0):
		fmt.Fprintf(p.w, `<c r="%s" s="%d"><v>%s</v></c>`, at, style, fewest(v.Number))
	case v.Kind == Bool:
		n := "0"
		if v.Text == "TRUE" {
			n = "1"
		}
		fmt.Fprintf(p.w, `<c r="%s" s="%d" t="b"><v>%s</v></c>`, at, style, n)
	case v.Text == "":
		fmt.Fprintf(p.w, `<c r="%s" s="%d"/>`, at, style)
	default:
		if startsFormula(v.Text[0]) {
			style = guarded
		}
		fmt.Fprintf(p.w, `<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">`, at, style)
		p.escaped(v.Text)
		p.raw(`</t></is></c>`)
	}
}
