package explain

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/cite"
	"railwright/internal/formula"
	"railwright/internal/words"
)

// Width is the width of a sheet in columns.
const Width = 80

// Text lays the sheet out for Width columns. Lines end in a line feed; none is longer than Width unless
// one word is.
func (s *Sheet) Text() string {
	w := &layout{}
	w.line("", s.Subject)
	for _, l := range s.About {
		w.wrapped("", l)
	}
	if s.Own == 0 {
		w.blank()
		w.wrapped("", words.Text("explain.nothing"))
	} else {
		w.figures(s)
		for i := range s.Working {
			if i == s.Own {
				w.blank()
				w.line("", words.Text("explain.leaned_on"))
			}
			w.working(&s.Working[i])
		}
	}
	w.findings(s)
	w.sources(s)
	return w.b.String()
}

type layout struct{ b strings.Builder }

func (w *layout) blank() { w.b.WriteByte('\n') }

func (w *layout) line(indent, text string) {
	w.b.WriteString(strings.TrimRight(indent+text, " ") + "\n")
}

// wrapped writes a text in lines of at most Width columns, each behind the indent.
func (w *layout) wrapped(indent, text string) { w.hanging(indent, indent, text) }

func (w *layout) hanging(first, rest, text string) {
	at, line := first, ""
	for _, word := range strings.Fields(text) {
		if line != "" && columns(at)+columns(line)+1+columns(word) > Width {
			w.line(at, line)
			at, line = rest, ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	w.line(at, line)
}

func columns(s string) int { return len([]rune(s)) }

// figures is the list of the subject's own results.
func (w *layout) figures(s *Sheet) {
	w.blank()
	for _, x := range s.Working[:s.Own] {
		value := number(x.Result.Value) + unit(x.Result.Unit)
		head := fmt.Sprintf("%4s  ", "["+strconv.Itoa(x.Number)+"]")
		room := Width - columns(head) - columns(value) - 2
		title := x.Title
		if columns(title) > room {
			title = string([]rune(title)[:room-1]) + "…"
		}
		w.line(head, title+strings.Repeat(" ", room-columns(title)+2)+value)
	}
}

func (w *layout) working(x *Working) {
	w.blank()
	head := fmt.Sprintf("[%d]", x.Number)
	w.hanging(head+" ", strings.Repeat(" ", columns(head)+1), fmt.Sprintf("%s (%s)", x.Title, x.ID))
	const in = "    "
	if x.Formula != "" {
		w.hanging(in, in+"  ", x.Result.Name+" = "+x.Formula)
		w.hanging(in, in+"  ", x.Result.Name+" = "+x.Filled)
	} else {
		w.hanging(in, in+"  ", words.Text("explain.added", x.Result.Name))
	}
	w.line(in, x.Result.Name+" = "+number(x.Result.Value)+unit(x.Result.Unit))
	name, value := 0, 0
	for _, i := range x.Inputs {
		name, value = max(name, columns(i.Name)), max(value, columns(number(i.Value)+unit(i.Unit)))
	}
	name = min(name, 26)
	for _, i := range x.Inputs {
		w.input(in, name, value, i)
	}
	w.wrapped(in, words.Text("explain.source", x.Source))
}

func (w *layout) input(indent string, name, value int, i Input) {
	v := number(i.Value) + unit(i.Unit)
	head := indent + "  " + pad(i.Name, name) + "  " + pad(v, value) + "  "
	from := origin(i)
	if columns(head)+16 > Width { // no room beside it
		w.line(indent+"  ", i.Name+"  "+v)
		head = indent + "      "
	}
	w.hanging(head, strings.Repeat(" ", columns(head)), from)
}

func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-columns(s))) }

// origin says where an input comes from, and what it is.
func origin(i Input) string {
	kind, rest, _ := strings.Cut(i.From, ":")
	doc := ""
	if i.Doc != "" {
		doc = " (" + i.Doc + ")"
	}
	switch kind {
	case "calc":
		if i.Step > 0 {
			return fmt.Sprintf("[%d]%s", i.Step, doc)
		}
	case "project":
		return words.Text("explain.from_project", rest) + doc
	case "signal":
		at := strings.LastIndexByte(rest, '.')
		return words.Text("explain.from_signal", rest[:max(at, 0)], rest[at+1:]) + doc
	case "hardware":
		at := strings.LastIndexByte(rest, '.')
		return words.Text("explain.from_hardware", rest[:max(at, 0)], rest[at+1:]) + doc
	case "cite":
		return citation(rest) + doc
	}
	return i.From + doc
}

// citation prints KEY#row as "KEY (row)".
func citation(ref string) string {
	key, row, found := strings.Cut(ref, "#")
	if !found {
		return key
	}
	return key + ", " + strings.ReplaceAll(row, "-", " ")
}

func (w *layout) findings(s *Sheet) {
	if len(s.Findings) == 0 {
		return
	}
	w.blank()
	w.line("", words.Text("explain.findings"))
	for _, f := range s.Findings {
		w.hanging("  ", "    ", fmt.Sprintf("%s %s: %s", f.Rule, f.Severity, f.Message))
		if f.Remedy.Text != "" {
			w.wrapped("    ", f.Remedy.Text)
		}
	}
}

func (w *layout) sources(s *Sheet) {
	if len(s.Sources) == 0 {
		return
	}
	w.blank()
	w.line("", words.Text("explain.sources"))
	for _, c := range s.Sources {
		text := c.Title
		if c.Note != "" {
			text += " (" + c.Note + ")"
		}
		w.hanging("  "+c.Key+": ", "    ", text)
	}
}

// sources lists the documents that a sheet cites, by key.
func sources(s *Sheet) []Source {
	seen := map[string]bool{}
	add := func(ref string) {
		if c, err := cite.Lookup(ref); err == nil {
			seen[string(c.Key)] = true
		}
	}
	for _, w := range s.Working {
		add(w.Source)
		for _, i := range w.Inputs {
			if ref, ok := strings.CutPrefix(i.From, "cite:"); ok {
				add(ref)
			}
		}
	}
	for _, f := range s.Findings {
		add(f.Source)
	}
	out := []Source{}
	for key := range seen {
		c, _ := cite.Lookup(key)
		out = append(out, Source{string(c.Key), c.Title, c.Note})
	}
	slices.SortFunc(out, func(a, b Source) int { return strings.Compare(a.Key, b.Key) })
	return out
}

var word = regexp.MustCompile(`[a-z_][a-z0-9_]*`)

// fill puts the values into a formula's text.
func fill(text string, in []formula.Value) string {
	return word.ReplaceAllStringFunc(text, func(name string) string {
		for _, v := range in {
			if v.Name == name {
				if v.Value < 0 {
					return "(" + number(v.Value) + ")"
				}
				return number(v.Value)
			}
		}
		return name
	})
}

// number prints a value with six digits that count, no exponent where it can be helped.
func number(v float64) string {
	a := math.Abs(v)
	switch {
	case v == math.Trunc(v) && a < 1e9:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case a >= 1e-4 && a < 1e9:
		decimals := max(0, 5-int(math.Floor(math.Log10(a))))
		s := strconv.FormatFloat(v, 'f', min(decimals, 8), 64)
		if strings.Contains(s, ".") {
			s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
		}
		return s
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// unit prints a unit behind its number; a plain number has none.
func unit(u string) string {
	if u == "" || u == "1" {
		return ""
	}
	return " " + u
}
