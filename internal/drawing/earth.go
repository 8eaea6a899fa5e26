package drawing

import (
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// earthSite draws how the earths of the site hang together: a bar at every place with a station or a board,
// the protective conductors of the feeders between them, and which cables leave a place.
func (b *book) earthSite() {
	places := b.earthPlaces()
	if len(places) == 0 {
		return
	}
	const row = 19.0
	for n := 1; len(places) > 0; n++ {
		pg := b.open(paper.Block{
			ID: more("earthing", n), Kind: "earthing-site", Number: numberOf("EB", "1", n), Chapter: b.say("drawing.chapter.power"), Title: b.say("drawing.earth.site"),
		}, earthLegend)
		fit := max(int((pg.area.H-14-turnRow)/row), 1)
		now := places[:min(fit, len(places))]
		places = places[len(now):]
		d := &earthPage{book: b, page: pg}
		d.siteBar(now, row)
		b.turns(pg, "earthing", n, len(places) > 0)
	}
}

// earthPlaces are the places with stations, by id.
func (b *book) earthPlaces() []string {
	seen := map[string]bool{}
	for i := range b.Design.Stations {
		seen[b.Design.Stations[i].Place] = true
	}
	for i := range b.Design.Feeders {
		seen[b.Design.Feeders[i].From] = true
	}
	return sortedKeys(seen)
}

type earthPage struct {
	*book
	page
}

// siteBar draws the bonding between the places as one line down the sheet, each place's bar off it.
func (d *earthPage) siteBar(places []string, row float64) {
	a := d.area
	p := d.pen.For("", "note").Font(typeface.Regular, paper.Small)
	p.TextIn(scene.Rect{X: a.X, Y: a.Y, W: a.W, H: 4.5}, scene.Left, 1.8, d.say("drawing.earth.note"))
	x := a.X + 12
	top := a.Y + 9
	bond := d.pen.For("earth:site", "bond").Wide(scene.Heavy).Dash(scene.Chain)
	bond.Line(x, top, x, top+row*float64(len(places)-1)+5)
	for i, place := range places {
		y := top + row*float64(i) + 5
		d.pen.For("earth:site", "bond").Wide(scene.Heavy).Dash(scene.Chain).Line(x, y, x+18, y)
		d.placeBar(place, scene.Rect{X: x + 18, Y: y - 5, W: 60, H: 10})
		d.placeStations(place, x+78, y)
	}
}

// placeBar draws a place's main earthing bar with its electrode.
func (d *earthPage) placeBar(place string, box scene.Rect) {
	p := d.pen.For("earth:"+place, "bar").Wide(scene.Medium)
	p.Rect(box)
	p.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X + 1.5, Y: box.Y + 1, W: box.W - 12, H: 3.6}, scene.Left, 1.8, place+"  "+d.say("drawing.earth.main"))
	p.Role("place").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: box.X + 1.5, Y: box.Y + 5, W: box.W - 12, H: 3.6}, scene.Left, 1.8, d.ix.placeName(place))
	p.Wide(scene.Medium).Line(box.Right()-5, box.Bottom(), box.Right()-5, box.Bottom()+1.5)
	earth(p.Wide(scene.Medium), box.Right()-5, box.Bottom()+1.5)
}

// placeStations draws the stations at a place on its bar, with the protective conductor of each feeder.
func (d *earthPage) placeStations(place string, x, y float64) {
	var here []*design.Station
	for i := range d.Design.Stations {
		if d.Design.Stations[i].Place == place {
			here = append(here, &d.Design.Stations[i])
		}
	}
	p := d.pen.For("earth:"+place, "bond").Wide(scene.Medium).Dash(scene.Chain)
	from := x
	for i, st := range here {
		if i > 2 {
			break
		}
		box := scene.Rect{X: from + 8, Y: y - 4.5, W: 42, H: 9}
		p.Line(from, y, box.X, y)
		sp := d.pen.For("station:"+st.ID, "station").Wide(scene.Medium)
		sp.Rect(box)
		sp.Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X + 1, Y: box.Y + 0.8, W: 18, H: 3.6}, scene.Left, 1.8, st.ID)
		refer(sp.Font(typeface.Regular, paper.Small), scene.Rect{X: box.X + 19, Y: box.Y + 0.8, W: 22, H: 3.6}, "earthing/"+st.ID, scene.Right)
		screens, all := 0, 0
		for _, c := range d.landing(st) {
			all++
			if d.ix.screened(c) {
				screens++
			}
		}
		sp.Role("count").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: box.X + 1, Y: box.Y + 4.8, W: box.W - 2, H: 3.6}, scene.Left, 1.8, d.say("drawing.earth.screens", screens, all))
		from = box.Right()
	}
}

// landing are the cables that end in a station's enclosure, by id.
func (b *book) landing(st *design.Station) []*design.Cable {
	var out []*design.Cable
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		if c.To == "station:"+st.ID && (c.Use == "field" || c.Use == "multicore") {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, func(x, y *design.Cable) int { return strings.Compare(x.ID, y.ID) })
	return out
}

var earthLegend = []mark{
	{"bond", func(p scene.Pen, r scene.Rect) {
		p.Wide(scene.Medium).Dash(scene.Chain).Line(r.X, r.MidY(), r.Right(), r.MidY())
	}},
	{"earth", func(p scene.Pen, r scene.Rect) {
		p.Line(r.MidX(), r.Y+0.6, r.MidX(), r.MidY())
		earth(p, r.MidX(), r.MidY())
	}},
	{"earthbar", func(p scene.Pen, r scene.Rect) { p.Wide(scene.Heavy).Line(r.X, r.MidY(), r.Right(), r.MidY()) }},
	{"clamp", clampMark},
}

// clampMark is a screen under its clamp.
func clampMark(p scene.Pen, r scene.Rect) {
	x, y := r.MidX(), r.MidY()
	p.Wide(scene.Medium).Dash(scene.Dotted).Line(r.X, y, r.Right(), y)
	p.Wide(scene.Thin).Rect(scene.Rect{X: x - 1.2, Y: y - 1.2, W: 2.4, H: 2.4})
}
