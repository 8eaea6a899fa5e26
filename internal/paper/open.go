package paper

import (
	"math"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Block is what a sheet's title block says.
type Block struct {
	ID      string // unique in the pack: "loop/PT-101"
	Kind    string // "rail", "loop", "table": how a drawing program or a test knows it
	Number  string // "" = given by Finish: the chapter's letter and the place in it
	Chapter string // bookmark
	Title   string // bookmark below it
	Drawing bool   // a drawing: the setting's own size, lying; else its Half, upright
	Lying   bool   // a list too wide for upright paper
}

// Margins of the frame. The left one is wider for binding (ISO 5457).
const (
	marginLeft = 20.0
	margin     = 10.0
	inside     = 3.0 // between frame and what is printed
)

// The roles of the texts that Finish fills in.
const (
	RolePage   = "page"         // "page 3 of 120"
	RoleNumber = "sheet number" // the sheet's own number
	RoleSheet  = "sheet"        // the number of the sheet that Text.Sheet names
)

// Open returns an empty sheet with frame and title block, and the rectangle free to draw in. Its first
// layer is the frame's; add layers after it.
func Open(set Setting, b Block) (scene.Sheet, scene.Rect) {
	size := set.Size
	if !b.Drawing {
		size = size.Half()
	}
	w, h := size.Portrait()
	if b.Drawing || b.Lying {
		w, h = h, w
	}
	s := scene.Sheet{ID: b.ID, Kind: b.Kind, Number: b.Number, Title: b.Title, Chapter: b.Chapter, Width: w, Height: h}
	s.Frame = scene.Rect{X: marginLeft, Y: margin, W: w - marginLeft - margin, H: h - 2*margin}
	p := pen{}
	p.rect(s.Frame, scene.Thick)
	strip := titleBlock(&p, set, b, s.Frame)
	p.round()
	s.Layers = []scene.Layer{{Name: "frame", Items: p.items}}
	free := s.Frame
	free.H -= strip
	return s, free.Inset(inside)
}

// Free is the rectangle that Open would leave.
func Free(set Setting, b Block) scene.Rect {
	_, free := Open(set, b)
	return free
}

// pen collects the items of one layer.
type pen struct{ items []scene.Item }

func (p *pen) line(x1, y1, x2, y2, width float64) {
	p.items = append(p.items, scene.Item{Path: &scene.Path{Points: []scene.Point{{X: x1, Y: y1}, {X: x2, Y: y2}}, Stroke: scene.Stroke{Width: width}}})
}

func (p *pen) rect(r scene.Rect, width float64) { p.area(r, scene.Stroke{Width: width}, scene.None) }

func (p *pen) area(r scene.Rect, stroke scene.Stroke, fill scene.Ink) {
	p.items = append(p.items, scene.Item{Path: &scene.Path{
		Points: []scene.Point{{X: r.X, Y: r.Y}, {X: r.X + r.W, Y: r.Y}, {X: r.X + r.W, Y: r.Y + r.H}, {X: r.X, Y: r.Y + r.H}},
		Closed: true, Stroke: stroke, Fill: fill,
	}})
}

// text writes a line that must stay in box.
func (p *pen) text(role string, box scene.Rect, t scene.Text) {
	t.Box = &box
	p.items = append(p.items, scene.Item{Role: role, Text: &t})
}

// fitted writes words into a box of one line, as large as they fit down to Small, then shortened.
func (p *pen) fitted(role string, box scene.Rect, style typeface.Style, size float64, words string, anchor scene.Anchor) {
	const pad = 1.0
	words = typeface.Printable(words) // one line: a line end in a name becomes a space
	size, ok := typeface.Shrink(style, words, size, Small, box.W-2*pad)
	if !ok {
		words = typeface.Clip(style, words, size, box.W-2*pad)
	}
	if words == "" {
		return
	}
	at := scene.Point{X: box.X + pad, Y: box.Y + box.H/2 + typeface.CapHeight*size/2}
	switch anchor {
	case scene.Middle:
		at.X = box.X + box.W/2
	case scene.Right:
		at.X = box.X + box.W - pad
	}
	p.text(role, box, scene.Text{At: at, Size: size, Anchor: anchor, Style: style, Words: words})
}

// round puts every coordinate on a thousandth of a millimetre, so that a sheet is the same data on any
// processor.
func (p *pen) round() {
	r := func(v float64) float64 { return math.Round(v*1000) / 1000 }
	for i := range p.items {
		switch it := &p.items[i]; {
		case it.Path != nil:
			for j := range it.Path.Points {
				q := &it.Path.Points[j]
				q.X, q.Y = r(q.X), r(q.Y)
			}
		case it.Circle != nil:
			it.Circle.Center = scene.Point{X: r(it.Circle.Center.X), Y: r(it.Circle.Center.Y)}
		case it.Text != nil:
			t := it.Text
			t.At.X, t.At.Y, t.Size = r(t.At.X), r(t.At.Y), math.Floor(t.Size*1000)/1000
			if t.Box != nil {
				b := t.Box
				b.X, b.Y, b.W, b.H = r(b.X), r(b.Y), r(b.W), r(b.H)
			}
		}
	}
}
