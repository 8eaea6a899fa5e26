package paper

import (
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Heading begins a section: level 1 is a title with a line below it, 2 and 3 are smaller. It stays with at
// least a few lines of what follows.
func (f *Flow) Heading(level int, words string) {
	size := []float64{Title * 0.85, Heading, Normal * 1.08}[min(max(level, 1), 3)-1]
	f.Space([]float64{8, 6, 4}[min(max(level, 1), 3)-1])
	f.Keep(size*lineHeight + 18)
	f.lines(typeface.Bold, size, 0, words, nil)
	if level == 1 {
		r := f.take(1.5)
		f.pen.line(r.X, r.Y+0.75, r.X+r.W, r.Y+0.75, scene.Medium)
	}
	f.Space(2)
}

// Paragraph writes text of the normal size.
func (f *Flow) Paragraph(words string) {
	f.lines(typeface.Regular, Normal, 0, words, nil)
	f.Space(2)
}

// Note writes small text.
func (f *Flow) Note(words string) {
	f.lines(typeface.Regular, Small*1.1, 0, words, nil)
	f.Space(1.5)
}

// Bullet writes one point of a list.
func (f *Flow) Bullet(words string) {
	f.lines(typeface.Regular, Normal, 5, words, func(r scene.Rect) {
		f.pen.items = append(f.pen.items, scene.Item{Circle: &scene.Circle{
			Center: scene.Point{X: r.X + 2, Y: r.Y + Normal*0.74}, Radius: 0.55, Fill: scene.Black,
		}})
	})
	f.Space(1)
}

// Caution writes a warning in a heavy frame with a sign before it. It is never split over two sheets
// unless it is longer than one.
func (f *Flow) Caution(words string) {
	const pad, sign = 2.5, 11.0
	size := Normal
	lines := typeface.Wrap(typeface.Regular, printable(words), size, f.free.W-2*pad-sign)
	for len(lines) > 0 {
		fit := max(int((f.free.H-2*pad)/(size*lineHeight)), 1)
		part := lines[:min(fit, len(lines))]
		lines = lines[len(part):]
		h := max(float64(len(part))*size*lineHeight+2*pad, 11)
		f.Space(2)
		r := f.take(h)
		f.pen.area(r, scene.Stroke{Width: scene.Thick, Ink: scene.Warn}, scene.None)
		f.triangle(r.X+sign/2+0.5, r.Y+h/2)
		y := r.Y + (h-float64(len(part))*size*lineHeight)/2
		for _, l := range part {
			if l == "" {
				y += size * lineHeight
				continue
			}
			box := scene.Rect{X: r.X + pad + sign, Y: y, W: r.W - 2*pad - sign, H: size * lineHeight}
			f.pen.text("caution", box, scene.Text{At: scene.Point{X: box.X, Y: y + size}, Size: size, Style: typeface.Regular, Words: l})
			y += size * lineHeight
		}
	}
	f.Space(3)
}

// triangle is the general warning sign (ISO 7010 W001), without its colour.
func (f *Flow) triangle(x, y float64) {
	const a = 4.0
	f.pen.items = append(f.pen.items, scene.Item{Path: &scene.Path{
		Points: []scene.Point{{X: x, Y: y - a}, {X: x + a*1.1, Y: y + a*0.8}, {X: x - a*1.1, Y: y + a*0.8}},
		Closed: true, Stroke: scene.Stroke{Width: scene.Thick},
	}})
	box := scene.Rect{X: x - 2, Y: y - 3.2, W: 4, H: 7}
	f.pen.text("", box, scene.Text{At: scene.Point{X: x, Y: y + 2.2}, Size: Heading, Anchor: scene.Middle, Style: typeface.Bold, Words: "!"})
}
