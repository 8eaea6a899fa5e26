package drawing

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// sheetFlow spreads the drawing and the tables of one subject over as many sheets as they need.
type sheetFlow struct {
	b                           *book
	kind, prefix, subject, name string
	chapter                     string // "" = that of the stations
	marks                       []mark
	n                           int
	pen                         scene.Pen
	area                        scene.Rect // free, below what is drawn
}

// flow opens a station's first sheet of a kind: ID KIND/STATION, number PREFIX-STATION.
func (b *book) flow(kind, prefix string, st *design.Station, title string, marks []mark) *sheetFlow {
	f := &sheetFlow{b: b, kind: kind, prefix: prefix, subject: st.ID, name: title, chapter: b.chapterOf(st), marks: marks}
	f.next()
	return f
}

// next opens the subject's next sheet and ties it to the one before.
func (f *sheetFlow) next() {
	f.n++
	id := f.kind + "/" + f.subject
	before := f.pen
	pg := f.b.open(paper.Block{
		ID: more(id, f.n), Kind: f.kind, Number: numberOf(f.prefix, f.subject, f.n),
		Chapter: f.chapter, Title: titleOf(f.name, f.n),
	}, f.marks)
	f.pen, f.area = pg.pen, pg.area
	last := scene.Rect{X: pg.area.X, Y: pg.area.Bottom() - 4.5, W: pg.area.W, H: 4.5}
	f.area.H -= 5
	if f.n > 1 {
		f.b.comesFrom(f.pen, f.area.Top(5), more(id, f.n-1))
		f.b.goesOn(before, last, more(id, f.n))
		f.area = f.area.Below(6)
	}
}

// columns lays tables side by side, each going on in the next column, and then on the next sheet; nil ones are
// left out.
func (f *sheetFlow) columns(tables ...*listing) {
	x, tallest := f.area.X, 0.0
	for _, t := range tables {
		if t == nil {
			continue
		}
		for from := 0; from < len(t.rows); {
			n := 0
			if x+t.width() <= f.area.Right()+0.01 {
				n = t.fits(from, f.area.H)
			}
			if n < min(3, len(t.rows)-from) {
				f.next()
				x, tallest = f.area.X, 0
				continue
			}
			t.draw(f.pen, x, f.area.Y, from, n)
			from, x, tallest = from+n, x+t.width()+columnGap, max(tallest, t.height(n))
		}
	}
	f.area = f.area.Below(tallest + 4)
}

// comesFrom refers to the sheet before in a line at the left, goesOn to the next in a line at the right.
func (b *book) comesFrom(p scene.Pen, line scene.Rect, from string) {
	b.reference(p, line, b.Setting.Say("drawing.from"), from, scene.Left)
}

func (b *book) goesOn(p scene.Pen, line scene.Rect, to string) {
	b.reference(p, line, b.Setting.Say("drawing.onto"), to, scene.Right)
}

// reference writes words and the number of a sheet into a line.
func (b *book) reference(p scene.Pen, r scene.Rect, words, to string, a scene.Anchor) {
	const number = 22
	p = p.On("references").For("", "reference").Font(typeface.Regular, paper.Small).Ink(scene.Black)
	w := p.TextWidth(words) + 1
	x := r.X
	switch a {
	case scene.Middle:
		x = r.MidX() - (number+w)/2
	case scene.Right:
		x = r.Right() - number - w
	}
	p.TextIn(scene.Rect{X: x, Y: r.Y, W: w, H: r.H}, scene.Left, paper.Small*0.8, words)
	refer(p, scene.Rect{X: x + w, Y: r.Y, W: number, H: r.H}, to, scene.Left)
}

// titleOf adds the sheet's place among those of its subject.
func titleOf(title string, n int) string {
	if n == 1 {
		return title
	}
	return fmt.Sprintf("%s (%d)", title, n)
}
