package drawing

import (
	"fmt"
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// draw draws the module with the given blocks.
func (d *modulePage) draw(blocks []moduleBlock) {
	c := d.cols()
	top := d.area.Y + moduleHead
	y := top
	for _, m := range blocks {
		d.block(c, &m, y)
		y += m.height()
	}
	box := scene.Rect{X: c.channel.X, Y: d.area.Y, W: c.wire.X - c.channel.X, H: y - d.area.Y}
	p := d.pen.On("drawing").For(slotSubject(d.st, d.slot), "module")
	p.Wide(scene.Thick).Rect(box)
	p.Wide(scene.Thin).Line(box.X, top-0.6, box.Right(), top-0.6)
	d.head(box)
	d.cables(c)
	d.devices(c)
}

// head writes the module's own data into its upper part.
func (d *modulePage) head(box scene.Rect) {
	p := d.pen.On("drawing").For(slotSubject(d.st, d.slot), "slot")
	line := scene.Rect{X: box.X + 1.5, Y: box.Y + 0.5, W: box.W - 3, H: 4.2}
	p.Font(typeface.Bold, 3.4).TextIn(scene.Rect{X: line.X, Y: line.Y, W: 20, H: line.H}, scene.Left, 2, d.b.Setting.Say("drawing.rail.slot", d.slot.Slot))
	p.Role("module code").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: line.X + 20, Y: line.Y, W: line.W - 20, H: line.H}, scene.Right, 1.8, d.slot.Module)
	line = scene.Rect{X: line.X, Y: line.Y + 4.2, W: line.W, H: 3.3}
	p.Role("bytes").Font(typeface.Mono, paper.Small).TextIn(line, scene.Left, 1.8, bytesOf(d.slot))
	if d.slot.Base != "" {
		base := scene.Rect{X: line.X, Y: line.Y + 3.3, W: line.W - 11, H: line.H}
		p.Role("base").Size(paper.Small).TextIn(base, scene.Left, 1.8, d.b.Setting.Say("drawing.module.base", d.slot.Base))
	}
	if m, ok := d.b.List.Module(d.slot.Module); ok {
		beside := scene.Rect{X: box.Right() + 3, Y: box.Y + 0.5, W: d.area.Right() - box.Right() - 3, H: 4.2}
		p.Role("title").Size(paper.Small).TextIn(beside, scene.Left, 1.8, m.Title)
	}
	line.Y += 3.2
	if g := groupAt(d.st, d.slot.Slot); g != nil {
		groupMark(p, scene.Rect{X: box.Right() - 10.5, Y: line.Y - 0.1, W: 9, H: 3.2}, g, d.st)
	}
}

// block draws one channel with its terminals and wires from y down.
func (d *modulePage) block(c moduleCols, m *moduleBlock, y float64) {
	h := m.height() - moduleGap
	d.channel(c, m, scene.Rect{X: c.channel.X + 1.5, Y: y, W: c.channel.W - 2, H: h})
	for k, r := range m.rows {
		at := y + (float64(k)+0.5)*modulePitch
		if len(m.rows) == 1 {
			at = y + h/2
		}
		d.row(c, r, at)
	}
	if m.channel != nil && m.channel.Signal != nil {
		d.signal(c, m.channel, scene.Rect{X: c.text.X, Y: y, W: c.text.W, H: h})
	}
}

// channel writes which channel it is, and its address.
func (d *modulePage) channel(c moduleCols, m *moduleBlock, box scene.Rect) {
	if m.channel == nil {
		p := d.pen.For("slot:"+d.st.ID+"/"+strconv.Itoa(d.slot.Slot), "infeed point").Font(typeface.Bold, paper.Small)
		p.TextIn(scene.Rect{X: box.X, Y: box.Y, W: box.W, H: 3.4}, scene.Left, 1.8, d.b.Setting.Say("drawing.module.infeed"))
		d.pen.Wide(scene.Hair).Line(c.channel.X, box.Bottom()+moduleGap/2, c.wire.X, box.Bottom()+moduleGap/2)
		return
	}
	p := d.pen.For(fmt.Sprintf("channel:%s/%d/%d", d.st.ID, d.slot.Slot, m.channel.Channel), "channel")
	style := typeface.Bold
	if m.channel.Signal == nil {
		style = typeface.Regular
	}
	name := m.channel.Kind + " " + strconv.Itoa(m.channel.Channel)
	first := scene.Rect{X: box.X, Y: box.Y, W: box.W, H: modulePitch}
	if box.H < 1.5*modulePitch {
		first.W = 9
		p.Font(style, paper.Small).TextIn(first, scene.Left, 1.8, name)
		p.Role("address").Font(typeface.Mono, paper.Small).TextIn(scene.Rect{X: box.X + 9.5, Y: box.Y, W: box.W - 9.5, H: modulePitch}, scene.Right, 1.8, m.channel.Address)
	} else {
		p.Font(style, paper.Small).TextIn(first, scene.Left, 1.8, name)
		first.Y += 3.6
		p.Role("address").Font(typeface.Mono, paper.Small).TextIn(first, scene.Left, 1.8, m.channel.Address)
	}
	d.pen.For("", "divider").Wide(scene.Hair).Line(c.channel.X, box.Bottom()+moduleGap/2, c.wire.X, box.Bottom()+moduleGap/2)
}

// row draws one terminal at y and the conductor on it.
func (d *modulePage) row(c moduleCols, r moduleRow, y float64) {
	edge := c.wire.X
	end := fmt.Sprintf("station:%s/%d/%s", d.st.ID, d.slot.Slot, r.terminal)
	if r.wire != nil {
		end = r.wire.To
	}
	p := d.pen.For("terminal:"+end, "terminal").Size(paper.Small)
	box := scene.Rect{X: c.terminal.X, Y: y - 1.6, W: c.terminal.W - 2, H: 3.2}
	if r.spare {
		p.Role("spare").TextIn(scene.Rect{X: box.X + 2, Y: box.Y, W: 9, H: box.H}, scene.Left, 1.8, d.b.Setting.Say("drawing.module.spare"))
		p.Font(typeface.Mono, paper.Small).TextIn(scene.Rect{X: box.X + 11.5, Y: box.Y, W: box.W - 11.5, H: box.H}, scene.Right, 1.8, r.terminal)
		return
	}
	p.Role("function").Font(typeface.Mono, paper.Small).TextIn(scene.Rect{X: box.X, Y: box.Y, W: 16, H: box.H}, scene.Left, 1.8, r.function)
	p.Font(typeface.MonoBold, paper.Small).TextIn(scene.Rect{X: box.X + 16.5, Y: box.Y, W: box.W - 16.5, H: box.H}, scene.Right, 1.8, r.terminal)
	if r.wire != nil {
		d.conductor(c, r, y)
	}
	p.Wide(scene.Thin).Fill(scene.White).Circle(edge, y, 0.9)
}

// conductor draws the wire from the terminal to its other end.
func (d *modulePage) conductor(c moduleCols, r moduleRow, y float64) {
	w := r.wire
	p := d.pen.For("wire:"+w.ID, "connection").Wide(scene.Medium)
	x1, x2 := c.wire.X+0.9, c.device.X-0.9
	from := endOf(w.From)
	if w.Signal == "" {
		d.supplyWire(c, p, w, y)
		return
	}
	p.Line(x1, y, x2, y)
	p.Role("core").Font(typeface.Mono, paper.Small).TextIn(scene.Rect{X: c.wire.X + 9, Y: y - 3.3, W: 10, H: 3}, scene.Left, 1.8, w.Core)
	q := d.pen.For("terminal:"+w.From, "terminal")
	q.Wide(scene.Thin).Fill(scene.White).Circle(c.device.X, y, 0.9)
	q.Role("function").Font(typeface.Mono, paper.Small).TextIn(scene.Rect{X: c.device.X + 1.8, Y: y - 1.6, W: c.device.W - 2.5, H: 3.2}, scene.Left, 1.8, from.terminal)
	d.rows = append(d.rows, laidRow{r, y})
}

// supplyWire draws one wire of the supply pair: a stub with an arrow and where it comes from.
func (d *modulePage) supplyWire(c moduleCols, p scene.Pen, w *design.Wire, y float64) {
	from := endOf(w.From)
	x := c.wire.X + 26
	p.Ink(scene.Accent).Arrow(x, y, c.wire.X+0.9, y, 2)
	p.Role("conductor").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: c.wire.X + 6, Y: y - 3.3, W: 18, H: 3}, scene.Middle, 1.8, d.b.size(w.AreaMM2))
	words := from.owner + " " + from.terminal
	sub := ""
	if from.kind == "protection" {
		sub = "protection:" + from.owner
		words = from.owner
		if g := groupAt(d.st, d.slot.Slot); g != nil {
			if guard := d.b.ix.guards["group:"+g.ID]; guard != nil {
				words += "  " + num(guard.RatingA, 2) + " A  " + guard.Type
			}
		}
	}
	if from.kind == "supply_bar" {
		_, class, _ := strings.Cut(from.owner, "/")
		words = d.b.Setting.Say("drawing.module.bar", from.terminal, supplyWords(&design.SupplyGroup{Class: class}))
	}
	d.pen.For(sub, "supply end").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: x + 1.5, Y: y - 1.6, W: c.text.X - x - 3, H: 3.2}, scene.Left, 1.8, words)
}

// signal writes tag, description and device of a channel, and refers to its loop diagram.
func (d *modulePage) signal(c moduleCols, ch *design.Channel, box scene.Rect) {
	p := d.pen.For("signal:"+ch.SignalID, "tag")
	const ref = 26.0
	line := scene.Rect{X: box.X, Y: box.Y, W: box.W, H: 3.3}
	p.Font(typeface.MonoBold, 2.8).TextIn(scene.Rect{X: line.X, Y: line.Y, W: line.W - ref - 1, H: line.H}, scene.Left, 1.8, *ch.Signal)
	if to := d.b.loopOf(ch.SignalID); to != "" {
		refer(p, scene.Rect{X: box.Right() - ref, Y: line.Y, W: ref, H: line.H}, to, scene.Right)
	}
	s := d.b.ix.signals[ch.SignalID]
	if s == nil {
		return
	}
	p = p.Font(typeface.Regular, paper.Small)
	line.Y += 3.3
	if s.Description != "" {
		p.Role("description").TextIn(line, scene.Left, 1.8, s.Description)
		line.Y += 3.1
	}
	words := electrical(s)
	if s.Device != "" && s.Device != *ch.Signal {
		words += " · " + s.Device
	}
	if s.Hold != "" {
		words += " · " + d.b.Setting.Say("drawing.module.hold", s.Hold)
		p = p.Ink(scene.Warn)
	}
	if line.Bottom() <= box.Bottom()+0.3 {
		p.Role("kind").TextIn(line, scene.Left, 1.8, words)
	}
}
