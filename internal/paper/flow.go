package paper

import (
	"strconv"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Flow fills sheets from top to bottom and opens the next one when a sheet is full.
type Flow struct {
	set    Setting
	block  Block
	sheets []scene.Sheet
	free   scene.Rect
	y      float64 // next free height
	pen    pen
	space  float64 // owed before the next thing, unless it begins a sheet
}

// NewFlow begins a flow. Its first sheet has the block's ID and those that follow "ID/2", "ID/3", ...; all
// have its title.
func NewFlow(set Setting, b Block) *Flow {
	f := &Flow{set: set, block: b}
	f.open()
	return f
}

func (f *Flow) open() {
	b := f.block
	if n := len(f.sheets) + 1; n > 1 {
		b.ID += "/" + strconv.Itoa(n)
	}
	s, free := Open(f.set, b)
	f.sheets = append(f.sheets, s)
	f.free, f.y, f.space = free, free.Y, 0
	f.pen = pen{}
}

func (f *Flow) close() {
	last := &f.sheets[len(f.sheets)-1]
	f.pen.round()
	if len(f.pen.items) > 0 {
		last.Layers = append(last.Layers, scene.Layer{Name: "body", Items: f.pen.items})
	}
	f.pen = pen{}
}

// Sheets ends the flow and returns its sheets.
func (f *Flow) Sheets() []scene.Sheet {
	f.close()
	return f.sheets
}

// Break goes on at the top of a new sheet, unless the sheet is still empty.
func (f *Flow) Break() {
	if f.y > f.free.Y {
		f.close()
		f.open()
	}
}

// Left is the height that is left on the sheet, mm.
func (f *Flow) Left() float64 { return f.free.Y + f.free.H - f.y - f.space }

// Width is the width of the free space, mm.
func (f *Flow) Width() float64 { return f.free.W }

// Keep opens a new sheet unless h mm are left on this one; more than a whole sheet is not asked for.
func (f *Flow) Keep(h float64) {
	if h > f.Left() && f.y > f.free.Y {
		f.Break()
	}
}

// Space leaves h mm before what follows; at the top of a sheet it leaves none.
func (f *Flow) Space(h float64) { f.space = max(f.space, h) }

// take reserves h mm and returns the place, on a new sheet if this one is too full.
func (f *Flow) take(h float64) scene.Rect {
	f.Keep(h)
	if f.y > f.free.Y {
		f.y += f.space
	}
	f.space = 0
	r := scene.Rect{X: f.free.X, Y: f.y, W: f.free.W, H: h}
	f.y += h
	return r
}

// Place reserves a rectangle of the whole width and returns it with a function that puts items on the
// sheet it stands on: for a figure within text.
func (f *Flow) Place(h float64) (scene.Rect, func(...scene.Item)) {
	r := f.take(min(h, f.free.H))
	return r, func(items ...scene.Item) { f.pen.items = append(f.pen.items, items...) }
}

const lineHeight = 1.32 // of the em height

// lines writes wrapped lines, breaking to the next sheet between them, and returns nothing of the height:
// the flow has moved on.
func (f *Flow) lines(style typeface.Style, size, indent float64, words string, mark func(scene.Rect)) {
	for i, l := range typeface.Wrap(style, printable(words), size, f.free.W-indent) {
		r := f.take(size * lineHeight)
		if i == 0 && mark != nil {
			mark(r)
		}
		r.X, r.W = r.X+indent, r.W-indent
		if l != "" {
			f.pen.text("", r, scene.Text{At: scene.Point{X: r.X, Y: r.Y + size}, Size: size, Style: style, Words: l})
		}
	}
}
