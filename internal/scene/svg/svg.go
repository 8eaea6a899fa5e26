package svg

import (
	"bytes"
	"strconv"
	"strings"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Options are what the sheet itself does not know.
type Options struct {
	// Address returns where another sheet is found, for links; nil leaves texts without links.
	Address func(sheetID string) string
}

// Bytes returns the sheet as one SVG file.
func Bytes(s *scene.Sheet, o Options) []byte {
	w := &writer{options: o}
	w.b.Grow(1 << 14)
	w.raw(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	w.raw(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" width="`)
	w.num(s.Width).raw(`mm" height="`).num(s.Height).raw(`mm" viewBox="0 0 `).num(s.Width).raw(" ").num(s.Height).raw(`">` + "\n")
	w.raw("<title>").text(s.Number + " " + s.Title).raw("</title>\n")
	w.raw(`<rect width="`).num(s.Width).raw(`" height="`).num(s.Height).raw(`" fill="#ffffff"/>` + "\n")
	for i, l := range s.Layers {
		w.raw(`<g id="layer-`).raw(strconv.Itoa(i + 1)).raw(`" data-layer="`).text(l.Name).raw(`" fill="none" stroke="none">` + "\n")
		for j := range l.Items {
			w.item(&l.Items[j])
		}
		w.raw("</g>\n")
	}
	w.raw("</svg>\n")
	return w.b.Bytes()
}

type writer struct {
	b       bytes.Buffer
	options Options
}

func (w *writer) raw(s string) *writer {
	w.b.WriteString(s)
	return w
}

func (w *writer) num(v float64) *writer {
	w.b.WriteString(number(v))
	return w
}

// number gives a length in at most three decimals, without trailing zeros.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

var escape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

// text writes a string as XML text: signs that XML 1.0 forbids are left out.
func (w *writer) text(s string) *writer {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "□"))
	w.raw(escape.Replace(s))
	return w
}

func (w *writer) attr(name, value string) *writer {
	if value == "" {
		return w
	}
	return w.raw(" " + name + `="`).text(value).raw(`"`)
}

func (w *writer) item(i *scene.Item) {
	switch {
	case i.Path != nil:
		w.path(i)
	case i.Circle != nil:
		c := i.Circle
		w.raw(`<circle cx="`).num(c.Center.X).raw(`" cy="`).num(c.Center.Y).raw(`" r="`).num(c.Radius).raw(`"`)
		w.stroke(c.Stroke).fill(c.Fill).ties(i).raw("/>\n")
	case i.Arc != nil:
		w.arc(i)
	case i.Text != nil:
		w.line(i)
	}
}

func (w *writer) path(i *scene.Item) {
	p := i.Path
	name := "polyline"
	if p.Closed {
		name = "polygon"
	}
	w.raw("<" + name + ` points="`)
	for j, q := range p.Points {
		if j > 0 {
			w.raw(" ")
		}
		w.num(q.X).raw(",").num(q.Y)
	}
	w.raw(`"`).stroke(p.Stroke).fill(p.Fill).ties(i).raw("/>\n")
}

func (w *writer) arc(i *scene.Item) {
	a := i.Arc
	from, to := a.Ends()
	large, sweep := "0", "1"
	if a.Sweep > 180 || a.Sweep < -180 {
		large = "1"
	}
	if a.Sweep < 0 {
		sweep = "0"
	}
	w.raw(`<path d="M`).num(from.X).raw(" ").num(from.Y).raw(" A").num(a.Radius).raw(" ").num(a.Radius)
	w.raw(" 0 " + large + " " + sweep + " ").num(to.X).raw(" ").num(to.Y).raw(`"`)
	w.stroke(a.Stroke).ties(i).raw("/>\n")
}

func (w *writer) line(i *scene.Item) {
	t := i.Text
	address := ""
	if t.Sheet != "" && w.options.Address != nil {
		address = w.options.Address(t.Sheet)
	}
	if address != "" {
		w.raw("<a").attr("xlink:href", address).raw(">")
	}
	w.raw(`<text x="`).num(t.At.X).raw(`" y="`).num(t.At.Y).raw(`"`)
	if t.Turn != 0 {
		w.raw(` transform="rotate(`).num(t.Turn).raw(" ").num(t.At.X).raw(" ").num(t.At.Y).raw(`)"`)
	}
	switch t.Anchor {
	case scene.Middle:
		w.raw(` text-anchor="middle"`)
	case scene.Right:
		w.raw(` text-anchor="end"`)
	}
	family, weight := "Go, sans-serif", ""
	switch t.Style {
	case typeface.Mono, typeface.MonoBold:
		family = "Go Mono, monospace"
	}
	if t.Style == typeface.Bold || t.Style == typeface.MonoBold {
		weight = "bold"
	}
	w.attr("font-family", family).attr("font-weight", weight).raw(` font-size="`).num(t.Size).raw(`"`)
	w.raw(` textLength="`).num(typeface.Width(t.Style, t.Words, t.Size)).raw(`" lengthAdjust="spacingAndGlyphs"`)
	w.raw(` fill="`+colour(t.Ink)+`"`).ties(i).attr("data-sheet", t.Sheet).raw(` xml:space="preserve">`)
	w.text(t.Words).raw("</text>")
	if address != "" {
		w.raw("</a>")
	}
	w.raw("\n")
}

func (w *writer) stroke(s scene.Stroke) *writer {
	if s.Width <= 0 {
		return w
	}
	w.raw(` stroke="` + colour(s.Ink) + `" stroke-width="`).num(s.Width).raw(`"`)
	if d := s.Dash.Lengths(); d != nil {
		w.raw(` stroke-dasharray="`)
		for i, v := range d {
			if i > 0 {
				w.raw(",")
			}
			w.num(v)
		}
		w.raw(`"`)
	}
	return w
}

func (w *writer) fill(i scene.Ink) *writer {
	if i == scene.None {
		return w
	}
	return w.raw(` fill="` + colour(i) + `"`)
}

// ties names the subject and what is shown of it.
func (w *writer) ties(i *scene.Item) *writer {
	return w.attr("data-subject", i.Subject).attr("data-role", i.Role)
}

func colour(i scene.Ink) string {
	const hex = "0123456789abcdef"
	r, g, b := i.RGB()
	out := []byte{'#'}
	for _, v := range []uint8{r, g, b} {
		out = append(out, hex[v>>4], hex[v&15])
	}
	return string(out)
}
