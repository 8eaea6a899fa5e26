package drawing

import (
	"math"
	"slices"
	"strings"

	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
	"railwright/internal/words"
)

// bar is one bar of a chart.
type bar struct {
	name    string
	value   float64
	hatch   float64 // gap of its hatching, 0 = none; negative falls
	solid   scene.Ink
	printed string
}

// charts compares the design with home runs, splits its cost, and shows the cost against the number of
// stations where the search kept it.
func (b *book) charts() {
	d := b.Design
	if d.Cost.Total == 0 {
		return
	}
	marks := chartLegend
	if len(d.Siting.Curve) > 1 {
		marks = slices.Concat(marks, curveLegend)
	}
	pg := b.open(paper.Block{ID: "charts", Kind: "charts", Number: "CC-1", Chapter: b.say("drawing.chapter.site"), Title: b.say("drawing.charts.title")}, marks)
	a := pg.area
	left := scene.Rect{X: a.X, Y: a.Y, W: grid(a.W*0.5 - 4), H: a.H}
	right := scene.Rect{X: left.Right() + 8, Y: a.Y, W: a.Right() - left.Right() - 8, H: a.H}
	c := &chartPage{book: b, page: pg}
	c.homeRun(left)
	at := c.parts(right)
	if len(d.Siting.Curve) > 1 {
		c.curve(scene.Rect{X: right.X, Y: at + 6, W: right.W, H: a.Bottom() - at - 6})
	}
}

type chartPage struct {
	*book
	page
}

func (d *chartPage) money(v float64) string {
	return words.Thousands(int64(math.Round(v))) + " " + d.Design.Cost.Currency
}

// homeRun sets the design beside the same signals wired home.
func (d *chartPage) homeRun(r scene.Rect) {
	orders := 0.0
	for i := range d.Design.Cables {
		orders += d.Design.Cables[i].OrderM
	}
	ends := 0.0
	for i := range d.Design.Labour {
		if d.Design.Labour[i].Task == "termination" {
			ends += d.Design.Labour[i].Count
		}
	}
	h := d.Design.HomeRun
	metres := func(v float64) string { return words.Thousands(int64(math.Round(v))) + " m" }
	count := func(v float64) string { return words.Thousands(int64(math.Round(v))) }
	pairs := []struct {
		title       string
		plan, other float64
		print       func(float64) string
	}{
		{d.say("drawing.charts.cost"), d.Design.Cost.Total, h.Cost, d.money},
		{d.say("drawing.charts.cable"), orders, h.CableM, metres},
		{d.say("drawing.charts.ends"), ends, float64(h.Terminations), count},
	}
	d.title(r, d.say("drawing.charts.home"))
	y := r.Y + 8
	for _, p := range pairs {
		head := d.pen.For("", "chart head").Font(typeface.Bold, paper.Small)
		head.TextIn(scene.Rect{X: r.X, Y: y, W: r.W, H: 4}, scene.Left, 1.8, p.title)
		d.bars(scene.Rect{X: r.X, Y: y + 5, W: r.W, H: 16}, []bar{
			{name: d.say("drawing.charts.plan"), value: p.plan, solid: scene.Accent, printed: p.print(p.plan)},
			{name: d.say("drawing.charts.home_run"), value: p.other, hatch: 1.5, printed: p.print(p.other)},
		})
		y += 27
	}
	d.siting(scene.Rect{X: r.X, Y: y + 2, W: r.W, H: r.Bottom() - y - 2})
}

// siting says in words how good the choice of places is proven to be.
func (d *chartPage) siting(r scene.Rect) {
	s := d.Design.Siting
	if s.Objective == 0 {
		return
	}
	d.title(r, d.say("drawing.charts.bound"))
	d.bars(scene.Rect{X: r.X, Y: r.Y + 8, W: r.W, H: 16}, []bar{
		{name: d.say("drawing.charts.objective"), value: s.Objective, solid: scene.Accent, printed: d.money(s.Objective)},
		{name: d.say("drawing.charts.lower"), value: s.LowerBound, hatch: -1.5, printed: d.money(s.LowerBound)},
	})
	d.pen.For("", "gap").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: r.X, Y: r.Y + 26, W: r.W, H: 4}, scene.Left, 1.8, d.say("drawing.charts.gap", num(100*s.Gap, 2)))
}

func (d *chartPage) title(r scene.Rect, words string) {
	d.pen.For("", "chart title").Font(typeface.Bold, paper.Normal).TextIn(scene.Rect{X: r.X, Y: r.Y, W: r.W, H: 5}, scene.Left, 2, words)
	d.pen.For("", "chart title").Wide(scene.Hair).Line(r.X, r.Y+6, r.Right(), r.Y+6)
}

// bars draws bars from the left, named before, valued behind.
func (d *chartPage) bars(r scene.Rect, all []bar) {
	const name, value = 34.0, 28.0
	most := 0.0
	for _, b := range all {
		most = max(most, b.value)
	}
	pitch := r.H / float64(len(all))
	high := min(pitch-2, 6)
	x := r.X + name
	room := r.W - name - value
	for i, b := range all {
		y := r.Y + pitch*float64(i)
		p := d.pen.For("chart:"+b.name, "bar").Font(typeface.Regular, paper.Small)
		p.Role("bar name").TextIn(scene.Rect{X: r.X, Y: y + high/2 - 2, W: name - 2, H: 4}, scene.Left, 1.8, b.name)
		w := 0.0
		if most > 0 {
			w = max(room*b.value/most, 0.3)
		}
		box := scene.Rect{X: x, Y: y, W: w, H: high}
		if b.solid != scene.None {
			p.Wide(scene.Thin).Fill(b.solid).Rect(box)
		} else {
			p.Wide(scene.Thin).Rect(box)
			if b.hatch != 0 && w > 1 {
				p.Role("hatch").Wide(scene.Hair).Hatch(box, b.hatch)
			}
		}
		p.Role("value").TextIn(scene.Rect{X: x + w + 1.5, Y: y + high/2 - 2, W: value - 1.5, H: 4}, scene.Left, 1.8, b.printed)
	}
	d.pen.For("", "axis").Wide(scene.Thin).Line(x, r.Y-1, x, r.Y+pitch*float64(len(all)-1)+high+1)
}

// parts splits the cost by class, dearest first; it returns where it ends.
func (d *chartPage) parts(r scene.Rect) float64 {
	cost := d.Design.Cost
	var all []bar
	for _, class := range sortedKeys(cost.Parts) {
		all = append(all, bar{name: class, value: cost.Parts[class], solid: scene.Mid, printed: d.money(cost.Parts[class])})
	}
	slices.SortStableFunc(all, func(x, y bar) int {
		switch {
		case x.value > y.value:
			return -1
		case x.value < y.value:
			return 1
		}
		return strings.Compare(x.name, y.name)
	})
	all = all[:min(len(all), 14)]
	d.title(r, d.say("drawing.charts.parts", d.money(cost.Total)))
	if len(all) == 0 {
		return r.Y + 8
	}
	h := 7.0 * float64(len(all))
	d.bars(scene.Rect{X: r.X, Y: r.Y + 9, W: r.W, H: h}, all)
	return r.Y + 9 + h
}

// curve draws the best cost found, and the proven bound, against the number of stations.
func (d *chartPage) curve(r scene.Rect) {
	points := slices.Clone(d.Design.Siting.Curve)
	d.title(r, d.say("drawing.charts.curve"))
	plot := scene.Rect{X: r.X + 24, Y: r.Y + 11, W: r.W - 30, H: r.H - 20}
	if plot.H < 20 {
		return
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range points {
		for _, v := range []float64{p.Objective, p.LowerBound} {
			if v > 0 {
				low, high = min(low, v), max(high, v)
			}
		}
	}
	if high <= low {
		return
	}
	low, high = max(low-(high-low)*0.08, 0), high+(high-low)*0.08
	first, last := points[0].Stations, points[len(points)-1].Stations
	x := func(n int) float64 { return plot.X + plot.W*float64(n-first)/float64(max(last-first, 1)) }
	y := func(v float64) float64 { return plot.Bottom() - plot.H*(v-low)/(high-low) }
	p := d.pen.For("", "axis").Wide(scene.Thin).Font(typeface.Regular, paper.Small)
	p.Polyline(scene.Point{X: plot.X, Y: plot.Y}, scene.Point{X: plot.X, Y: plot.Bottom()}, scene.Point{X: plot.Right(), Y: plot.Bottom()})
	for i := range 5 {
		v := low + (high-low)*float64(i)/4
		p.Wide(scene.Hair).Ink(scene.Light).Line(plot.X, y(v), plot.Right(), y(v))
		p.Role("tick").TextIn(scene.Rect{X: r.X, Y: y(v) - 2, W: 22, H: 4}, scene.Right, 1.8, words.Thousands(int64(math.Round(v))))
	}
	var best, bound []scene.Point
	each := max((last-first)/12, 0) + 1
	for _, c := range points {
		if c.Objective > 0 {
			best = append(best, scene.Point{X: x(c.Stations), Y: y(c.Objective)})
			p.Role("point").Dot(x(c.Stations), y(c.Objective), 0.8)
		}
		if c.LowerBound > 0 {
			bound = append(bound, scene.Point{X: x(c.Stations), Y: y(c.LowerBound)})
		}
		if (c.Stations-first)%each == 0 {
			p.Role("tick").TextIn(scene.Rect{X: x(c.Stations) - 5, Y: plot.Bottom() + 1, W: 10, H: 3.6}, scene.Middle, 1.8, num(float64(c.Stations), 0))
		}
	}
	if len(best) > 1 {
		p.Role("best").Wide(scene.Medium).Polyline(best...)
	}
	if len(bound) > 1 {
		p.Role("bound").Wide(scene.Medium).Dash(scene.Dashed).Polyline(bound...)
	}
	p.Role("axis name").TextIn(scene.Rect{X: plot.X, Y: plot.Bottom() + 4.6, W: plot.W, H: 3.6}, scene.Middle, 1.8, d.say("drawing.charts.stations"))
}

var chartLegend = []mark{
	{"plan", func(p scene.Pen, r scene.Rect) { p.Fill(scene.Accent).Rect(r.Inset(0.5)) }},
	{"homerun", func(p scene.Pen, r scene.Rect) {
		p.Rect(r.Inset(0.5))
		p.Wide(scene.Hair).Hatch(r.Inset(0.5), 1.5)
	}},
	{"lower", func(p scene.Pen, r scene.Rect) {
		p.Rect(r.Inset(0.5))
		p.Wide(scene.Hair).Hatch(r.Inset(0.5), -1.5)
	}},
}

// curveLegend goes with the cost curve, where there is one.
var curveLegend = []mark{
	{"bestcost", func(p scene.Pen, r scene.Rect) {
		p.Wide(scene.Medium).Line(r.X, r.MidY(), r.Right(), r.MidY())
		p.Dot(r.MidX(), r.MidY(), 0.8)
	}},
	{"bound", func(p scene.Pen, r scene.Rect) {
		p.Wide(scene.Medium).Dash(scene.Dashed).Line(r.X, r.MidY(), r.Right(), r.MidY())
	}},
}
