package dxf

import (
	"math"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

func (w *writer) item(i *scene.Item) {
	switch {
	case i.Path != nil:
		w.path(i)
	case i.Circle != nil:
		w.circle(i)
	case i.Arc != nil:
		w.arc(i)
	case i.Text != nil:
		w.text(i)
	}
}

// begin opens an entity on the layer, with its line type and colour.
func (w *writer) begin(kind string, dash scene.Dash, ink scene.Ink) *writer {
	w.pair(0, kind).pair(8, w.layer)
	switch dash {
	case scene.Dashed:
		w.pair(6, "DASHED")
	case scene.Dotted:
		w.pair(6, "DOTTED")
	case scene.Chain:
		w.pair(6, "CHAIN")
	case scene.Fine:
		w.pair(6, "FINE")
	}
	return w.count(62, colour(ink))
}

// colour is the nearest number of the common colour table.
func colour(i scene.Ink) int {
	switch i {
	case scene.Dark:
		return 8
	case scene.Mid:
		return 9
	case scene.Light:
		return 254
	case scene.Pale, scene.White:
		return 255
	case scene.Accent:
		return 5
	case scene.Warn:
		return 30
	}
	return 7
}

// ties ends an entity with its subject and role.
func (w *writer) ties(i *scene.Item) {
	if i.Subject == "" && i.Role == "" {
		return
	}
	w.pair(1001, application)
	for _, s := range []string{"subject=" + i.Subject, "role=" + i.Role} {
		s = encode(s)
		w.pair(1000, s[:min(len(s), 255)])
	}
}

func (w *writer) path(i *scene.Item) {
	p := i.Path
	if p.Closed && p.Fill != scene.None {
		for _, t := range triangles(p.Points) {
			w.begin("SOLID", scene.Whole, p.Fill).point(10, t[0]).point(11, t[1]).point(12, t[2]).point(13, t[2])
			w.ties(i)
		}
	}
	if p.Stroke.Width <= 0 {
		return
	}
	if len(p.Points) == 2 && !p.Closed && p.Stroke.Width <= scene.Thin {
		w.begin("LINE", p.Stroke.Dash, p.Stroke.Ink).point(10, p.Points[0]).point(11, p.Points[1])
		w.ties(i)
		return
	}
	w.polyline(i, p.Points, p.Closed, p.Stroke, 0)
}

// polyline draws a line with its width; the thin ones have none, as a pen has.
func (w *writer) polyline(i *scene.Item, points []scene.Point, closed bool, s scene.Stroke, bulge float64) {
	flags := 0
	if closed {
		flags = 1
	}
	w.begin("POLYLINE", s.Dash, s.Ink).count(66, 1).num(10, 0).num(20, 0).num(30, 0).count(70, flags)
	if s.Width > scene.Thin {
		w.num(40, s.Width).num(41, s.Width)
	}
	w.ties(i)
	for _, q := range points {
		w.pair(0, "VERTEX").pair(8, w.layer).point(10, q)
		if bulge != 0 {
			w.num(42, bulge)
		}
	}
	w.pair(0, "SEQEND").pair(8, w.layer)
}

func (w *writer) circle(i *scene.Item) {
	c := i.Circle
	if c.Fill != scene.None && c.Radius > 0 {
		// Two half circles drawn with a pen as wide as the radius fill the disc.
		h := c.Radius / 2
		ends := []scene.Point{{X: c.Center.X - h, Y: c.Center.Y}, {X: c.Center.X + h, Y: c.Center.Y}}
		w.polyline(i, ends, true, scene.Stroke{Width: c.Radius, Ink: c.Fill}, 1)
	}
	if c.Stroke.Width > 0 {
		w.begin("CIRCLE", c.Stroke.Dash, c.Stroke.Ink).point(10, c.Center).num(40, c.Radius)
		w.ties(i)
	}
}

// arc turns our clockwise degrees into those of the file, which run against the clock.
func (w *writer) arc(i *scene.Item) {
	a := i.Arc
	from, to := -a.Start-a.Sweep, -a.Start
	if a.Sweep < 0 {
		from, to = to, from
	}
	w.begin("ARC", a.Stroke.Dash, a.Stroke.Ink).point(10, a.Center).num(40, a.Radius)
	w.num(50, math.Mod(math.Mod(from, 360)+360, 360)).num(51, math.Mod(math.Mod(to, 360)+360, 360))
	w.ties(i)
}

// text fits a line between its two ends (alignment 5).
func (w *writer) text(i *scene.Item) {
	t := i.Text
	wide := typeface.Width(t.Style, t.Words, t.Size)
	back := 0.0
	switch t.Anchor {
	case scene.Middle:
		back = wide / 2
	case scene.Right:
		back = wide
	}
	from := scene.Point{X: t.At.X - back, Y: t.At.Y}
	to := scene.Point{X: from.X + wide, Y: from.Y}
	if t.Turn == -90 {
		from = scene.Point{X: t.At.X, Y: t.At.Y + back}
		to = scene.Point{X: from.X, Y: from.Y - wide}
	}
	w.begin("TEXT", scene.Whole, t.Ink).point(10, from).num(40, t.Size*typeface.CapHeight)
	w.pair(1, encode(t.Words)).num(50, -t.Turn).pair(7, styleName(t.Style)).count(72, 5).point(11, to)
	w.ties(i)
}
