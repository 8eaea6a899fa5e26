package drawing

import (
	"math"

	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// listing is a small table on a drawing. Its rows may go on to another sheet.
type listing struct {
	title string
	cols  []listCol
	rows  [][]listCell
}

type listCol struct {
	head   string
	width  float64 // mm
	anchor scene.Anchor
}

// listCell is text, or something drawn.
type listCell struct {
	words   string
	subject string
	role    string
	link    string // sheet whose number stands here
	mono    bool
	draw    func(p scene.Pen, r scene.Rect)
}

const (
	listRow   = 4.5
	listTitle = 5.5
	columnGap = 5.0 // between two tables side by side
)

func (g *listing) width() float64 {
	w := 0.0
	for _, c := range g.cols {
		w += c.width
	}
	return w
}

// squeeze makes the columns of tables narrower where that lets them stand side by side, by an eighth at most.
func squeeze(width float64, tables ...*listing) {
	need := 0.0
	for _, t := range tables {
		need += t.width()
	}
	part := (width - columnGap*float64(len(tables)-1)) / need
	if part >= 1 || part < 0.875 {
		return
	}
	for _, t := range tables {
		for i := range t.cols {
			t.cols[i].width = math.Floor(t.cols[i].width*part*10) / 10
		}
	}
}

// fits says how many rows, from the given one, a height holds beside title and head.
func (g *listing) fits(from int, height float64) int {
	n := int((height - listTitle - listRow + 0.001) / listRow)
	return max(min(n, len(g.rows)-from), 0)
}

// height is what n rows take.
func (g *listing) height(n int) float64 { return listTitle + listRow*float64(n+1) }

// draw writes n rows from the given one with the upper left corner at (x, y).
func (g *listing) draw(p scene.Pen, x, y float64, from, n int) {
	p = p.On("tables").Font(typeface.Regular, paper.Small).Ink(scene.Black).Fill(scene.None)
	p.Font(typeface.Bold, paper.Small).For("", "table title").TextIn(scene.Rect{X: x, Y: y, W: g.width(), H: listTitle - 0.5}, scene.Left, paper.Small*0.8, g.title)
	y += listTitle
	all := scene.Rect{X: x, Y: y, W: g.width(), H: listRow * float64(n+1)}
	p.For("", "table").Wide(0).Fill(scene.Pale).Rect(all.Top(listRow))
	p.For("", "table").Wide(scene.Thin).Rect(all)
	g.lines(p.For("", "table").Wide(scene.Hair), all, n)
	cx := x
	for k, c := range g.cols {
		p.For("", "table head").TextIn(cellBox(cx, y, c.width), c.anchor, paper.Small*0.8, c.head)
		for i := range n {
			g.rows[from+i][k].write(p, c, cx, y+listRow*float64(i+1))
		}
		cx += c.width
	}
}

func (g *listing) lines(p scene.Pen, all scene.Rect, n int) {
	for i := range n {
		y := all.Y + listRow*float64(i+1)
		p.Line(all.X, y, all.Right(), y)
	}
	x := all.X
	for _, c := range g.cols[:len(g.cols)-1] {
		x += c.width
		p.Line(x, all.Y, x, all.Bottom())
	}
}

func cellBox(x, y, w float64) scene.Rect {
	return scene.Rect{X: x + 0.8, Y: y, W: w - 1.6, H: listRow}
}

func (c *listCell) write(p scene.Pen, col listCol, x, y float64) {
	p = p.For(c.subject, c.role)
	if c.mono {
		p = p.Font(typeface.Mono, paper.Small)
	}
	box := cellBox(x, y, col.width)
	switch {
	case c.draw != nil:
		c.draw(p, scene.Rect{X: x, Y: y, W: col.width, H: listRow})
	case c.link != "":
		refer(p.For("", ""), box, c.link, col.anchor)
	default:
		p.TextIn(box, col.anchor, paper.Small*0.8, c.words)
	}
}
