package drawing

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// group draws a group's feed between the two bars: protective device, infeed pair, group, figures.
func (d *powerPage) group(g *design.SupplyGroup, y float64) {
	c := d.cols
	p := d.pen.For("group:"+g.ID, "lead").Wide(scene.Medium)
	p.Dot(c.plus, y, 0.7)
	x := c.plus
	_, class := classOf(g)
	if name, ok := safety(class); ok {
		p.Line(x, y, x+1, y)
		contact(false)(p.Role("safety").Wide(scene.Thin), scene.Rect{X: x + 1, Y: y - 2, W: 8, H: 4})
		p.Role("safety").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: x + 0.5, Y: y + 1.6, W: 13, H: 3.2}, scene.Left, 1.8, name)
		x += 9
	}
	guard := d.ix.guards["group:"+g.ID]
	at := c.wire - guardWidth - 1
	p.Line(x, y, at, y)
	if guard != nil {
		d.guard(p.Wide(scene.Thin), guard, at, y)
		gp := d.pen.For("protection:"+guard.ID, "protection")
		gp.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: at - 7, Y: y - 5.2, W: guardWidth + 8, H: 3}, scene.Middle, 1.8, short(guard.ID, d.st.ID)+" "+num(guard.RatingA, 2)+" A")
		gp.Role("protection code").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: at - 6, Y: y + 1.9, W: guardWidth + 7, H: 3}, scene.Right, 1.8, guard.Type)
	} else {
		p.Line(at, y, at+guardWidth, y)
	}
	d.pair(g, at+guardWidth, y)
	d.groupBox(g, y)
	d.groupCells(g, y)
}

// pair draws the wires of the infeed pair: + from the protective device, - back to the other bar.
func (d *powerPage) pair(g *design.SupplyGroup, from, y float64) {
	c := d.cols
	for _, w := range d.ix.infeed[g.ID] {
		e := endOf(w.To)
		p := d.pen.For("wire:"+w.ID, "wire").Wide(scene.Medium)
		label := scene.Rect{X: from + 1, Y: y - 3.5, W: c.group - from - 3, H: 3}
		if plus(e.terminal) {
			p.Line(from, y, c.group-0.9, y)
			d.clamp(c.group, y, w.To)
		} else {
			p.Line(c.groupRight+0.9, y, c.minus, y)
			d.clamp(c.groupRight, y, w.To)
			d.pen.For("wire:"+w.ID, "joint").Dot(c.minus, y, 0.7)
			label.X, label.W = c.groupRight+2, c.minus-c.groupRight-3
		}
		p.Role("conductor").Font(typeface.Regular, paper.Small).TextIn(label, scene.Middle, 1.8, d.sizeShort(w.AreaMM2))
	}
}

// plus reports whether an infeed terminal is the live side.
func plus(terminal string) bool { return len(terminal) > 0 && terminal[len(terminal)-1] == '+' }

func (d *powerPage) clamp(x, y float64, end string) {
	d.pen.For("terminal:"+end, "terminal").Wide(scene.Thin).Fill(scene.White).Circle(x, y, 0.9)
}

// groupBox draws the group between its infeed terminals.
func (d *powerPage) groupBox(g *design.SupplyGroup, y float64) {
	c := d.cols
	box := scene.Rect{X: c.group, Y: y - 4.4, W: c.groupRight - c.group, H: 8.8}
	p := d.pen.For("group:"+g.ID, "group box").Wide(scene.Thin)
	p.Rect(box)
	groupMark(d.pen, scene.Rect{X: box.X + 2.2, Y: y - 1.9, W: 9, H: 3.8}, g, d.st)
	text := scene.Rect{X: box.X + 12, Y: box.Y + 0.8, W: box.W - 14, H: 3.4}
	p = p.Font(typeface.Regular, paper.Small)
	p.Role("slots").TextIn(text, scene.Left, 1.8, slotsWords(d.book, g))
	text.Y += 3.5
	p.Role("infeed").TextIn(text, scene.Left, 1.8, d.say("drawing.power.infeed_at", infeedWords(d.book, g)))
}

// groupCells writes the figures of a group and of the device that is worst off.
func (d *powerPage) groupCells(g *design.SupplyGroup, y float64) {
	c := d.cols
	p := d.pen.For("group:"+g.ID, "figure").Font(typeface.Regular, paper.Small)
	cell := func(i int, row float64, words string) {
		right := c.right
		if i+1 < len(c.cells) {
			right = c.cells[i+1]
		}
		p.TextIn(scene.Rect{X: c.cells[i], Y: y - 4.2 + 3.6*row, W: right - c.cells[i] - 1, H: 3.4}, scene.Left, 1.8, words)
	}
	cell(0, 0, num(g.LoadMA, 0)+" mA")
	cell(0, 1, d.say("drawing.power.of", num(g.LimitMA, 0)))
	cell(1, 0, "≥ "+num(g.VoltageMinV, 2)+" V")
	if g.FaultMinA > 0 {
		cell(2, 0, "≥ "+num(g.FaultMinA, 1)+" A")
		cell(2, 1, d.say("drawing.power.trips", num(g.TripA, 2)))
	}
	last := d.lastDevice(g)
	if last == nil {
		return
	}
	spot := d.ix.spots[last.Signal]
	p.Font(typeface.Mono, paper.Small).Link(d.loopOf(last.Signal)).For("signal:"+last.Signal, "last device").
		TextIn(scene.Rect{X: c.cells[3], Y: y - 4.2, W: c.right - c.cells[3], H: 3.4}, scene.Left, 1.8, *spot.channel.Signal)
	words := ""
	if cable := d.ix.cables[last.Cable]; cable != nil {
		words = num(cable.LengthM, 0) + " m"
	}
	if last.DeviceV > 0 && !d.coupled(last.Signal) {
		words += fmt.Sprintf(", %s V", num(last.DeviceV, 1))
	}
	if last.NeededV > 0 {
		words += fmt.Sprintf(" (≥ %s V)", num(last.NeededV, 1))
	}
	cell(3, 1, words)
}

// lastDevice is the circuit of a group that has the least voltage to spare; where none states a need, the
// one with the least voltage, then the one with the longest loop.
func (b *book) lastDevice(g *design.SupplyGroup) *design.Circuit {
	var best *design.Circuit
	st := b.ix.homes[g.ID]
	for i := range st.Slots {
		if st.Slots[i].SupplyGroup != g.ID {
			continue
		}
		for k := range st.Slots[i].Channels {
			c := b.ix.circuits[st.Slots[i].Channels[k].SignalID]
			if c != nil && (best == nil || b.worse(c, best)) {
				best = c
			}
		}
	}
	return best
}

// worse reports whether x has less to spare than y.
func (b *book) worse(x, y *design.Circuit) bool {
	if (x.NeededV > 0) != (y.NeededV > 0) {
		return x.NeededV > 0
	}
	if x.NeededV > 0 {
		return x.DeviceV-x.NeededV < y.DeviceV-y.NeededV
	}
	fed := func(c *design.Circuit) bool { return c.DeviceV > 0 && !b.coupled(c.Signal) }
	if fed(x) != fed(y) {
		return fed(x)
	}
	if fed(x) {
		return x.DeviceV < y.DeviceV
	}
	return x.LoopOhm > y.LoopOhm
}

// powerLegend lists the signs of supply diagrams.
var powerLegend = []mark{
	{"feeder", func(p scene.Pen, r scene.Rect) {
		p.Wide(scene.Medium).Line(r.X, r.MidY(), r.Right(), r.MidY())
		slashes(p, r.MidX(), r.MidY())
	}},
	{"breaker", breaker},
	{"electronic", electronic},
	{"fuse", fuse},
	{"unit", func(p scene.Pen, r scene.Rect) {
		box := scene.Rect{X: r.X + 1, Y: r.Y, W: 8, H: r.H}
		p.Rect(box)
		p.Line(box.X, box.Bottom(), box.Right(), box.Y)
	}},
	{"bar", func(p scene.Pen, r scene.Rect) { p.Wide(scene.Heavy).Line(r.X, r.MidY(), r.Right(), r.MidY()) }},
	{"safety", contact(false)},
	{"terminal", func(p scene.Pen, r scene.Rect) {
		p.Wide(scene.Medium).Line(r.X+1, r.MidY(), r.MidX()-0.9, r.MidY())
		p.Wide(scene.Thin).Circle(r.MidX(), r.MidY(), 0.9)
	}},
	{"group", lozenge},
}
