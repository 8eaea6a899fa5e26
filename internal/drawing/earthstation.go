package drawing

import (
	"strconv"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// bonded is one thing in the enclosure that is joined to its earth bar.
type bonded struct {
	name, what, subject string
	link                string
}

const (
	bondRow   = 8.0
	screenRow = 5.0
)

// earthStation draws a station's earth bar with what is bonded to it, how 0 V stands to earth, and the screen
// bar with every screened cable.
func (b *book) earthStation(st *design.Station) {
	d := &earthPage{book: b}
	sheet := func(n int) {
		d.page = b.open(paper.Block{
			ID: more("earthing/"+st.ID, n), Kind: "earthing", Number: numberOf("EB", st.ID, n), Chapter: b.chapterOf(st),
			Title: b.say("drawing.earth.title", st.ID, b.ix.placeName(st.Place)),
		}, earthLegend)
	}
	sheet(1)
	d.bar(st)
	var screened []*design.Cable
	for _, c := range b.landing(st) {
		if b.ix.screened(c) {
			screened = append(screened, c)
		}
	}
	x := grid(d.area.X + d.area.W*0.44)
	for n := 1; ; n++ {
		rest := d.screens(st, screened, x)
		b.turns(d.page, "earthing/"+st.ID, n, len(rest) > 0)
		if len(rest) == 0 {
			return
		}
		screened = rest
		sheet(n + 1)
		x = d.area.X + 4
	}
}

// bonds lists what hangs on a station's earth bar.
func (b *book) bonds(st *design.Station) []bonded {
	out := []bonded{
		{name: b.say("drawing.earth.enclosure"), what: st.Enclosure, subject: "enclosure:" + st.ID},
		{name: b.say("drawing.earth.door"), subject: "enclosure:" + st.ID},
		{name: b.say("drawing.earth.plate"), subject: "enclosure:" + st.ID},
		{name: b.say("drawing.earth.rail"), subject: "rail:" + st.ID, link: "rail/" + st.ID},
	}
	for _, f := range b.ix.feeders[st.ID] {
		what := ""
		if c := b.ix.cables[f.Cable]; c != nil {
			what = c.Name + ", " + b.size(c.AreaMM2)
		}
		out = append(out, bonded{name: b.say("drawing.earth.feeder", short(f.ID, st.ID)), what: what, subject: "feeder:" + f.ID})
	}
	for _, u := range b.ix.supplies[st.ID] {
		out = append(out, bonded{name: b.say("drawing.earth.unit", short(u.ID, st.ID)), what: u.Type, subject: "supply:" + u.ID})
	}
	return append(out, bonded{name: b.say("drawing.earth.screenbar"), subject: "screens:" + st.ID})
}

// bar draws the earth bar on the left, what is bonded to it right of it, and the 0 V.
func (d *earthPage) bar(st *design.Station) {
	a := d.area
	x := a.X + 30
	p := d.pen.For("earth:"+st.ID, "bar")
	all := d.bonds(st)
	top := a.Y + 10
	bottom := top + bondRow*float64(len(all)-1)
	p.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: a.X, Y: a.Y + 1, W: 70, H: 4}, scene.Left, 1.8, d.say("drawing.earth.bar", st.ID))
	p.Wide(scene.Heavy).Line(x, top-3, x, bottom+3)
	p.Role("bond").Wide(scene.Medium).Dash(scene.Chain).Polyline(scene.Point{X: x, Y: bottom + 3}, scene.Point{X: x, Y: bottom + 9}, scene.Point{X: a.X + 6, Y: bottom + 9}, scene.Point{X: a.X + 6, Y: bottom + 12})
	earth(p.Wide(scene.Medium), a.X+6, bottom+12)
	p.Role("main").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: a.X + 10, Y: bottom + 10, W: 70, H: 4}, scene.Left, 1.8, d.say("drawing.earth.to_main", st.Place))
	for i, t := range all {
		y := top + bondRow*float64(i)
		bp := d.pen.For(t.subject, "bond").Wide(scene.Medium)
		bp.Dot(x, y, 0.8)
		bp.Dash(scene.Chain).Line(x, y, x+14, y)
		box := scene.Rect{X: x + 14, Y: y - 3.2, W: 60, H: 6.4}
		bp.Role("part").Wide(scene.Thin).Rect(box)
		bp.Role("part").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X + 1, Y: box.Y + 0.2, W: box.W*0.5 - 1, H: 6}, scene.Left, 1.8, t.name)
		right := scene.Rect{X: box.MidX() + 1, Y: box.Y + 0.2, W: box.W/2 - 2, H: 6}
		if t.link != "" {
			refer(bp.Font(typeface.Regular, paper.Small), right, t.link, scene.Right)
		} else {
			bp.Role("detail").Font(typeface.Regular, paper.Small).TextIn(right, scene.Right, 1.8, t.what)
		}
	}
	d.zero(st, bottom+24)
}

// zero draws how the 0 V of each supply unit stands to earth, as the basis states it.
func (d *earthPage) zero(st *design.Station, y float64) {
	a := d.area
	isolated := d.Project.Basis.Earthing == "isolated"
	title := d.say("drawing.earth.earthed")
	if isolated {
		title = d.say("drawing.earth.isolated")
	}
	p := d.pen.For("", "head").Font(typeface.Bold, paper.Small)
	p.TextIn(scene.Rect{X: a.X, Y: y - 8, W: a.W * 0.42, H: 4}, scene.Left, 1.8, title)
	for i, u := range d.ix.supplies[st.ID] {
		x := a.X + 2 + 27*float64(i)
		if x+24 > a.X+a.W*0.42 || y+14 > a.Bottom() {
			break
		}
		up := d.pen.For("supply:"+u.ID, "zero").Wide(scene.Thin)
		box := scene.Rect{X: x, Y: y - 3, W: 22, H: 6}
		up.Rect(box)
		up.Font(typeface.Bold, paper.Small).TextIn(box.Inset(0.5), scene.Middle, 1.8, short(u.ID, st.ID)+"  0 V")
		up.Line(box.MidX(), box.Bottom(), box.MidX(), box.Bottom()+2)
		if isolated {
			m := scene.Rect{X: box.MidX() - 4, Y: box.Bottom() + 2, W: 8, H: 4}
			up.Rect(m)
			up.Font(typeface.Regular, paper.Small).TextIn(m.Inset(0.3), scene.Middle, 1.8, "R <")
			up.Line(m.MidX(), m.Bottom(), m.MidX(), m.Bottom()+1.4)
			earth(up, m.MidX(), m.Bottom()+1.4)
		} else {
			up.Line(box.MidX(), box.Bottom()+2, box.MidX(), box.Bottom()+4)
			earth(up, box.MidX(), box.Bottom()+4)
		}
	}
}

// screens draws the screen bar with its cables in columns from x on; it returns the cables that did not fit.
func (d *earthPage) screens(st *design.Station, cables []*design.Cable, x float64) []*design.Cable {
	a := d.area
	p := d.pen.For("screens:"+st.ID, "head").Font(typeface.Bold, paper.Small)
	if len(cables) == 0 {
		p.TextIn(scene.Rect{X: x, Y: a.Y + 1, W: a.Right() - x, H: 4}, scene.Left, 1.8, d.say("drawing.earth.none"))
		return nil
	}
	p.TextIn(scene.Rect{X: x, Y: a.Y + 1, W: a.Right() - x, H: 4}, scene.Left, 1.8, d.say("drawing.earth.landed", strconv.Itoa(len(cables))))
	top := a.Y + 10
	per := max(int((a.Bottom()-turnRow-top)/screenRow), 1)
	const wide = 70.0
	columns := max(int((a.Right()-x+2)/wide), 1)
	used := min(len(cables), per*columns)
	for c := 0; c*per < used; c++ {
		bar := x + wide*float64(c) + 3
		n := min(per, used-c*per)
		last := top + screenRow*float64(n-1)
		d.pen.For("screens:"+st.ID, "bar").Wide(scene.Heavy).Line(bar, top-2.5, bar, last+2.5)
		if c > 0 {
			d.pen.For("screens:"+st.ID, "bar").Wide(scene.Thick).Line(bar-wide, top-2.5, bar, top-2.5)
		}
		for i := range n {
			d.clampRow(cables[c*per+i], bar, top+screenRow*float64(i))
		}
	}
	d.pen.For("screens:"+st.ID, "bond").Wide(scene.Medium).Line(x+3, top-2.5, x+3, top-4.2)
	return cables[used:]
}

// clampRow draws one cable's screen on the bar.
func (d *earthPage) clampRow(c *design.Cable, x, y float64) {
	p := d.pen.For("cable:"+c.ID, "screen").Wide(scene.Medium)
	p.Dash(scene.Dotted).Line(x, y, x+12, y)
	p.Role("clamp").Wide(scene.Thin).Fill(scene.White).Rect(scene.Rect{X: x - 1.2, Y: y - 1.2, W: 2.4, H: 2.4})
	p.Role("cable").Font(typeface.Mono, paper.Small).TextIn(scene.Rect{X: x + 13, Y: y - 1.7, W: 22, H: 3.4}, scene.Left, 1.8, c.Name)
	text := p.Role("from").Font(typeface.Regular, paper.Small)
	_, from, _ := cutPair(c.From)
	to := ""
	if len(c.Signals) > 0 {
		to = d.loopOf(c.Signals[0])
	}
	text.Link(to).TextIn(scene.Rect{X: x + 36, Y: y - 1.7, W: 30, H: 3.4}, scene.Left, 1.8, from)
}
