package drawing

import (
	"fmt"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// loops draws one loop diagram per device, in the manner of ISA-5.4: from the device in the field on the
// left to the controller on the right.
func (b *book) loops() {
	for _, l := range b.allLoops() {
		parts := b.split(&l)
		for n := range parts {
			b.loopSheet(&l, parts, n)
		}
	}
}

// loopSheet draws one sheet of a loop.
func (b *book) loopSheet(l *loop, parts []part, n int) {
	now := &parts[n]
	title := b.say("drawing.loop.title", l.device)
	if len(parts) > 1 {
		title = b.say("drawing.loop.title_part", l.device, n+1, len(parts))
	}
	pg := b.open(paper.Block{
		ID: more("loop/"+l.device, n+1), Kind: "loop", Number: numberOf("LD", l.device, n+1),
		Chapter: b.say("drawing.chapter.loops"), Title: title,
	}, b.loopLegend(l))
	hops := 1
	for i := range l.strands {
		hops = max(hops, l.strands[i].hops())
	}
	d := &loopPage{book: b, page: pg, loop: l, cols: columnsOf(pg.area, hops)}
	d.heads(now)
	y := pg.area.Y + loopHead
	top := y
	base := 0
	for _, before := range parts[:n] {
		base += len(before.strands)
	}
	for i := range now.strands {
		h := b.strandHeight(l, &now.strands[i], base+i, i == 0, d.cols)
		d.strand(&now.strands[i], base+i, i == 0, y, h)
		y += h
	}
	d.cables()
	d.boxes()
	d.device(top, y)
	d.supplies(now)
	d.turnOver(len(parts), n)
}

// loopPage is a loop diagram being drawn.
type loopPage struct {
	*book
	page
	loop *loop
	cols columns
	rows []laidWire
	ends []laidEnd
}

// laidEnd is a terminal of a junction box that was drawn.
type laidEnd struct {
	box       string
	y, x1, x2 float64
}

// laidWire is a wire that was drawn, for the marks of its cable.
type laidWire struct {
	wire   *design.Wire
	y      float64
	x1, x2 float64
	strand int
}

// heads names the columns.
func (d *loopPage) heads(now *part) {
	p := d.pen.For("", "head").Font(typeface.Bold, paper.Small)
	a := d.area
	p.Wide(scene.Thin).Line(a.X, a.Y+5.5, a.Right(), a.Y+5.5)
	field := d.say("drawing.loop.field")
	if d.loop.place != "" {
		field += ": " + d.ix.placeName(d.loop.place)
	}
	stations := map[string]bool{}
	for i := range now.strands {
		stations[now.strands[i].at.station.ID] = true
	}
	station := d.say("drawing.loop.station")
	if len(stations) == 1 {
		st := now.strands[0].at.station
		station += " " + st.ID + ": " + d.ix.placeName(st.Place)
	}
	in := func(x1, x2 float64, words string) {
		p.TextIn(scene.Rect{X: x1, Y: a.Y, W: x2 - x1, H: 5}, scene.Left, paper.Small*0.8, words)
	}
	c := d.cols
	in(c.field.X, c.field.Right()-2, field)
	for i, h := range c.hops {
		in(h.x1+3, h.x2, d.say("drawing.loop.cable"))
		if i+1 < len(c.hops) {
			in(h.x2, c.hops[i+1].x1, d.say("drawing.loop.box"))
		}
	}
	in(c.station.X, c.station.Right()-8, station)
	in(c.data.X, c.data.Right(), d.say("drawing.loop.controller")+" "+d.Design.Project.Controller)
}

// strand draws one signal from y downwards.
func (d *loopPage) strand(s *strand, i int, first bool, y, h float64) {
	head := strandHead
	if startsCable(d.loop, i, first) {
		head = cableHead
	}
	f := d.cols.field
	p := d.pen.For("signal:"+s.id, "tag").Font(typeface.MonoBold, 2.8)
	if s.tag != d.loop.device {
		p.TextIn(scene.Rect{X: f.X + 1.5, Y: y + head - 5, W: f.W - 4, H: 4}, scene.Left, 2, s.tag)
	}
	y0 := y + head + d.loop.pitch/2
	d.glyph(s, y0)
	for k, l := range s.lines {
		d.line(l, s, i, y0+float64(k)*d.loop.pitch)
	}
	d.module(s, y+1, y0)
	d.facts(s, y+1)
	if !endsCable(d.loop, i) || i+1 < len(d.loop.strands) {
		d.pen.For("", "divider").Wide(scene.Hair).Ink(scene.Light).Line(d.cols.station.Right()-6, y+h, d.area.Right(), y+h)
	}
}

// glyph draws what the device is, with leads to its terminals.
func (d *loopPage) glyph(s *strand, y0 float64) {
	if len(s.lines) == 0 {
		return
	}
	right := d.cols.field.Right() - 2
	box := scene.Rect{X: right - 31, Y: y0 - d.loop.pitch/2, W: 11.5, H: float64(len(s.lines)) * d.loop.pitch}
	p := d.pen.For("signal:"+s.id, "symbol")
	p.Wide(scene.Thin).Rect(box)
	if draw := glyphs[glyphOf(s.signal)]; draw != nil {
		draw(p.Wide(scene.Thin), box)
	}
	for k, l := range s.lines {
		y := y0 + float64(k)*d.loop.pitch
		e := endOf(l[0].From)
		p.Role("lead").Wide(scene.Thin).Line(box.Right(), y, right-0.9, y)
		p.For("terminal:"+l[0].From, "function").Font(typeface.Mono, paper.Small).
			TextIn(scene.Rect{X: box.Right() + 1, Y: y - 3.4, W: right - 2 - box.Right(), H: 3}, scene.Right, 2, e.terminal)
		d.terminal(right, y, l[0].From)
	}
}

// terminal draws a clamping point.
func (d *loopPage) terminal(x, y float64, end string) {
	d.pen.For("terminal:"+end, "terminal").Wide(scene.Thin).Fill(scene.White).Circle(x, y, 0.9)
}

// line draws a conductor's way: a wire in each cable, a terminal where two meet.
func (d *loopPage) line(l line, s *strand, i int, y float64) {
	last := len(d.cols.hops) - 1
	for k, w := range l {
		x1, x2 := d.cols.hops[k].x1-2, d.cols.hops[k].x2
		if k > 0 {
			x1 = d.cols.hops[k].x1 - 6
		}
		if k < len(l)-1 {
			x2 += 6
		} else {
			x2 = d.cols.hops[last].x2
		}
		d.pen.For("wire:"+w.ID, "wire").Wide(scene.Medium).Line(x1+0.9, y, x2-0.9, y)
		middle := (d.cols.hops[k].x1 + min(x2, d.cols.hops[k].x2)) / 2
		d.pen.For("wire:"+w.ID, "core").Font(typeface.Mono, paper.Small).
			TextIn(scene.Rect{X: middle - 10, Y: y - 3.4, W: 20, H: 3}, scene.Middle, 2, w.Core)
		d.rows = append(d.rows, laidWire{w, y, x1, x2, i})
		if k < len(l)-1 {
			d.boxTerminal(w, l[k+1], x2, d.cols.hops[k+1].x1-6, y)
		}
	}
	end := l[len(l)-1].To
	x := d.cols.hops[last].x2
	d.terminal(x, y, end)
	d.pen.For("terminal:"+end, "terminal").Font(typeface.MonoBold, paper.Small).
		TextIn(scene.Rect{X: x + 1.6, Y: y - 1.5, W: 11, H: 3}, scene.Left, 2, endOf(end).terminal)
}

// boxTerminal draws a terminal of a junction box: both its sides and its number between them.
func (d *loopPage) boxTerminal(w, next *design.Wire, x1, x2, y float64) {
	d.ends = append(d.ends, laidEnd{endOf(w.To).owner, y, x1, x2})
	d.terminal(x1, y, w.To)
	d.terminal(x2, y, next.From)
	d.pen.For("terminal:"+w.To, "link").Wide(scene.Thin).Line(x1+0.9, y, x2-0.9, y)
	d.pen.For("terminal:"+w.To, "terminal").Font(typeface.MonoBold, paper.Small).
		TextIn(scene.Rect{X: x1 + 1, Y: y - 3.4, W: x2 - x1 - 2, H: 3}, scene.Middle, 2, endOf(w.To).terminal)
}

// module draws the channel with its terminals, its module and its supply group.
func (d *loopPage) module(s *strand, y, y0 float64) {
	c := d.cols.station
	bottom := y0 + d.loop.pitch*float64(max(len(s.lines), 2)) - 1
	box := scene.Rect{X: c.X, Y: y, W: c.W - 7, H: bottom - y}
	sl, ch := s.at.slot, s.at.channel
	slot := fmt.Sprintf("slot:%s/%d", s.at.station.ID, sl.Slot)
	p := d.pen.For(slot, "module")
	p.Wide(scene.Thin).Rect(box)
	head := scene.Rect{X: box.X + 1.5, Y: box.Y + 0.5, W: box.W - 3, H: 3.6}
	marker := 9.0
	p.Role("slot").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: head.X, Y: head.Y, W: head.W - marker, H: head.H}, scene.Left, 2,
		s.at.station.ID+" "+d.say("drawing.loop.slot", sl.Slot))
	channel := scene.Rect{X: head.X + 13, Y: y0 - 3, W: head.W - 13, H: bottom - y0 + 2}
	p.For(fmt.Sprintf("channel:%s/%d/%d", s.at.station.ID, sl.Slot, ch.Channel), "channel box").Wide(scene.Hair).Rect(channel)
	half := channel.W * 0.42
	text := func(role string, row int, st typeface.Style, words string) {
		p.Role(role).Font(st, paper.Small).TextIn(scene.Rect{X: channel.X + half, Y: channel.Y + 1 + 3.6*float64(row), W: channel.W - half - 1, H: 3.4}, scene.Right, 1.8, words)
	}
	text("channel", 0, typeface.Bold, ch.Kind+" "+d.say("drawing.loop.channel", ch.Channel))
	text("module code", 1, typeface.Regular, sl.Module)
	for k, l := range s.lines {
		at := y0 + float64(k)*d.loop.pitch
		p.Role("lead").Wide(scene.Hair).Line(channel.X-1.2, at, channel.X, at)
		p.Role("function").Font(typeface.Mono, paper.Small).TextIn(scene.Rect{X: channel.X + 1, Y: at - 1.6, W: half - 2, H: 3.2}, scene.Left, 1.8, endOf(l[0].From).terminal)
	}
	if g := s.at.group; g != nil {
		m := scene.Rect{X: box.Right() - marker - 0.8, Y: box.Y + 0.7, W: marker, H: 3.6}
		d.groupMark(m, g, s.at.station)
	}
}

// groupMark is the lozenge that ties a module to its row under "supply".
func (d *loopPage) groupMark(m scene.Rect, g *design.SupplyGroup, st *design.Station) {
	groupMark(d.pen, m, g, st)
}

func groupMark(p scene.Pen, m scene.Rect, g *design.SupplyGroup, st *design.Station) {
	p = p.For("group:"+g.ID, "group").Wide(scene.Thin)
	e := m.H / 2
	p.Polygon(scene.Point{X: m.X, Y: m.MidY()}, scene.Point{X: m.X + e*0.8, Y: m.Y}, scene.Point{X: m.Right() - e*0.8, Y: m.Y},
		scene.Point{X: m.Right(), Y: m.MidY()}, scene.Point{X: m.Right() - e*0.8, Y: m.Bottom()}, scene.Point{X: m.X + e*0.8, Y: m.Bottom()})
	p.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: m.X + 1, Y: m.Y, W: m.W - 2, H: m.H}, scene.Middle, 1.8, short(g.ID, st.ID))
}

// facts draws the address and what is known of the signal.
func (d *loopPage) facts(s *strand, y float64) {
	c := d.cols.data
	p := d.pen.For("signal:"+s.id, "address")
	box := scene.Rect{X: c.X, Y: y, W: 22, H: 5}
	p.Wide(scene.Thin).Rect(box)
	p.Font(typeface.MonoBold, 2.9).TextIn(box.Inset(0.8), scene.Middle, 2, s.at.channel.Address)
	p.Role("tag").Font(typeface.MonoBold, 2.8).TextIn(scene.Rect{X: box.Right() + 1.5, Y: y, W: c.Right() - box.Right() - 1.5, H: 5}, scene.Left, 1.9, s.tag)
	d.flow(s, box.X, y+2.5)
	text := p.Role("fact").Font(typeface.Regular, paper.Small)
	at := y + factTop + 1.5
	width := c.W - 2
	hold := len(holdLines(s, width))
	lines := factLines(d.loop, s, width)
	for i, words := range lines {
		if i >= len(lines)-hold {
			break
		}
		text.TextIn(scene.Rect{X: c.X + 1, Y: at - 2.5, W: c.W - 1, H: 3}, scene.Left, 2, words)
		at += factPitch
	}
	for i, words := range holdLines(s, width) {
		x := c.X + 1
		if i == 0 {
			warn := p.Role("hold").Ink(scene.Warn).Wide(scene.Medium)
			warn.Polygon(scene.Point{X: x, Y: at + 0.4}, scene.Point{X: x + 2, Y: at - 2.6}, scene.Point{X: x + 4, Y: at + 0.4})
		}
		p.Role("hold").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: x + 6, Y: at - 2.5, W: width - 6, H: 3}, scene.Left, 2, words)
		at += factPitch
	}
}

// flow draws the arrow between channel and controller, the way the signal goes.
func (d *loopPage) flow(s *strand, x, y float64) {
	p := d.pen.For("signal:"+s.id, "flow").Wide(scene.Thin)
	from := d.cols.station.Right() - 7
	switch s.at.channel.Kind {
	case "DO", "AO":
		p.Arrow(x, y, from, y, 2)
	case "SER":
		m := (x + from) / 2
		p.Arrow(m, y, x, y, 2)
		p.Arrow(m, y, from, y, 2)
	default:
		p.Arrow(from, y, x, y, 2)
	}
}

// device draws the outline of the device on this sheet.
func (d *loopPage) device(y1, y2 float64) {
	f := d.cols.field
	p := d.pen.For("device:"+d.loop.device, "device")
	p.Wide(scene.Medium).Rect(scene.Rect{X: f.X, Y: y1, W: f.W - 2, H: y2 - y1 - 1})
	p.Font(typeface.Bold, paper.Normal).TextIn(scene.Rect{X: f.X + 1.5, Y: y1 + 0.4, W: f.W - 5, H: 4}, scene.Left, 2, d.loop.device)
}

// turnOver refers to the sheets before and after.
func (d *loopPage) turnOver(sheets, n int) {
	y := d.area.Bottom() - 4.5
	p := d.pen.For("", "turn").Font(typeface.Regular, paper.Small)
	ref := func(x float64, words string, to int) {
		w := p.TextWidth(words) + 1
		p.TextIn(scene.Rect{X: x, Y: y, W: w, H: 4}, scene.Left, 2, words)
		refer(p, scene.Rect{X: x + w, Y: y, W: 26, H: 4}, more("loop/"+d.loop.device, to), scene.Left)
	}
	if n > 0 {
		ref(d.area.X, d.say("drawing.from"), n)
	}
	if n+1 < sheets {
		ref(d.area.Right()-60, d.say("drawing.onto"), n+2)
	}
}

// cableLabel says what a cable is: its name above, its make-up below.
func (d *loopPage) cableLabel(c *design.Cable, free []string, x, y, w float64) {
	p := d.pen.For("cable:"+c.ID, "cable")
	p.Font(typeface.MonoBold, 2.8).TextIn(scene.Rect{X: x, Y: y, W: w, H: 3.4}, scene.Left, 2, c.Name)
	words := []string{fmt.Sprintf("%d × %s", c.Cores, d.size(c.AreaMM2)), num(c.LengthM, 1) + " m", c.Type}
	if len(free) > 0 {
		words = append(words, d.say("drawing.loop.free", strings.Join(free, " ")))
	}
	p.Role("cable data").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: x, Y: y + 3.4, W: w, H: 3}, scene.Left, 1.8, strings.Join(words, " · "))
}
