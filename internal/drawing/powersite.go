package drawing

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

const (
	feederRow  = 13.0
	feederHead = 8.0
)

// powerSite draws the mains side of the whole site: boards, feeders, stations with their supply units.
func (b *book) powerSite() {
	var feeders []*design.Feeder
	for i := range b.Design.Feeders {
		feeders = append(feeders, &b.Design.Feeders[i])
	}
	slices.SortStableFunc(feeders, func(x, y *design.Feeder) int { return strings.Compare(x.From, y.From) })
	for n := 1; len(feeders) > 0; n++ {
		pg := b.open(paper.Block{
			ID: more("power", n), Kind: "power-site", Number: numberOf("PW", "1", n), Chapter: b.say("drawing.chapter.power"), Title: b.say("drawing.powersite.title"),
		}, powerLegend[:2])
		fit := int((pg.area.H - feederHead - turnRow) / feederRow)
		now := feeders[:min(fit, len(feeders))]
		feeders = feeders[len(now):]
		d := &powerSitePage{book: b, page: pg}
		d.draw(now)
		b.turns(pg, "power", n, len(feeders) > 0)
	}
}

// turns refers to the sheets of a subject before and after the n-th.
func (b *book) turns(pg page, id string, n int, goesOn bool) {
	p := pg.pen.For("", "turn").Font(typeface.Regular, paper.Small)
	y := pg.area.Bottom() - 4.5
	ref := func(x float64, words string, to int) {
		w := p.TextWidth(words) + 1
		p.TextIn(scene.Rect{X: x, Y: y, W: w, H: 4}, scene.Left, 1.8, words)
		refer(p, scene.Rect{X: x + w, Y: y, W: 26, H: 4}, more(id, to), scene.Left)
	}
	if n > 1 {
		ref(pg.area.X, b.say("drawing.from"), n-1)
	}
	if goesOn {
		ref(pg.area.Right()-60, b.say("drawing.onto"), n+1)
	}
}

type powerSitePage struct {
	*book
	page
}

func (d *powerSitePage) draw(feeders []*design.Feeder) {
	a := d.area
	at := func(part float64) float64 { return grid(a.X + part*a.W) }
	p := d.pen.For("", "head").Font(typeface.Bold, paper.Small)
	p.Wide(scene.Thin).Line(a.X, a.Y+6, a.Right(), a.Y+6)
	for _, h := range []struct {
		x, to float64
		words string
	}{
		{0, 0.13, d.say("drawing.powersite.board")},
		{0.14, 0.45, d.say("drawing.power.feeder")},
		{0.46, 0.6, d.say("drawing.loop.station")},
		{0.61, 0.78, d.say("drawing.powersite.units")},
		{0.79, 0.9, d.say("drawing.powersite.figures")},
	} {
		p.TextIn(scene.Rect{X: at(h.x), Y: a.Y, W: at(h.to) - at(h.x), H: 5.5}, scene.Left, 1.8, h.words)
	}
	for i := 0; i < len(feeders); {
		n := 1
		for i+n < len(feeders) && feeders[i+n].From == feeders[i].From {
			n++
		}
		d.board(feeders[i].From, a.Y+feederHead+feederRow*float64(i), n, at)
		i += n
	}
	for i, f := range feeders {
		d.feeder(f, a.Y+feederHead+feederRow*float64(i)+5.5, at)
	}
}

// board draws a distribution board beside its feeders.
func (d *powerSitePage) board(place string, y float64, n int, at func(float64) float64) {
	box := scene.Rect{X: at(0), Y: y, W: at(0.13) - at(0), H: feederRow*float64(n) - 2}
	p := d.pen.For("board:"+place, "board").Wide(scene.Medium)
	p.Rect(box)
	p.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X + 1, Y: box.Y + 0.8, W: box.W - 2, H: 3.6}, scene.Left, 1.8, place)
	p.Font(typeface.Regular, paper.Small).Role("place").TextIn(scene.Rect{X: box.X + 1, Y: box.Y + 4.6, W: box.W - 2, H: 3.6}, scene.Left, 1.8, d.ix.placeName(place))
}

func (d *powerSitePage) feeder(f *design.Feeder, y float64, at func(float64) float64) {
	p := d.pen.For("feeder:"+f.ID, "feeder").Wide(scene.Medium)
	x := at(0.13)
	p.Line(x, y, x+8, y)
	if g := d.ix.guards["feeder:"+f.ID]; g != nil {
		d.guard(p, g, x+8, y)
		gp := d.pen.For("protection:"+g.ID, "protection")
		gp.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: x + 1, Y: y - 5.4, W: 23, H: 3.2}, scene.Middle, 1.8, g.ID+" "+num(g.RatingA, 1)+" A")
		gp.Role("protection code").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: x + 1, Y: y + 1.8, W: 23, H: 3.2}, scene.Middle, 1.8, g.Type)
	} else {
		p.Line(x+8, y, x+8+guardWidth, y)
	}
	station := at(0.46)
	p.Line(x+8+guardWidth, y, station, y)
	slashes(p, at(0.26), y)
	if c := d.ix.cables[f.Cable]; c != nil {
		cp := d.pen.For("cable:"+c.ID, "cable")
		cp.Font(typeface.MonoBold, paper.Small).TextIn(scene.Rect{X: at(0.29), Y: y - 3.6, W: station - at(0.29) - 1, H: 3.2}, scene.Left, 1.8, c.Name)
		cp.Role("cable data").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: at(0.29), Y: y + 0.6, W: station - at(0.29) - 1, H: 3.4}, scene.Left, 1.8,
			fmt.Sprintf("%d × %s, %s m, %s V ~", c.Cores, d.size(c.AreaMM2), num(c.LengthM, 1), num(f.VoltageV, 0)))
	}
	d.station(f, scene.Rect{X: station, Y: y - 4.5, W: at(0.6) - station, H: 9})
	units := 0
	for _, u := range d.ix.supplies[f.Station] {
		if u.Feeder != f.ID || units > 2 || d.twins(u)[0] != u {
			continue
		}
		d.pen.For("supply:"+u.ID, "unit").Font(typeface.Regular, paper.Small).
			TextIn(scene.Rect{X: at(0.61), Y: y - 5 + 3.5*float64(units), W: at(0.78) - at(0.61), H: 3.4}, scene.Left, 1.8, short(d.unitName(u), f.Station)+" "+d.rating(u)+", "+d.say("drawing.unit.load", num(u.LoadMA, 0)))
		units++
	}
	lines := d.feederLines(f)
	lines = lines[len(lines)-min(len(lines), 4):]
	if f.InrushA > 0 {
		lines = lines[:len(lines)-1]
	}
	for i, words := range lines[max(len(lines)-3, 0):] {
		p.Role("figure").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: at(0.79), Y: y - 5 + 3.5*float64(i), W: at(0.995) - at(0.79), H: 3.4}, scene.Left, 1.8, words)
	}
}

// station draws where a feeder ends, with the sheet that goes on from there.
func (d *powerSitePage) station(f *design.Feeder, box scene.Rect) {
	p := d.pen.For("station:"+f.Station, "station").Wide(scene.Medium)
	p.Rect(box)
	p.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X + 1, Y: box.Y + 0.8, W: box.W*0.45 - 1, H: 3.6}, scene.Left, 1.8, f.Station)
	refer(p.Font(typeface.Regular, paper.Small), scene.Rect{X: box.X + box.W*0.45, Y: box.Y + 0.8, W: box.W*0.55 - 1, H: 3.6}, "power/"+f.Station, scene.Right)
	if st := d.ix.stations[f.Station]; st != nil {
		p.Role("place").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: box.X + 1, Y: box.Y + 4.8, W: box.W - 2, H: 3.6}, scene.Left, 1.8, d.ix.placeName(st.Place))
	}
}
