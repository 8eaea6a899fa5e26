package pdf

import (
	"bytes"
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Info is what the file says of itself.
type Info struct {
	Title    string
	Subject  string
	Author   string
	Language string    // "en", "de"
	Created  time.Time // from the project's data, never the clock; zero stands for 2000-01-01
}

// Bytes returns the sheets as one PDF file.
func Bytes(sheets []scene.Sheet, info Info) ([]byte, error) {
	var b bytes.Buffer
	if err := Write(&b, sheets, info); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Write writes the sheets as one PDF file, in their order. Text.Sheet becomes a link where the sheet it
// names is among them. No sheets give one empty page, since a PDF file must have one.
func Write(to io.Writer, sheets []scene.Sheet, info Info) error {
	w := newWriter(info)
	for i := range sheets {
		w.reserve(sheets[i].ID)
	}
	chapter := ""
	for i := range sheets {
		s := &sheets[i]
		w.page(s)
		if s.Chapter != chapter {
			chapter = s.Chapter
			w.f.Bookmark(typeface.Printable(chapter), 0, 0)
		}
		level := 1
		if chapter == "" {
			level = 0
		}
		w.f.Bookmark(typeface.Printable(bookmark(s)), level, 0)
	}
	if len(sheets) == 0 {
		w.f.AddPage()
	}
	var plain bytes.Buffer
	if err := w.f.Output(&plain); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	w.f = nil // its pages are no longer needed
	if err := squeeze(to, plain.Bytes()); err != nil {
		return fmt.Errorf("write PDF: %w", err)
	}
	return nil
}

func bookmark(s *scene.Sheet) string {
	if s.Number == "" {
		return s.Title
	}
	return s.Number + "  " + s.Title
}

type writer struct {
	f      *fpdf.Fpdf
	links  map[string]int
	font   font
	stroke scene.Stroke
	fill   scene.Ink
	set    bool // stroke and fill say what the page has
}

type font struct {
	style typeface.Style
	size  float64
}

// families are the names under which the fonts are registered.
var families = map[typeface.Style]string{
	typeface.Regular: "goregular", typeface.Bold: "gobold", typeface.Mono: "gomono", typeface.MonoBold: "gomonobold",
}

func newWriter(info Info) *writer {
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	f.SetCatalogSort(true)
	f.SetCompression(false) // see squeeze
	created := info.Created
	if created.IsZero() {
		created = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	f.SetCreationDate(created)
	f.SetModificationDate(created)
	f.SetProducer("railwright", true)
	f.SetTitle(info.Title, true)
	f.SetSubject(info.Subject, true)
	f.SetAuthor(info.Author, true)
	if info.Language != "" {
		f.SetLang(info.Language)
	}
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	for _, s := range typeface.Styles {
		// A copy, since fpdf renumbers the parts of composed letters within the bytes it was given.
		f.AddUTF8FontFromBytes(families[s], "", bytes.Clone(typeface.Data(s)))
	}
	return &writer{f: f, links: map[string]int{}}
}

func (w *writer) reserve(id string) {
	if _, there := w.links[id]; !there && id != "" {
		w.links[id] = w.f.AddLink()
	}
}

func (w *writer) page(s *scene.Sheet) {
	w.f.AddPageFormat("P", fpdf.SizeType{Wd: s.Width, Ht: s.Height})
	w.f.SetLineJoinStyle("miter")
	w.set, w.font = false, font{}
	// The bookmark takes the text form of the font in use.
	w.f.SetFont(families[typeface.Regular], "", 8)
	if l, there := w.links[s.ID]; there {
		w.f.SetLink(l, 0, w.f.PageNo())
	}
	for l := range s.Layers {
		for i := range s.Layers[l].Items {
			w.item(&s.Layers[l].Items[i])
		}
	}
}

func (w *writer) item(i *scene.Item) {
	switch {
	case i.Path != nil:
		w.path(i.Path)
	case i.Circle != nil:
		c := i.Circle
		if style := w.shape(c.Stroke, c.Fill); style != "" {
			w.f.Circle(c.Center.X, c.Center.Y, c.Radius, style)
		}
	case i.Arc != nil:
		a := i.Arc
		if style := w.shape(a.Stroke, scene.None); style != "" {
			w.arc(a)
		}
	case i.Text != nil:
		w.text(i.Text)
	}
}

// arc draws in our direction: fpdf counts its degrees against the clock.
func (w *writer) arc(a *scene.Arc) {
	from, to := -a.Start-a.Sweep, -a.Start
	if a.Sweep < 0 {
		from, to = to, from
	}
	w.f.Arc(a.Center.X, a.Center.Y, a.Radius, a.Radius, 0, from, to, "D")
}

func (w *writer) path(p *scene.Path) {
	fill := p.Fill
	if !p.Closed {
		fill = scene.None
	}
	style := w.shape(p.Stroke, fill)
	if style == "" || len(p.Points) < 2 {
		return
	}
	w.f.MoveTo(p.Points[0].X, p.Points[0].Y)
	for _, q := range p.Points[1:] {
		w.f.LineTo(q.X, q.Y)
	}
	if p.Closed {
		w.f.ClosePath()
	}
	w.f.DrawPath(style)
}

// shape sets line and fill and says how to paint: "D", "F", "DF", or "" for nothing.
func (w *writer) shape(s scene.Stroke, fill scene.Ink) string {
	style := ""
	if s.Width > 0 {
		style = "D"
		w.line(s)
	}
	if fill != scene.None {
		if style += "F"; style == "DF" {
			style = "FD"
		}
		if !w.set || w.fill != fill {
			r, g, b := fill.RGB()
			w.f.SetFillColor(int(r), int(g), int(b))
			w.fill = fill
		}
	}
	return style
}

func (w *writer) line(s scene.Stroke) {
	if s.Ink == scene.None {
		s.Ink = scene.Black
	}
	if w.set && w.stroke == s {
		return
	}
	if !w.set || w.stroke.Ink != s.Ink {
		r, g, b := s.Ink.RGB()
		w.f.SetDrawColor(int(r), int(g), int(b))
	}
	if !w.set || w.stroke.Width != s.Width {
		w.f.SetLineWidth(s.Width)
	}
	if !w.set || w.stroke.Dash != s.Dash {
		w.f.SetDashPattern(s.Dash.Lengths(), 0)
	}
	if !w.set {
		w.fill = scene.None
	}
	w.stroke, w.set = s, true
}

// pointsPerMM is the PDF unit.
const pointsPerMM = 72 / 25.4

func (w *writer) text(t *scene.Text) {
	if _, known := families[t.Style]; !known {
		t2 := *t
		t2.Style = typeface.Regular
		t = &t2
	}
	words := typeface.Printable(t.Words)
	if f := (font{t.Style, t.Size}); f != w.font {
		w.f.SetFont(families[t.Style], "", t.Size*pointsPerMM)
		w.font = f
	}
	r, g, b := t.Ink.RGB()
	w.f.SetTextColor(int(r), int(g), int(b))
	x, y := t.At.X, t.At.Y
	along := typeface.Width(t.Style, words, t.Size)
	back := 0.0
	switch t.Anchor {
	case scene.Middle:
		back = along / 2
	case scene.Right:
		back = along
	}
	if t.Turn != 0 {
		w.f.TransformBegin()
		w.f.TransformRotate(-t.Turn, x, y)
		w.f.Text(x-back, y, words)
		w.f.TransformEnd()
	} else {
		w.f.Text(x-back, y, words)
	}
	if l, there := w.links[t.Sheet]; there && t.Sheet != "" {
		box := t.Bounds()
		w.f.Link(box.X, box.Y, box.W, box.H, l)
	}
}
