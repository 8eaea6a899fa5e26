package drawing

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Heights of the bands of a rail drawing, from its top, mm of paper. Only widths are to scale.
const (
	bandGroup  = 6.0  // brackets with the groups' names
	bandLoad   = 5.0  // load bars
	bandModule = 46.0 // modules, or modules and bases together
	bandBase   = 11.0 // the lower part, where the supply bus runs
	bandInfeed = 14.5 // arrows at the infeed points
	bandSize   = 11.5 // dimensions
	railOver   = 5.0  // the rail drawn beyond the station
)

// strip is a run of parts drawn in one row.
type strip struct {
	first, last int     // parts
	from, to    float64 // mm on the rail
}

// railScales are the scales of ISO 5455 that leave a slot's name readable, largest first.
var railScales = []float64{1, 0.5}

// railSheets draws a station's rail: to scale with slots, groups, infeed points and load bars, and the same
// as tables. Each strip of a long rail is followed by the tables of its own slots.
func (b *book) railSheets(st *design.Station) {
	r := b.rackOf(st)
	marks := b.railMarks(r)
	free := b.free(marks)
	scale, strips := r.split(free.W - 2*railOver)
	high := b.stripHeight()
	f := railFlow{b: b, st: st, marks: marks}
	f.next()
	for i, s := range strips {
		if i > 0 && f.area.H < high {
			f.next()
		}
		at := scene.Point{X: f.area.X + railOver, Y: f.area.Y}
		b.drawStrip(f.pen, r, s, at, scale, i == 0, i == len(strips)-1)
		x := at.X + (s.to-s.from)*scale + railOver + 4
		f.beside = scene.Rect{X: x, Y: f.area.Y, W: f.area.Right() - x, H: high}
		f.area = f.area.Below(high + 2)
		f.tables(b.groupList(st, r.slots(s)), b.slotList(st, r.slots(s)))
	}
}

// slots returns the slots of a strip.
func (r *rack) slots(s strip) []*design.Slot {
	var out []*design.Slot
	for i := s.first; i <= s.last; i++ {
		if r.parts[i].slot != nil {
			out = append(out, r.parts[i].slot)
		}
	}
	return out
}

func (b *book) stripHeight() float64 {
	return bandGroup + bandLoad + bandModule + bandInfeed + bandSize
}

// split chooses the scale and cuts the rail into strips of whole parts that fit the width.
func (r *rack) split(width float64) (scale float64, strips []strip) {
	for _, scale = range railScales {
		if r.length*scale <= width {
			break
		}
	}
	s := strip{}
	for i, p := range r.parts {
		if end := p.from + p.width; i > s.first && (end-s.from)*scale > width {
			strips = append(strips, s)
			s = strip{first: i, from: p.from}
		}
		s.last, s.to = i, p.from+p.width
	}
	return scale, append(strips, s)
}

// railFlow spreads strips and tables over the sheets of one station.
type railFlow struct {
	b      *book
	st     *design.Station
	marks  []mark
	n      int
	pen    scene.Pen
	area   scene.Rect // free, below what is drawn
	beside scene.Rect // free at the right of the last strip
}

// next opens the station's next rail sheet and ties it to the one before.
func (f *railFlow) next() {
	f.n++
	id := "rail/" + f.st.ID
	before := f.pen
	pg := f.b.open(paper.Block{
		ID: more(id, f.n), Kind: "rail", Number: numberOf("RD", f.st.ID, f.n), Chapter: f.b.Setting.Say("drawing.chapter.stations"),
		Title: titleOf(f.b.Setting.Say("drawing.rail.title", f.st.ID, f.st.Name), f.n),
	}, f.marks)
	f.pen, f.area, f.beside = pg.pen, pg.area, scene.Rect{}
	if f.n > 1 {
		line := f.area.Top(5)
		f.b.comesFrom(f.pen, line, more(id, f.n-1))
		s := before.Sheet()
		f.b.goesOn(before, scene.Rect{X: s.Frame.X + 3, Y: lastLine(f.b, f.marks), W: s.Frame.W - 6, H: 4.5}, more(id, f.n))
		f.area = f.area.Below(6)
	}
	f.area.H -= 5 // the line "goes on"
}

// lastLine is the y of the line above the legend that says where a sheet goes on.
func lastLine(b *book, marks []mark) float64 {
	free := b.free(marks)
	return free.Bottom() - 4.5
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

// tables places the tables beside the last strip where one fits, then below, then on further sheets.
func (f *railFlow) tables(groups, slots *listing) {
	at := f.beside
	if at.W >= groups.width() && groups.fits(0, at.H) == len(groups.rows) {
		groups.draw(f.pen, at.X, at.Y, 0, len(groups.rows))
		f.columns(slots)
		return
	}
	f.columns(slots, groups)
}

// columns lays tables side by side, each going on in the next column, and then on the next sheet.
func (f *railFlow) columns(tables ...*listing) {
	const gap = 5
	x, tallest := f.area.X, 0.0
	for _, t := range tables {
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
			from, x, tallest = from+n, x+t.width()+gap, max(tallest, t.height(n))
		}
	}
	f.area = f.area.Below(tallest + 4)
}
