package paper

import (
	"slices"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Field is one box of a form: a caption and what stands in it, or room for the pen where Value is "".
type Field struct {
	Caption string
	Value   string
	Style   typeface.Style // of the value
	Subject string
	Role    string
	Sheet   string // ID of the sheet that the value refers to
	Span    int    // how many boxes wide; 0 = 1
	Lines   int    // at least so many lines high
}

// Fields writes a form of boxes, so many to the row. Values that are too long take more lines.
func (f *Flow) Fields(perRow int, fields ...Field) {
	w := f.free.W / float64(perRow)
	fields = slices.Clone(fields)
	for i := range fields {
		fields[i].Span = min(max(fields[i].Span, 1), perRow)
	}
	for len(fields) > 0 {
		n, used := 0, 0
		for n < len(fields) && used+fields[n].Span <= perRow {
			used += fields[n].Span
			n++
		}
		f.fieldRow(fields[:n], w)
		fields = fields[n:]
	}
	f.Space(3)
}

const (
	fieldPad  = 1.2
	fieldSize = 3.0
)

func (f *Flow) fieldRow(row []Field, w float64) {
	lines := make([][]string, len(row))
	tall := 1
	for i, fd := range row {
		wide := w*float64(fd.Span) - 2*fieldPad
		if fd.Value != "" {
			lines[i] = wrap(styleOr(fd.Style), printable(fd.Value), fieldSize, wide)
			tall = max(tall, len(lines[i]))
		}
		tall = max(tall, fd.Lines)
	}
	tall = min(tall, int((f.free.H-8)/(fieldSize*lineHeight)))
	h := Small*lineHeight + float64(tall)*fieldSize*lineHeight + 2*fieldPad
	r := f.take(h)
	x := r.X
	for i, fd := range row {
		box := scene.Rect{X: x, Y: r.Y, W: w * float64(fd.Span), H: h}
		f.pen.rect(box, scene.Hair)
		caption := scene.Rect{X: x, Y: r.Y + 0.4, W: box.W, H: Small * lineHeight}
		f.pen.captioned(caption, fd.Caption)
		y := r.Y + fieldPad + Small*lineHeight
		for _, l := range lines[i][:min(len(lines[i]), tall)] {
			line := scene.Rect{X: x + fieldPad, Y: y, W: box.W - 2*fieldPad, H: fieldSize * lineHeight}
			f.pen.items = append(f.pen.items, scene.Item{Subject: fd.Subject, Role: fd.Role, Text: &scene.Text{
				At: scene.Point{X: line.X, Y: y + fieldSize*0.95}, Size: fieldSize, Style: styleOr(fd.Style), Words: l, Box: &line, Sheet: fd.Sheet,
			}})
			y += fieldSize * lineHeight
		}
		x += box.W
	}
}

func styleOr(s typeface.Style) typeface.Style {
	if s == "" {
		return typeface.Regular
	}
	return s
}

// captioned writes the small grey caption of a box.
func (p *pen) captioned(box scene.Rect, words string) {
	size, ok := typeface.Shrink(typeface.Regular, words, Small*0.9, Small*0.8, box.W-2*fieldPad)
	if !ok {
		words = typeface.Clip(typeface.Regular, words, size, box.W-2*fieldPad)
	}
	if words == "" {
		return
	}
	p.text("caption", box, scene.Text{At: scene.Point{X: box.X + fieldPad, Y: box.Y + size}, Size: size, Style: typeface.Regular, Ink: scene.Dark, Words: words})
}
