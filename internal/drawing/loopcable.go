package drawing

import (
	"cmp"
	"slices"
	"strconv"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// run is a cable on a sheet: its wires, which lie in one block.
type run struct {
	cable  *design.Cable
	wires  []laidWire
	x1, x2 float64
	y1, y2 float64
}

// cables marks what lies in one cable: a sheath round its cores at both ends, its name, its screen.
func (d *loopPage) cables() {
	for _, r := range d.runs() {
		d.sheath(r, r.x1+5)
		d.sheath(r, r.x2-5)
		d.cableLabel(r.cable, d.freeCores(r.cable), r.x1+4, r.y1-d.loop.pitch/2-cableHead+0.8, r.x2-r.x1-4)
		if d.ix.screened(r.cable) {
			d.screen(r)
		}
	}
}

// runs gathers the wires drawn on the sheet by cable, from top to bottom; a cable whose wires are not
// neighbours gives several runs.
func (d *loopPage) runs() []run {
	rows := slices.Clone(d.rows)
	slices.SortStableFunc(rows, func(a, b laidWire) int { return cmp.Or(cmp.Compare(a.x1, b.x1), cmp.Compare(a.y, b.y)) })
	var out []run
	for _, w := range rows {
		c := d.ix.cables[w.wire.Cable]
		if c == nil {
			continue
		}
		if n := len(out); n > 0 && out[n-1].cable == c && out[n-1].x1 == w.x1 {
			r := &out[n-1]
			r.wires, r.y2, r.x2 = append(r.wires, w), w.y, min(r.x2, w.x2)
			continue
		}
		out = append(out, run{c, []laidWire{w}, w.x1, w.x2, w.y, w.y})
	}
	return out
}

// boxes outlines the junction boxes: one outline for terminals of a box that follow each other.
func (d *loopPage) boxes() {
	ends := slices.Clone(d.ends)
	slices.SortStableFunc(ends, func(a, b laidEnd) int { return cmp.Or(cmp.Compare(a.x1, b.x1), cmp.Compare(a.y, b.y)) })
	for len(ends) > 0 {
		n := 1
		for n < len(ends) && ends[n].box == ends[0].box && ends[n].x1 == ends[0].x1 {
			n++
		}
		first, last := ends[0], ends[n-1]
		name := first.box
		if b := d.ix.boxes[first.box]; b != nil && b.Name != "" {
			name = b.Name
		}
		box := scene.Rect{X: first.x1 - 2.5, Y: first.y - 4.4, W: first.x2 - first.x1 + 5, H: last.y - first.y + 6.4}
		p := d.pen.For("junction_box:"+first.box, "box")
		p.Wide(scene.Thin).Dash(scene.Chain).Rect(box)
		p.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X, Y: box.Y - 4, W: box.W, H: 3.6}, scene.Middle, 1.8, name)
		ends = ends[n:]
	}
}

// sheath draws an oval round the cores; dashed for a screen.
func (d *loopPage) sheath(r run, x float64) {
	const half = 1.4
	role := "sheath"
	p := d.pen.For("cable:"+r.cable.ID, role).Wide(scene.Thin)
	if d.ix.screened(r.cable) {
		p = p.Role("screen").Wide(scene.Medium).Dash(scene.Fine)
	}
	y1, y2 := r.y1-0.6, r.y2+0.6
	p.Arc(x, y1, half, 180, 180)
	p.Line(x+half, y1, x+half, y2)
	p.Arc(x, y2, half, 0, 180)
	p.Line(x-half, y2, x-half, y1)
}

// screen lands the screen on the station's screen bar.
func (d *loopPage) screen(r run) {
	p := d.pen.For("cable:"+r.cable.ID, "screen").Wide(scene.Thin)
	x, y := r.x2-5, r.y2+2
	p.Line(x, y, x, y+1.6)
	earth(p, x, y+1.6)
}

// earth is the earth sign (IEC 60617-2), its lead ending at x, y.
func earth(p scene.Pen, x, y float64) {
	p.Line(x-1.6, y, x+1.6, y)
	p.Line(x-1, y+0.7, x+1, y+0.7)
	p.Line(x-0.4, y+1.4, x+0.4, y+1.4)
}

// freeCores lists the cores of a cable that no wire uses, where they are numbered.
func (d *loopPage) freeCores(c *design.Cable) []string {
	used := map[string]bool{}
	for _, w := range d.ix.onCable[c.ID] {
		if coreNumber(w.Core) > c.Cores {
			return nil
		}
		used[w.Core] = true
	}
	var free []string
	for n := 1; n <= c.Cores; n++ {
		if core := strconv.Itoa(n); !used[core] {
			free = append(free, core)
		}
	}
	return free
}

// supplies draws a row for each supply group of the sheet: unit, protective device, infeed point, figures.
func (d *loopPage) supplies(now *part) {
	if len(now.groups) == 0 {
		return
	}
	y := d.area.Bottom() - turnRow - supplyHeight(len(now.groups))
	p := d.pen.For("", "head").Font(typeface.Bold, paper.Small)
	p.TextIn(scene.Rect{X: d.area.X, Y: y, W: 60, H: 4}, scene.Left, 2, d.say("drawing.loop.supply"))
	y += supplyHead
	for _, g := range now.groups {
		d.supply(g, y)
		y += supplyRow
	}
}

// supply draws one group's feed as a single line.
func (d *loopPage) supply(g *design.SupplyGroup, y float64) {
	st := d.ix.homes[g.ID]
	a := d.area
	mid := y + 5
	volts, class := classOf(g)
	unit, id := d.say("drawing.loop.no_unit"), ""
	if s := d.supplyOf(st, g); s != nil && direct(volts) {
		unit, id = d.unitName(s), "supply:"+s.ID
	} else if f := d.feederOf(st, g); f != nil && !direct(volts) {
		unit, id = f.ID, "feeder:"+f.ID
	}
	p := d.pen.For(id, "supply unit").Wide(scene.Thin)
	box := scene.Rect{X: a.X, Y: mid - 2.5, W: 26, H: 5}
	p.Rect(box)
	p.Font(typeface.Bold, paper.Small).TextIn(box.Inset(0.8), scene.Middle, 1.8, unit)
	x := box.Right()
	lead := func(to float64) {
		p.For("group:"+g.ID, "lead").Line(x, mid, to, mid)
		x = to
	}
	lead(x + 4)
	if name, ok := safety(class); ok {
		contact(false)(p.For("group:"+g.ID, "safety"), scene.Rect{X: x, Y: mid - 2, W: 8, H: 4})
		p.For("group:"+g.ID, "safety").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: x - 3, Y: mid - 5, W: 14, H: 3}, scene.Middle, 1.8, name)
		x += 8
		lead(x + 3)
	} else {
		lead(x + 11)
	}
	lead(x + 2)
	if guard := d.ix.guards["group:"+g.ID]; guard != nil {
		d.guard(p, guard, x, mid)
		x += guardWidth
		gp := p.For("protection:"+guard.ID, "protection")
		gp.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: x - guardWidth - 8, Y: mid - 5.2, W: guardWidth + 16, H: 3}, scene.Middle, 1.8, short(guard.ID, st.ID)+" "+num(guard.RatingA, 2)+" A")
		gp.Role("protection code").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: x - guardWidth - 10, Y: mid + 1.9, W: guardWidth + 20, H: 3}, scene.Middle, 1.8, guard.Type)
	}
	start := x
	lead(x + 24)
	p.For("group:"+g.ID, "conductor").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: start + 9, Y: mid - 3.4, W: 14, H: 3}, scene.Middle, 1.8, d.sizeShort(g.InfeedMM2))
	groupMark(d.pen, scene.Rect{X: x, Y: mid - 1.8, W: 9, H: 3.6}, g, st)
	x += 11
	ref := 30.0
	text := d.pen.For("group:"+g.ID, "group data").Font(typeface.Regular, paper.Small)
	room := scene.Rect{X: x, Y: mid - 3.6, W: a.Right() - ref - x, H: 3.4}
	text.TextIn(room, scene.Left, 1.9, st.ID+" · "+g.Class+" · "+d.say("drawing.group.where", infeedWords(d.book, g), slotsWords(d.book, g)))
	room.Y += 3.6
	text.TextIn(room, scene.Left, 1.9, d.groupFigures(g))
	refer(text, scene.Rect{X: a.Right() - ref + 2, Y: mid - 2, W: ref - 2, H: 4}, "power/"+st.ID, scene.Right)
}
