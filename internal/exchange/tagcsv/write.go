package tagcsv

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"railwright/internal/exchange"
	"railwright/internal/finding"
)

// Write fills the template in: a row for each point of the kinds wanted, in order. names are the legal
// identifiers, one a point. Findings: EXC-010 values that are too long for their column (written whole),
// EXC-011 characters that the encoding does not have (written as ?), EXC-012 cells that a spreadsheet would
// run as a formula.
func Write(t *Template, points []exchange.Point, names []string) ([]byte, finding.List) {
	w := writer{t: t}
	if t.Header {
		for i, c := range t.Columns {
			w.cell(i, c.Head)
		}
		w.end()
	}
	for i, p := range points {
		if p.Spare && !t.Spares || len(t.Kinds) > 0 && !slices.Contains(t.Kinds, string(p.Kind)) {
			continue
		}
		w.row++
		for c := range t.Columns {
			w.cell(c, w.fill(&t.Columns[c], p, names[i]))
		}
		w.end()
	}
	return w.encoded(), w.findings()
}

type writer struct {
	t       *Template
	b       strings.Builder
	row     int
	long    []string
	formula []string
	lost    []string
}

func (w *writer) fill(c *Column, p exchange.Point, name string) string {
	var b strings.Builder
	for _, part := range c.parts {
		if part.field == "" {
			b.WriteString(part.text)
			continue
		}
		v := value(part.field, p, name, w.row)
		if n := part.digits - len(v); n > 0 && v != "" && strings.Trim(v, "0123456789") == "" {
			v = strings.Repeat("0", n) + v
		}
		b.WriteString(v)
	}
	v := b.String()
	if m, ok := c.Map[v]; ok {
		v = m
	}
	if c.Max > 0 && utf8.RuneCountInString(v) > c.Max {
		w.long = append(w.long, fmt.Sprintf("%s in column %s", v, c.Head))
	}
	if v != "" && strings.ContainsRune("=+-@", rune(v[0])) && !plain(v) {
		w.formula = append(w.formula, v)
	}
	return v
}

// plain reports whether a value that begins with a sign is just a number.
func plain(v string) bool {
	return len(v) > 1 && strings.Trim(v[1:], "0123456789.") == "" && v[0] != '=' && v[0] != '@'
}

func (w *writer) cell(i int, v string) {
	if i > 0 {
		w.b.WriteByte(w.t.Delimiter)
	}
	v = strings.ToValidUTF8(v, "\uFFFD")
	if !w.t.Always && !(v == "" && len(w.t.Columns) == 1) && !strings.ContainsAny(v, "\"\r\n"+string(w.t.Delimiter)) && v == strings.TrimSpace(v) {
		w.b.WriteString(v)
		return
	}
	w.b.WriteString(`"` + strings.ReplaceAll(v, `"`, `""`) + `"`)
}

func (w *writer) end() {
	if w.t.CRLF {
		w.b.WriteByte('\r')
	}
	w.b.WriteByte('\n')
}

func (w *writer) encoded() []byte {
	text := w.b.String()
	var set *charmap.Charmap
	switch w.t.Encoding {
	case "utf-8-mark":
		return []byte("\uFEFF" + text)
	case "latin-1":
		set = charmap.ISO8859_1
	case "windows-1252":
		set = charmap.Windows1252
	default:
		return []byte(text)
	}
	out := make([]byte, 0, len(text))
	for _, r := range text {
		c, ok := set.EncodeRune(r)
		if !ok {
			w.lost = append(w.lost, string(r))
			c = '?'
		}
		out = append(out, c)
	}
	return out
}

func (w *writer) findings() finding.List {
	var found finding.List
	tell := func(rule string, all []string, message, remedy string) {
		if len(all) == 0 {
			return
		}
		slices.Sort(all)
		all = slices.Compact(all)
		n := len(all)
		if n > 6 {
			all = append(all[:6:6], fmt.Sprintf("and %d more", n-6))
		}
		found = append(found, finding.Finding{Rule: rule, Severity: finding.Warning, Subject: "project", Message: fmt.Sprintf(message, strings.Join(all, ", ")), Remedy: finding.Remedy{Text: remedy}})
	}
	tell("EXC-010", w.long, "longer than the column allows, written whole: %s", "Shorten the tags, or raise max in the template.")
	tell("EXC-011", w.lost, "the encoding "+w.t.Encoding+" does not have these characters; ? is written: %s", `Write encoding = "utf-8" if the importing tool takes it.`)
	tell("EXC-012", w.formula, "a spreadsheet would take these cells for formulas: %s", "Import the file into the tool directly; do not open it in a spreadsheet.")
	return found
}
