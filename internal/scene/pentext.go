package scene

import (
	"math"

	"railwright/internal/typeface"
)

// LineHeight is the distance between the base lines of two lines of text, as a part of the size.
const LineHeight = 1.25

// Text writes one line that begins at x on the base line y.
func (p Pen) Text(x, y float64, words string) { p.write(x, y, Left, 0, words) }

// TextMiddle writes one line centred on x.
func (p Pen) TextMiddle(x, y float64, words string) { p.write(x, y, Middle, 0, words) }

// TextRight writes one line that ends at x.
func (p Pen) TextRight(x, y float64, words string) { p.write(x, y, Right, 0, words) }

// TextUp writes one line that reads upwards, its base line on x, the anchor at y.
func (p Pen) TextUp(x, y float64, a Anchor, words string) { p.write(x, y, a, -90, words) }

// TextIn writes one line into a rectangle, in the middle of its height. A text that is too wide becomes
// smaller, down to least mm, and is cut with "…" below that; it reports whether the whole text is there.
func (p Pen) TextIn(r Rect, a Anchor, least float64, words string) bool {
	words = typeface.Printable(words)
	size, whole := typeface.Shrink(p.style, words, p.size, least, r.W)
	p.size = math.Floor(size*100) / 100
	if !whole {
		words = typeface.Clip(p.style, words, p.size, r.W)
	}
	x := r.X
	switch a {
	case Middle:
		x += r.W / 2
	case Right:
		x += r.W
	}
	p.Box(r).write(x, baseIn(r.Y, r.H, p.size), a, 0, words)
	return whole
}

// TextUpIn is TextIn for a line that reads upwards.
func (p Pen) TextUpIn(r Rect, a Anchor, least float64, words string) bool {
	words = typeface.Printable(words)
	size, whole := typeface.Shrink(p.style, words, p.size, least, r.H)
	p.size = math.Floor(size*100) / 100
	if !whole {
		words = typeface.Clip(p.style, words, p.size, r.H)
	}
	y := r.Y + r.H
	switch a {
	case Middle:
		y -= r.H / 2
	case Right:
		y -= r.H
	}
	p.Box(r).write(baseIn(r.X, r.W, p.size), y, a, -90, words)
	return whole
}

// baseIn is the base line that puts capitals in the middle of a band, or higher where the letters that hang
// below it would leave the band.
func baseIn(from, wide, size float64) float64 {
	return min(from+wide/2+size*typeface.CapHeight/2, from+wide-size*typeface.Descent)
}

// Wrapped writes a text into a rectangle from its top, broken into lines; it returns the lines that did
// not fit the height.
func (p Pen) Wrapped(r Rect, words string) (rest []string) {
	lines := typeface.Wrap(p.style, printableLines(words), p.size, r.W)
	y := r.Y + p.size*typeface.CapHeight
	for i, line := range lines {
		if y+p.size*typeface.Descent > r.Y+r.H+0.001 {
			return lines[i:]
		}
		if line != "" {
			p.Text(r.X, y, line)
		}
		y += p.size * LineHeight
	}
	return nil
}

// WrappedHeight returns the height that Wrapped needs at a width.
func (p Pen) WrappedHeight(width float64, words string) float64 {
	n := len(typeface.Wrap(p.style, printableLines(words), p.size, width))
	return p.size * (typeface.CapHeight + typeface.Descent + float64(n-1)*LineHeight)
}

// TextWidth returns the width of a line in the pen's font.
func (p Pen) TextWidth(words string) float64 {
	return typeface.Width(p.style, typeface.Printable(words), p.size)
}

func (p Pen) write(x, y float64, a Anchor, turn float64, words string) {
	words = typeface.Printable(words)
	if words == "" {
		return
	}
	p.add(Item{Text: &Text{
		At: Point{round(x), round(y)}, Size: p.size, Anchor: a, Style: p.style, Ink: p.ink, Turn: turn,
		Words: words, Box: p.box, Sheet: p.link,
	}})
}

// printableLines is typeface.Printable that keeps line ends.
func printableLines(text string) string {
	out := ""
	for len(text) > 0 {
		n := 0
		for n < len(text) && text[n] != '\n' {
			n++
		}
		out += typeface.Printable(text[:n])
		if n < len(text) {
			out += "\n"
			n++
		}
		text = text[n:]
	}
	return out
}
