package drawing

import (
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// sizes draws the dimensions below a strip: coupler, groups and end piece in a chain, then the whole.
func (d *stripPen) sizes(whole bool) {
	y := d.moduleTop() + bandModule + bandInfeed + 3
	p := d.p.On("dimensions").For("station:"+d.r.station.ID, "dimension").Wide(scene.Hair).Ink(scene.Black).Font(typeface.Regular, paper.Small)
	from := d.s.from
	for i := d.s.first; i <= d.s.last; i++ {
		q := &d.r.parts[i]
		if i < d.s.last && sameRun(q, &d.r.parts[i+1]) {
			continue
		}
		dimension(p, d.x(from), d.x(q.from+q.width), y, num(q.from+q.width-from, 1))
		from = q.from + q.width
	}
	words := num(d.s.to-d.s.from, 1)
	if !whole {
		words = num(d.s.from, 1) + "…" + num(d.s.to, 1)
	}
	dimension(p, d.x(d.s.from), d.x(d.s.to), y+5.5, d.b.Setting.Say("drawing.rail.length", words, num(1/d.scale, 1)))
}

// sameRun reports whether two neighbours are measured together: slots of one group.
func sameRun(a, b *rackPart) bool {
	return a.slot != nil && b.slot != nil && a.slot.SupplyGroup == b.slot.SupplyGroup
}

// dimension draws a line with slim arrows between two extension lines, as ISO 129-1 has them, its figure
// above the line.
func dimension(p scene.Pen, x1, x2, y float64, words string) {
	p.Line(x1, y-2, x1, y+0.8)
	p.Line(x2, y-2, x2, y+0.8)
	if x2-x1 > 5 {
		p.Arrow((x1+x2)/2, y, x1, y, 1.8)
		p.Arrow((x1+x2)/2, y, x2, y, 1.8)
	} else {
		p.Line(x1, y, x2, y)
	}
	w := x2 - x1 - 0.6
	if p.TextWidth(words) > w {
		if least := p.Size(1.8).TextWidth(words); least > w {
			return
		}
	}
	p.TextIn(scene.Rect{X: x1 + 0.3, Y: y - 3.1, W: w, H: 3}, scene.Middle, 1.8, words)
}
