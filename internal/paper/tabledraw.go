package paper

import (
	"strings"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// drawn is a table on its way to paper.
type drawn struct {
	*Table
	f      *Flow
	x      []float64 // left edges, and the right edge of the last column
	size   float64
	head   [][]string
	headH  float64
	top    float64 // of the part on this sheet
	begun  bool
	pieces int
}

func (f *Flow) one(t Table) {
	d := &drawn{Table: &t, f: f, size: t.size()}
	x := f.free.X
	for _, w := range t.widths(f.free.W) {
		d.x = append(d.x, x)
		x += w
	}
	d.x = append(d.x, x)
	lines := 1
	for j, c := range t.Columns {
		l := wrap(typeface.Bold, c.Head, d.size, d.x[j+1]-d.x[j]-2*cellPad)
		d.head = append(d.head, l)
		lines = max(lines, len(l))
	}
	d.headH = d.high(lines)
	if len(t.Rows) == 0 {
		f.Keep(d.headH)
		d.begin()
	}
	for i := range t.Rows {
		d.row(i)
	}
	d.end()
}

func (d *drawn) high(lines int) float64 {
	return float64(lines)*d.size*lineHeight + 2*cellPad*0.7
}

// begin opens the table on this sheet with its heads.
func (d *drawn) begin() {
	r := d.f.take(d.headH)
	d.top, d.begun = r.Y, true
	d.pieces++
	band := scene.Rect{X: d.x[0], Y: r.Y, W: d.x[len(d.x)-1] - d.x[0], H: d.headH}
	d.f.pen.area(band, scene.Stroke{}, scene.Pale)
	for j, lines := range d.head {
		d.cell(j, r.Y, d.headH, lines, typeface.Bold, &Cell{Role: "head"}, 0)
	}
	d.rule(r.Y, scene.Medium)
	d.rule(r.Y+d.headH, scene.Medium)
}

func (d *drawn) rule(y, width float64) { d.f.pen.line(d.x[0], y, d.x[len(d.x)-1], y, width) }

// end closes the table on this sheet: the line below it and those between its columns.
func (d *drawn) end() {
	if !d.begun {
		return
	}
	d.rule(d.f.y, scene.Medium)
	for j, x := range d.x {
		w := scene.Hair
		if j == 0 || j == len(d.x)-1 {
			w = scene.Medium
		}
		d.f.pen.line(x, d.top, x, d.f.y, w)
	}
	d.begun = false
}

// row writes one row, on the next sheet if it does not fit, in pieces if it fits none.
func (d *drawn) row(i int) {
	cells := make([][]string, len(d.Columns))
	lines := 1
	for j := range d.Columns {
		c := &d.Rows[i][j]
		w := d.x[j+1] - d.x[j] - 2*cellPad
		if c.Tick {
			w -= tickSide + cellPad
		}
		if c.Text != "" {
			cells[j] = wrap(d.styleOf(i, j), c.Text, d.size, max(w, d.size))
			lines = max(lines, len(cells[j]))
		}
	}
	for first := true; lines > 0; first = false {
		h := max(d.high(lines), d.Row, d.tickHigh(i))
		if d.begun && h > d.f.Left() && (h <= d.f.free.H-d.headH || d.f.Left() < d.high(3)) {
			d.end()
			d.f.Break()
		}
		if !d.begun {
			d.f.Keep(d.headH + min(h, d.f.free.H-d.headH))
			d.begin()
		}
		n := lines
		for n > 1 && d.high(n) > d.f.Left() {
			n--
		}
		if n < lines {
			h = d.high(n)
		}
		d.piece(i, cells, n, h, first)
		lines -= n
		for j := range cells {
			cells[j] = cells[j][min(n, len(cells[j])):]
		}
	}
}

func (d *drawn) tickHigh(i int) float64 {
	for j := range d.Rows[i] {
		if d.Rows[i][j].Tick {
			return tickSide + 2*cellPad
		}
	}
	return 0
}

func (d *drawn) piece(i int, cells [][]string, n int, h float64, first bool) {
	y := d.f.y
	if y > d.top+d.headH+0.01 {
		w := scene.Hair
		if d.Total && i == len(d.Rows)-1 && first {
			w = scene.Medium
		}
		d.rule(y, w)
	}
	r := d.f.take(h)
	for j := range d.Columns {
		c := d.Rows[i][j]
		indent := 0.0
		if c.Tick {
			indent = tickSide + cellPad
			if first {
				d.f.pen.rect(scene.Rect{X: d.x[j] + cellPad, Y: r.Y + cellPad*0.8, W: tickSide, H: tickSide}, scene.Medium)
			}
		}
		d.cell(j, r.Y, h, cells[j][:min(n, len(cells[j]))], d.styleOf(i, j), &c, indent)
	}
}

func (d *drawn) cell(j int, y, h float64, lines []string, style typeface.Style, c *Cell, indent float64) {
	box := scene.Rect{X: d.x[j], Y: y, W: d.x[j+1] - d.x[j], H: h}
	for k, l := range lines {
		if l == "" {
			continue
		}
		t := &scene.Text{
			At:   scene.Point{X: box.X + cellPad + indent, Y: y + cellPad*0.7 + d.size*(0.97+lineHeight*float64(k))},
			Size: d.size, Style: style, Words: l, Box: &box, Sheet: c.Sheet,
		}
		if d.Columns[j].Anchor == scene.Right {
			t.At.X, t.Anchor = box.X+box.W-cellPad, scene.Right
		}
		d.f.pen.items = append(d.f.pen.items, scene.Item{Subject: c.Subject, Role: c.Role, Text: t})
	}
}

// wrap breaks a cell's text into lines at spaces and line ends; a word is broken only where it alone is
// too wide, so that names stay whole.
func wrap(style typeface.Style, text string, size, width float64) []string {
	if typeface.Width(style, text, size) <= width && !strings.Contains(text, "\n") {
		return []string{text}
	}
	var lines []string
	for _, paragraph := range strings.Split(text, "\n") {
		line := ""
		for _, word := range strings.Fields(paragraph) {
			joined := word
			if line != "" {
				joined = line + " " + word
			}
			if typeface.Width(style, joined, size) <= width {
				line = joined
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			parts := typeface.Wrap(style, word, size, width)
			lines = append(lines, parts[:len(parts)-1]...)
			line = parts[len(parts)-1]
		}
		lines = append(lines, line)
	}
	return lines
}
