package drawing

import (
	"strconv"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// stripPen draws one strip: the rail's millimetres become the paper's.
type stripPen struct {
	b     *book
	p     scene.Pen
	r     *rack
	s     strip
	at    scene.Point // upper left corner of the strip
	scale float64
}

func (d *stripPen) x(mm float64) float64 { return d.at.X + (mm-d.s.from)*d.scale }

// drawStrip draws a run of parts with all bands.
func (b *book) drawStrip(p scene.Pen, r *rack, s strip, at scene.Point, scale float64, first, last bool) {
	d := &stripPen{b: b, p: p, r: r, s: s, at: at, scale: scale}
	d.rail(first, last)
	for i := s.first; i <= s.last; i++ {
		d.part(&r.parts[i])
	}
	for i := range r.station.SupplyGroups {
		d.group(&r.station.SupplyGroups[i])
	}
	d.sizes(first && last)
}

func (d *stripPen) moduleTop() float64 { return d.at.Y + bandGroup + bandLoad }
func (d *stripPen) busY() float64      { return d.moduleTop() + bandModule - bandBase/2 }

// rail draws the mounting rail behind the parts; where the station goes on elsewhere it ends in a break.
func (d *stripPen) rail(first, last bool) {
	p := d.p.On("rail").For("station:"+d.r.station.ID, "rail").Wide(scene.Thin).Ink(scene.Black)
	y := d.moduleTop() + bandModule/2 - 4
	from, to := d.x(d.s.from)-railOver, d.x(d.s.to)+railOver
	for _, dy := range []float64{0, 2, 9, 11} {
		p.Line(from, y+dy, to, y+dy)
	}
	for _, e := range []struct {
		x     float64
		whole bool
	}{{from, first}, {to, last}} {
		if e.whole {
			p.Line(e.x, y, e.x, y+11)
			continue
		}
		p.Ink(scene.Black).Polyline(scene.Point{X: e.x, Y: y - 3}, scene.Point{X: e.x, Y: y + 4}, scene.Point{X: e.x - 1.2, Y: y + 5}, scene.Point{X: e.x + 1.2, Y: y + 6.5}, scene.Point{X: e.x, Y: y + 7.5}, scene.Point{X: e.x, Y: y + 14})
	}
}

// part draws the coupler, a slot or the end piece.
func (d *stripPen) part(q *rackPart) {
	box := scene.Rect{X: d.x(q.from), Y: d.moduleTop(), W: q.width * d.scale, H: bandModule}
	p := d.p.On("parts").Wide(scene.Medium).Ink(scene.Black).Fill(scene.White).Font(typeface.Regular, paper.Small)
	switch {
	case q.slot != nil:
		d.slot(p, q.slot, box)
	case q.end:
		p = p.For("part:"+q.code, "end piece")
		p.Rect(box)
		upright(p, box.Inset(0.4), q.code)
	default:
		d.coupler(p.For("station:"+d.r.station.ID, "coupler"), box)
	}
}

// upright writes along the height of a narrow box.
func upright(p scene.Pen, r scene.Rect, words string) bool {
	if r.W < paper.Small*(typeface.CapHeight+typeface.Descent) {
		return false
	}
	return p.TextUpIn(r, scene.Middle, 1.8, words)
}

func (d *stripPen) coupler(p scene.Pen, box scene.Rect) {
	st := d.r.station
	p.Rect(box)
	p.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X + 0.5, Y: box.Y + 0.5, W: box.W - 1, H: 4.5}, scene.Middle, 1.8, d.b.Setting.Say("drawing.rail.coupler"))
	p.Wide(scene.Hair).Line(box.X, box.Y+5.5, box.Right(), box.Y+5.5)
	inner := scene.Rect{X: box.X + 1, Y: box.Y + 6.5, W: box.W - 2, H: bandModule - bandBase - 7.5}
	third := inner.W / 3
	upright(p.Font(typeface.MonoBold, paper.Small), scene.Rect{X: inner.X, Y: inner.Y, W: third, H: inner.H}, st.ID)
	upright(p, scene.Rect{X: inner.X + third, Y: inner.Y, W: third, H: inner.H}, st.Coupler)
	if n := d.b.ix.node[st.ID]; n != nil {
		upright(p.Font(typeface.Mono, paper.Small), scene.Rect{X: inner.X + 2*third, Y: inner.Y, W: third, H: inner.H}, n.Address)
	}
}

// slot draws a module on its base, or a module alone; the supply bus runs through the lower part.
func (d *stripPen) slot(p scene.Pen, s *design.Slot, box scene.Rect) {
	p = p.For(slotSubject(d.r.station, s), "module")
	based := s.Base != ""
	body, foot := box.Top(bandModule-bandBase), scene.Rect{X: box.X, Y: box.Bottom() - bandBase, W: box.W, H: bandBase}
	if infeedModule(d.b.List, s) {
		p = p.Fill(scene.Pale)
	}
	if based {
		p.Role("base").Rect(foot)
		p.Rect(body)
	} else {
		p.Rect(box)
	}
	head := scene.Rect{X: box.X + 0.3, Y: box.Y, W: box.W - 0.6, H: 5.5}
	p.Font(typeface.Bold, paper.Small).Role("slot").TextIn(head, scene.Middle, 1.8, strconv.Itoa(s.Slot))
	p.Wide(scene.Hair).Role("module").Line(box.X, box.Y+5.5, box.Right(), box.Y+5.5)
	dots := d.channels(p, s, body)
	code := scene.Rect{X: box.X + 0.5, Y: box.Y + 6.5, W: box.W - 1, H: dots - box.Y - 7.5}
	p.Role("module code").TextUpIn(code, scene.Right, 1.8, s.Module)
}

// channels draws a dot for each channel, filled where a signal sits on it, and returns the y above them.
func (d *stripPen) channels(p scene.Pen, s *design.Slot, body scene.Rect) float64 {
	const pitch, radius = 1.7, 0.55
	n := len(s.Channels)
	if n == 0 {
		return body.Bottom() - 0.5
	}
	cols := 2
	if n > 16 {
		cols = 4
	}
	rows := (n + cols - 1) / cols
	top := body.Bottom() - 1 - float64(rows)*pitch
	left := body.MidX() - float64(cols)*pitch/2
	for i := range s.Channels {
		c := &s.Channels[i]
		x, y := left+(float64(i/rows)+0.5)*pitch, top+(float64(i%rows)+0.5)*pitch
		q := p.Wide(scene.Hair).Fill(scene.White).For("", "spare channel")
		if c.Signal != nil {
			q = q.Fill(scene.Black).For("signal:"+c.SignalID, "channel")
		}
		q.Circle(x, y, radius)
	}
	return top
}

// group draws a supply group: bracket and load bar above, supply bus and infeed point below.
func (d *stripPen) group(g *design.SupplyGroup) {
	var from, to float64
	found := false
	for i := d.s.first; i <= d.s.last; i++ {
		q := &d.r.parts[i]
		if q.slot == nil || q.slot.SupplyGroup != g.ID {
			continue
		}
		if !found {
			from = q.from
		}
		found, to = true, q.from+q.width
	}
	d.infeed(g)
	if !found {
		return
	}
	sub := "group:" + g.ID
	x1, x2 := d.x(from)+0.4, d.x(to)-0.4
	p := d.p.On("groups").For(sub, "group").Wide(scene.Medium).Ink(scene.Black).Font(typeface.Bold, paper.Small)
	y := d.at.Y + bandGroup - 0.8
	p.Polyline(scene.Point{X: x1, Y: y + 1.6}, scene.Point{X: x1, Y: y}, scene.Point{X: x2, Y: y}, scene.Point{X: x2, Y: y + 1.6})
	p.TextIn(scene.Rect{X: x1 - 0.3, Y: d.at.Y, W: x2 - x1 + 0.6, H: bandGroup - 1.2}, scene.Middle, 1.8, short(g.ID, d.r.station.ID))
	loadBar(p.For(sub, "load bar"), scene.Rect{X: x1, Y: d.at.Y + bandGroup + 1.6, W: x2 - x1, H: 2.4}, g.LoadMA, g.LimitMA)
	d.bus(g, x1, x2)
}

// loadBar fills a bar by load over limit; an overload is hatched beyond all doubt.
func loadBar(p scene.Pen, r scene.Rect, load, limit float64) {
	p = p.Wide(scene.Hair).Ink(scene.Black)
	p.Fill(scene.White).Rect(r)
	if limit <= 0 {
		return
	}
	part := load / limit
	if part > 1 {
		p.Ink(scene.Warn).Hatch(r, 0.8)
		return
	}
	if w := r.W * part; w > 0 {
		p.Wide(0).Fill(scene.Dark).Rect(scene.Rect{X: r.X, Y: r.Y, W: w, H: r.H})
	}
}

// bus draws the supply bus through the slots of a group, thick, from where it begins to where it ends.
func (d *stripPen) bus(g *design.SupplyGroup, x1, x2 float64) {
	p := d.p.On("supply bus").For("group:"+g.ID, "supply bus").Wide(scene.Heavy).Ink(scene.Black)
	y := d.busY()
	if _, coupler := infeedOf(g); coupler && d.s.first == 0 {
		c := &d.r.parts[0]
		x1 = d.x(c.from) + c.width*d.scale/2
	}
	p.Line(x1+1, y, x2-1, y)
	p.Wide(scene.Thick).Line(x2-1, y-1.5, x2-1, y+1.5)
}

// infeed draws the supply pair to a group's infeed point, with protective device and conductor.
func (d *stripPen) infeed(g *design.SupplyGroup) {
	slot, coupler := infeedOf(g)
	for i := d.s.first; i <= d.s.last; i++ {
		q := &d.r.parts[i]
		if !(coupler && i == 0 || q.slot != nil && q.slot.Slot == slot) {
			continue
		}
		x := d.x(q.from) + min(q.width*d.scale/2, 3.5)
		if coupler {
			x = d.x(q.from) + q.width*d.scale/2
		}
		p := d.p.On("infeeds").For("group:"+g.ID, "infeed point").Wide(scene.Medium).Ink(scene.Accent)
		bottom := d.moduleTop() + bandModule
		p.Arrow(x, bottom+6, x, d.busY()+0.9, 2.4)
		p.Dot(x, d.busY(), 0.9)
		w := max(q.width*d.scale, 7.0)
		at := scene.Rect{X: x - w/2 + 0.1, Y: bottom + 6.2, W: w - 0.2, H: 4}
		p = p.Ink(scene.Black).Font(typeface.Bold, paper.Small)
		guard := d.b.ix.guards["group:"+g.ID]
		if guard == nil {
			continue
		}
		p.For("protection:"+guard.ID, "protection").TextIn(at, scene.Middle, 1.8, short(guard.ID, d.r.station.ID))
		at.Y += 4
		p.Font(typeface.Regular, paper.Small).For("protection:"+guard.ID, "rating").TextIn(at, scene.Middle, 1.8, num(guard.RatingA, 2)+" A")
	}
}

func slotSubject(st *design.Station, s *design.Slot) string {
	return "slot:" + st.ID + "/" + strconv.Itoa(s.Slot)
}
