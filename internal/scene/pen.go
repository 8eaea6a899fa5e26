package scene

import (
	"math"

	"railwright/internal/typeface"
)

// Pen draws on a sheet. It is a value: On, For, Line width, ink and font give a pen that differs in that
// and leave the old one as it was, so a function can keep several at hand.
//
// Every coordinate is rounded to a thousandth of a millimetre, so that a sheet is the same data on any
// processor; every text is made printable (typeface.Printable).
type Pen struct {
	sheet  *Sheet
	layer  string
	sub    string
	role   string
	stroke Stroke
	fill   Ink
	style  typeface.Style
	size   float64
	ink    Ink
	link   string
	box    *Rect
}

// NewPen returns a pen on the sheet's layer "drawing": lines 0.25 mm in black, no fill, text 2.5 mm regular.
func NewPen(s *Sheet) Pen {
	return Pen{sheet: s, layer: "drawing", stroke: Stroke{Width: Thin, Ink: Black}, style: typeface.Regular, size: 2.5, ink: Black}
}

// Sheet returns the sheet the pen draws on.
func (p Pen) Sheet() *Sheet { return p.sheet }

// On draws on the named layer, made on its first use; layers are painted in the order they were made.
func (p Pen) On(layer string) Pen { p.layer = layer; return p }

// For ties what is drawn to a subject and says what it is of it.
func (p Pen) For(subject, role string) Pen { p.sub, p.role = subject, role; return p }

// Role says what is drawn of the same subject.
func (p Pen) Role(role string) Pen { p.role = role; return p }

// Wide draws lines of this width in mm; 0 draws none.
func (p Pen) Wide(mm float64) Pen { p.stroke.Width = mm; return p }

// Dash draws lines in this pattern.
func (p Pen) Dash(d Dash) Pen { p.stroke.Dash = d; return p }

// Ink draws lines and texts in this ink.
func (p Pen) Ink(i Ink) Pen { p.stroke.Ink, p.ink = i, i; return p }

// Fill fills closed shapes with this ink; None leaves them open.
func (p Pen) Fill(i Ink) Pen { p.fill = i; return p }

// Font writes in this style and size in mm.
func (p Pen) Font(s typeface.Style, mm float64) Pen { p.style, p.size = s, mm; return p }

// Size writes in this size in mm.
func (p Pen) Size(mm float64) Pen { p.size = mm; return p }

// Link makes the texts refer to another sheet.
func (p Pen) Link(sheetID string) Pen { p.link = sheetID; return p }

// Box says where the texts must stay; tests hold them to it.
func (p Pen) Box(r Rect) Pen { r = roundRect(r); p.box = &r; return p }

// Line draws a straight line.
func (p Pen) Line(x1, y1, x2, y2 float64) { p.Polyline(Point{x1, y1}, Point{x2, y2}) }

// Polyline draws a line through the points.
func (p Pen) Polyline(points ...Point) {
	p.add(Item{Path: &Path{Points: roundPoints(points), Stroke: p.stroke}})
}

// Polygon draws a closed shape.
func (p Pen) Polygon(points ...Point) {
	p.add(Item{Path: &Path{Points: roundPoints(points), Closed: true, Stroke: p.stroke, Fill: p.fill}})
}

// Rect draws a rectangle.
func (p Pen) Rect(r Rect) {
	p.Polygon(Point{r.X, r.Y}, Point{r.X + r.W, r.Y}, Point{r.X + r.W, r.Y + r.H}, Point{r.X, r.Y + r.H})
}

// Circle draws a circle.
func (p Pen) Circle(x, y, radius float64) {
	p.add(Item{Circle: &Circle{Center: Point{round(x), round(y)}, Radius: round(radius), Stroke: p.stroke, Fill: p.fill}})
}

// Dot draws a filled circle without a rim, as at a joint of conductors.
func (p Pen) Dot(x, y, radius float64) {
	p.fill, p.stroke.Width = p.stroke.Ink, 0
	p.Circle(x, y, radius)
}

// Arc draws a part of a circle from start through sweep degrees clockwise; 0 points right.
func (p Pen) Arc(x, y, radius, start, sweep float64) {
	p.add(Item{Arc: &Arc{Center: Point{round(x), round(y)}, Radius: round(radius), Start: round(start), Sweep: round(sweep), Stroke: p.stroke}})
}

// Arrow draws a line with a slim filled head of the given length in mm at its end.
func (p Pen) Arrow(x1, y1, x2, y2, head float64) {
	l := math.Hypot(x2-x1, y2-y1)
	if l == 0 {
		return
	}
	ux, uy := (x2-x1)/l, (y2-y1)/l
	bx, by, w := x2-ux*head, y2-uy*head, head*0.18
	p.Line(x1, y1, bx, by)
	q := p
	q.fill, q.stroke = p.stroke.Ink, Stroke{}
	q.Polygon(Point{x2, y2}, Point{bx - uy*w, by + ux*w}, Point{bx + uy*w, by - ux*w})
}

// Hatch fills an upright rectangle with lines at 45 degrees, gap mm apart, rising to the right; falling
// with a negative gap.
func (p Pen) Hatch(r Rect, gap float64) {
	step := math.Abs(gap) * math.Sqrt2
	for d := step / 2; d < r.W+r.H; d += step {
		x1, y1 := r.X+math.Min(d, r.W), r.Y+math.Max(d-r.W, 0)
		x2, y2 := r.X+math.Max(d-r.H, 0), r.Y+math.Min(d, r.H)
		if gap < 0 {
			x1, x2 = 2*r.X+r.W-x1, 2*r.X+r.W-x2
		}
		p.Line(x1, y1, x2, y2)
	}
}

func (p Pen) add(i Item) {
	i.Subject, i.Role = p.sub, p.role
	l := p.sheet.layer(p.layer)
	l.Items = append(l.Items, i)
}

// layer returns the named layer, appended where it is new.
func (s *Sheet) layer(name string) *Layer {
	for i := range s.Layers {
		if s.Layers[i].Name == name {
			return &s.Layers[i]
		}
	}
	s.Layers = append(s.Layers, Layer{Name: name})
	return &s.Layers[len(s.Layers)-1]
}

func round(v float64) float64 { return math.Round(v*1000) / 1000 }

func roundRect(r Rect) Rect {
	return Rect{round(r.X), round(r.Y), round(r.W), round(r.H)}
}

func roundPoints(in []Point) []Point {
	out := make([]Point, len(in))
	for i, q := range in {
		out[i] = Point{round(q.X), round(q.Y)}
	}
	return out
}
