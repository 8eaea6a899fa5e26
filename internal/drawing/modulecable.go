package drawing

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// cables draws a sheath round the cores of one cable that lie together, with its name and make-up.
func (d *modulePage) cables(c moduleCols) {
	for i := 0; i < len(d.rows); {
		n := i + 1
		for n < len(d.rows) && d.rows[n].row.wire.Cable == d.rows[i].row.wire.Cable && d.rows[n].y-d.rows[n-1].y < 2.2*modulePitch {
			n++
		}
		if cable := d.b.ix.cables[d.rows[i].row.wire.Cable]; cable != nil {
			d.cable(c, cable, d.rows[i].y, d.rows[n-1].y)
		}
		i = n
	}
}

func (d *modulePage) cable(c moduleCols, cable *design.Cable, y1, y2 float64) {
	screened := d.b.ix.screened(cable)
	x1, x2 := c.wire.X+6, c.device.X-6
	p := d.pen.For("cable:"+cable.ID, "sheath").Wide(scene.Thin)
	if screened {
		p = p.Role("screen").Wide(scene.Medium).Dash(scene.Fine)
	}
	sheathOf(p, x1, y1, y2)
	sheathOf(p, x2, y1, y2)
	if screened {
		q := d.pen.For("cable:"+cable.ID, "screen").Wide(scene.Thin)
		q.Line(x1, y2+1.9, x1, y2+2.3)
		q.Line(x1-1.4, y2+2.3, x1+1.4, y2+2.3)
	}
	x := c.wire.X + 20
	w := x2 - 2.5 - x
	t := d.pen.For("cable:"+cable.ID, "cable")
	t.Font(typeface.MonoBold, paper.Small).TextIn(scene.Rect{X: x, Y: y1 - 3.3, W: 22, H: 3}, scene.Left, 1.8, cable.Name)
	words := fmt.Sprintf("%d × %s, %s m", cable.Cores, d.b.sizeShort(cable.AreaMM2), num(cable.LengthM, 1))
	t.Role("cable data").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: x + 23, Y: y1 - 3.3, W: w - 23, H: 3}, scene.Right, 1.8, words)
	if y2 > y1 {
		t.Role("cable type").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: x, Y: y2 - 3.3, W: w, H: 3}, scene.Left, 1.8, cable.Type)
	}
}

// sheathOf draws an oval round the lines between two heights.
func sheathOf(p scene.Pen, x, y1, y2 float64) {
	const half = 1.3
	y1, y2 = y1-0.6, y2+0.6
	p.Arc(x, y1, half, 180, 180)
	p.Line(x+half, y1, x+half, y2)
	p.Arc(x, y2, half, 0, 180)
	p.Line(x-half, y2, x-half, y1)
}

// devices outlines the devices, or the junction boxes, at the other ends, with a symbol for each signal.
func (d *modulePage) devices(c moduleCols) {
	for i := 0; i < len(d.rows); {
		owner := endOf(d.rows[i].row.wire.From)
		n := i + 1
		for n < len(d.rows) && sameOwner(endOf(d.rows[n].row.wire.From), owner) && d.rows[n].y-d.rows[n-1].y < 2.2*modulePitch {
			n++
		}
		d.device(c, owner, d.rows[i:n])
		i = n
	}
}

func sameOwner(a, b endpoint) bool { return a.kind == b.kind && a.owner == b.owner }

func (d *modulePage) device(c moduleCols, owner endpoint, rows []laidRow) {
	y1, y2 := rows[0].y-2, rows[len(rows)-1].y+2
	box := scene.Rect{X: c.device.X, Y: y1, W: c.device.W + c.glyph.W, H: y2 - y1}
	if owner.kind == "junction_box" {
		name := owner.owner
		if b := d.b.ix.boxes[owner.owner]; b != nil && b.Name != "" {
			name = b.Name
		}
		p := d.pen.For("junction_box:"+owner.owner, "box")
		p.Wide(scene.Thin).Dash(scene.Chain).Rect(box)
		p.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: c.glyph.X - 12, Y: box.MidY() - 1.6, W: c.glyph.W + 11, H: 3.2}, scene.Middle, 1.8, name)
		return
	}
	d.pen.For("device:"+owner.owner, "device").Wide(scene.Thin).Rect(box)
	for i := 0; i < len(rows); {
		n := i + 1
		for n < len(rows) && rows[n].row.wire.Signal == rows[i].row.wire.Signal {
			n++
		}
		id := rows[i].row.wire.Signal
		spot := scene.Rect{X: c.glyph.X + 1, Y: rows[i].y - 2, W: c.glyph.W - 2, H: rows[n-1].y - rows[i].y + 4}
		if draw := glyphs[glyphOf(d.b.ix.signals[id])]; draw != nil && spot.H > 3.9 {
			draw(d.pen.For("signal:"+id, "symbol").Wide(scene.Thin), spot)
		}
		i = n
	}
}

// turn refers to the sheets before and after.
func (d *modulePage) turn(id string, n, sheets int) {
	line := scene.Rect{X: d.area.X, Y: d.area.Bottom() - 4.5, W: d.area.W, H: 4.5}
	if n > 0 {
		d.b.comesFrom(d.pen, line, more(id, n))
	}
	if n+1 < sheets {
		d.b.goesOn(d.pen, line, more(id, n+2))
	}
	d.b.reference(d.pen, line, d.b.Setting.Say("drawing.module.rail"), "rail/"+d.st.ID, scene.Middle)
}

// moduleMarks is the legend of a module connection drawing.
func (b *book) moduleMarks() []mark {
	return []mark{
		{"terminal", func(p scene.Pen, s scene.Rect) { p.Fill(scene.White).Circle(s.MidX(), s.MidY(), 0.9) }},
		{"conductor", func(p scene.Pen, s scene.Rect) { p.Wide(scene.Medium).Line(s.X, s.MidY(), s.Right(), s.MidY()) }},
		{"sheath", func(p scene.Pen, s scene.Rect) {
			p.Wide(scene.Medium).Line(s.X, s.MidY(), s.Right(), s.MidY())
			sheathOf(p, s.MidX(), s.MidY(), s.MidY())
		}},
		{"screened", func(p scene.Pen, s scene.Rect) {
			p.Wide(scene.Medium).Line(s.X, s.MidY()-0.8, s.Right(), s.MidY()-0.8)
			sheathOf(p.Wide(scene.Medium).Dash(scene.Fine), s.MidX(), s.MidY()-0.8, s.MidY()-0.8)
			p.Wide(scene.Thin).Line(s.MidX()-1.4, s.MidY()+1.6, s.MidX()+1.4, s.MidY()+1.6)
		}},
		{"infeed", func(p scene.Pen, s scene.Rect) {
			p.Wide(scene.Medium).Ink(scene.Accent).Arrow(s.Right(), s.MidY(), s.X, s.MidY(), 2)
		}},
		{"group_of", func(p scene.Pen, s scene.Rect) {
			groupMark(p, scene.Rect{X: s.X + 0.5, Y: s.Y + 0.5, W: 9, H: 3.5}, &design.SupplyGroup{ID: "G1"}, &design.Station{})
		}},
	}
}
