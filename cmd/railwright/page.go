package main

import (
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"railwright/internal/finding"
)

// page is text laid out for a terminal.
type page struct {
	to     io.Writer
	width  int
	colour bool
	b      strings.Builder
}

func newPage(t terminal, to io.Writer) *page {
	return &page{to: to, width: t.width, colour: !t.plainColours && (to == t.out && t.outTTY || to == t.err && t.errTTY)}
}

// flush writes what was laid out and starts anew.
func (p *page) flush() {
	io.WriteString(p.to, p.b.String()) //nolint:errcheck // nothing is left to do about a closed terminal
	p.b.Reset()
}

// Colours are hints only: the words say the same.
const (
	red    = "31"
	yellow = "33"
	bold   = "1"
)

func (p *page) paint(code, s string) string {
	if !p.colour || code == "" {
		return s
	}
	return "\x1b[" + code + "m" + s + "\x1b[0m"
}

func colourOf(s finding.Severity) string {
	switch s {
	case finding.Error:
		return red
	case finding.Warning:
		return yellow
	default:
		return ""
	}
}

// clean makes a text that came from a file harmless for a terminal: control characters, which could
// move the cursor or recolour the screen, become a question mark.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' {
			return ' '
		}
		if unicode.IsControl(r) || r == '\u202e' || r == '\u2066' || r == '\u2067' || r == '\u2068' {
			return '?'
		}
		return r
	}, s)
}

func columns(s string) int { return utf8.RuneCountInString(s) }

// cut shortens a text to n columns, the last being an ellipsis.
func cut(s string, n int) string {
	if columns(s) <= n {
		return s
	}
	return string([]rune(s)[:max(n-1, 0)]) + "…"
}

func (p *page) line(s string) { p.b.WriteString(strings.TrimRight(s, " ") + "\n") }

func (p *page) blank() { p.b.WriteByte('\n') }

func (p *page) heading(s string) {
	if p.b.Len() > 0 {
		p.blank()
	}
	p.line(p.paint(bold, s))
}

// para wraps a text; the first line begins with first, the others with as many spaces.
func (p *page) para(first, text string) {
	p.hanging(first, columns(first), text)
}

// hanging wraps a text; the first line begins with first (of any colour), the others with indent spaces.
func (p *page) hanging(first string, indent int, text string) {
	line, used := first, indent
	fresh := true
	for _, w := range strings.FieldsFunc(keepNumbers(clean(text)), func(r rune) bool { return r == ' ' }) {
		w = strings.ReplaceAll(w, hardSpace, " ")
		if !fresh && used+1+columns(w) > p.width {
			p.line(line)
			line, used, fresh = strings.Repeat(" ", indent), indent, true
		}
		if !fresh {
			line, used = line+" ", used+1
		}
		line, used, fresh = line+w, used+columns(w), false
	}
	p.line(line)
}

// hardSpace holds two words together while a text is wrapped.
const hardSpace = "\u00a0"

var numberGap = regexp.MustCompile(`(\d) (\d{3}\b|%|[A-Za-z]{1,3}\b|ohm\b|mm2\b)`)

// keepNumbers holds "12 345.60" and "3.5 mA" together when a text is wrapped.
func keepNumbers(s string) string { return numberGap.ReplaceAllString(s, "${1}"+hardSpace+"$2") }

// column is one column of a table.
type column struct {
	head  string
	right bool // figures stand to the right
}

// table prints rows under heads. Where it is too wide, texts are cut, the widest column first. A nil
// row is a rule.
func (p *page) table(indent string, cols []column, rows [][]string) {
	widths := make([]int, len(cols))
	for i, c := range cols {
		widths[i] = columns(c.head)
	}
	for _, r := range rows {
		for i, cell := range r {
			widths[i] = max(widths[i], columns(cell))
		}
	}
	p.fit(columns(indent), cols, widths)
	if heads := headRow(cols); heads != nil {
		p.row(indent, cols, widths, heads)
	}
	for _, r := range rows {
		if r == nil {
			total := 2 * (len(cols) - 1)
			for _, w := range widths {
				total += w
			}
			p.line(indent + strings.Repeat("-", total))
			continue
		}
		p.row(indent, cols, widths, r)
	}
}

func headRow(cols []column) []string {
	var heads []string
	for _, c := range cols {
		if c.head != "" {
			heads = make([]string, len(cols))
		}
	}
	for i := range heads {
		heads[i] = cols[i].head
	}
	return heads
}

// fit narrows text columns until the table is no wider than the page.
func (p *page) fit(indent int, cols []column, widths []int) {
	for {
		total, widest := indent+2*(len(cols)-1), -1
		for i, w := range widths {
			total += w
			if !cols[i].right && w > 8 && (widest < 0 || w > widths[widest]) {
				widest = i
			}
		}
		if total <= p.width || widest < 0 {
			return
		}
		widths[widest]--
	}
}

func (p *page) row(indent string, cols []column, widths []int, cells []string) {
	out := make([]string, len(cells))
	for i, c := range cells {
		c = cut(clean(c), widths[i])
		pad := strings.Repeat(" ", widths[i]-columns(c))
		if cols[i].right {
			out[i] = pad + c
		} else {
			out[i] = c + pad
		}
	}
	p.line(indent + strings.Join(out, "  "))
}

// percent prints a share with one decimal: "12.0 %", "<0.1 %".
func percent(v float64) string {
	if v > 0 && v < 0.0005 {
		return "<0.1 %"
	}
	return fmt.Sprintf("%.1f %%", v*100)
}
