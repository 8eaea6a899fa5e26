package drawing

import (
	"math"
	"strconv"

	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// route finds the line of a way: straight between the boxes, or round what stands between.
func (d *sitePage) route(w *siteWay) []scene.Point {
	a, b := w.from.size, w.to.size
	from, to := w.from.middle(), w.to.middle()
	best, cost := []scene.Point{from, to}, math.Inf(1)
	try := func(line ...scene.Point) {
		c := d.cost(line, w)
		if c < cost-1e-9 {
			best, cost = line, c
		}
	}
	try(from, to)
	if cost >= 1000 { // the straight line meets a box or another line
		l := math.Hypot(to.X-from.X, to.Y-from.Y)
		nx, ny := -(to.Y-from.Y)/l, (to.X-from.X)/l
		for _, t := range []float64{0.5, 0.25, 0.75, 0.12, 0.88} {
			for k := 1; k <= 14; k++ {
				for _, side := range []float64{1, -1} {
					off := side * float64(k) * 5
					try(from, scene.Point{X: grid(from.X + (to.X-from.X)*t + nx*off), Y: grid(from.Y + (to.Y-from.Y)*t + ny*off)}, to)
				}
			}
		}
	}
	for round := 0; round < 3 && cost >= 10000; round++ { // it still meets a box: round its corners
		for _, r := range d.inWay(best, w) {
			c := corners(r.Inset(-3.5))
			for i := range c {
				next := c[(i+1)%4]
				try(from, c[i], to)
				try(from, c[i], next, to)
				try(from, next, c[i], to)
				for k := 1; k < len(best)-1; k++ {
					try(from, c[i], best[k], to)
					try(from, best[k], c[i], to)
				}
			}
		}
	}
	best = clip(best, a, b)
	for i := 1; i < len(best); i++ {
		d.drawn = append(d.drawn, best[i-1], best[i])
	}
	return best
}

// inWay are the boxes that a line meets.
func (d *sitePage) inWay(line []scene.Point, w *siteWay) (out []scene.Rect) {
	for _, r := range d.taken {
		if r == w.from.size || r == w.to.size {
			continue
		}
		for i := 1; i < len(line); i++ {
			if meets(line[i-1], line[i], r.Inset(-1.5)) {
				out = append(out, r)
				break
			}
		}
	}
	return out
}

func corners(r scene.Rect) [4]scene.Point {
	return [4]scene.Point{{X: r.X, Y: r.Y}, {X: r.Right(), Y: r.Y}, {X: r.Right(), Y: r.Bottom()}, {X: r.X, Y: r.Bottom()}}
}

// cost counts what a line meets: boxes dear, other lines less, and its length.
func (d *sitePage) cost(line []scene.Point, w *siteWay) float64 {
	c := 0.0
	inside := d.area
	for i := 1; i < len(line); i++ {
		p, q := line[i-1], line[i]
		c += math.Hypot(q.X-p.X, q.Y-p.Y)
		for _, r := range d.taken {
			if r != w.from.size && r != w.to.size && meets(p, q, r.Inset(-1.5)) {
				c += 10000
			}
		}
		for k := 1; k < len(d.drawn); k += 2 {
			if crosses(p, q, d.drawn[k-1], d.drawn[k]) {
				c += 1000
			}
		}
		if !(scene.Rect{X: q.X, Y: q.Y}).Within(inside) {
			c += 100000
		}
	}
	return c
}

// clip takes off the parts of a line that lie in the boxes at its ends.
func clip(line []scene.Point, a, b scene.Rect) []scene.Point {
	out := append([]scene.Point(nil), line...)
	n := len(out) - 1
	out[0] = edge(line[1], line[0], a)
	out[n] = edge(line[n-1], line[n], b)
	return out
}

// middle is the middle of a place's box without the tags of its stations.
func (n *siteNode) middle() scene.Point {
	return scene.Point{X: n.size.MidX(), Y: n.size.Y + (n.size.H-stationTag*float64(len(n.stations)))/2}
}

// edge is where the line from outside to a point in a box meets its side.
func edge(outside, inside scene.Point, r scene.Rect) scene.Point {
	dx, dy := outside.X-inside.X, outside.Y-inside.Y
	t := 1.0
	side := func(d, room float64) {
		if d != 0 {
			t = min(t, room/math.Abs(d))
		}
	}
	if dx > 0 {
		side(dx, r.Right()-inside.X)
	} else {
		side(dx, inside.X-r.X)
	}
	if dy > 0 {
		side(dy, r.Bottom()-inside.Y)
	} else {
		side(dy, inside.Y-r.Y)
	}
	return scene.Point{X: inside.X + dx*t, Y: inside.Y + dy*t}
}

// meets reports whether a segment touches a rectangle.
func meets(p, q scene.Point, r scene.Rect) bool {
	t1, t2 := 0.0, 1.0
	cut := func(d, low, high float64) bool {
		if d == 0 {
			return low <= 0 && high >= 0
		}
		a, b := low/d, high/d
		if a > b {
			a, b = b, a
		}
		t1, t2 = max(t1, a), min(t2, b)
		return t1 <= t2
	}
	return cut(q.X-p.X, r.X-p.X, r.Right()-p.X) && cut(q.Y-p.Y, r.Y-p.Y, r.Bottom()-p.Y)
}

// crosses reports whether two segments cross at a point inside both.
func crosses(a, b, c, d scene.Point) bool {
	turn := func(p, q, r scene.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return turn(a, b, c)*turn(a, b, d) < -1e-6 && turn(c, d, a)*turn(c, d, b) < -1e-6
}

// label writes a route's length and cables beside the middle of its line, where there is room; the table on
// the next sheet has them all.
func (d *sitePage) label(l laidWay) {
	words := num(l.way.route.Length.Metres(), 1) + " m"
	if l.way.field == 1 {
		words += " · " + d.say("drawing.site.count_one")
	} else if l.way.field > 1 {
		words += " · " + d.say("drawing.site.count", strconv.Itoa(l.way.field))
	}
	p := d.pen.On("routes").For("route:"+l.way.route.ID, "length").Font(typeface.Regular, paper.Small)
	width := p.TextWidth(words) + 0.4
	for _, t := range []float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74} {
		at, up := along(l.line, t)
		for _, off := range up {
			r := scene.Rect{X: at.X + off.X - width/2, Y: at.Y + off.Y - 1.6, W: width, H: 3.2}
			if off.X > 0 {
				r.X = at.X + off.X
			} else if off.X < 0 {
				r.X = at.X + off.X - width
			}
			if d.roomy(r) {
				p.TextIn(r, scene.Middle, paper.Small, words)
				d.labels = append(d.labels, r)
				return
			}
		}
	}
}

// along is a point on a line at a part of its length, with offsets for a label beside it.
func along(line []scene.Point, t float64) (scene.Point, []scene.Point) {
	total := 0.0
	for i := 1; i < len(line); i++ {
		total += math.Hypot(line[i].X-line[i-1].X, line[i].Y-line[i-1].Y)
	}
	rest := total * t
	for i := 1; i < len(line); i++ {
		p, q := line[i-1], line[i]
		l := math.Hypot(q.X-p.X, q.Y-p.Y)
		if rest > l && i < len(line)-1 {
			rest -= l
			continue
		}
		at := scene.Point{X: p.X + (q.X-p.X)*rest/l, Y: p.Y + (q.Y-p.Y)*rest/l}
		if math.Abs(q.Y-p.Y) > math.Abs(q.X-p.X) {
			return at, []scene.Point{{X: 1.2}, {X: -1.2}}
		}
		return at, []scene.Point{{Y: -2.2}, {Y: 2.2}, {X: 1.5, Y: -2.2}, {X: -1.5, Y: -2.2}, {X: 1.5, Y: 2.2}, {X: -1.5, Y: 2.2}}
	}
	return line[0], nil
}

// roomy reports whether a label meets no box, no other label and no line.
func (d *sitePage) roomy(r scene.Rect) bool {
	if !r.Within(d.area) {
		return false
	}
	for _, t := range d.taken {
		if r.Overlaps(t.Inset(-1)) {
			return false
		}
	}
	for _, t := range d.labels {
		if r.Overlaps(t.Inset(-0.3)) {
			return false
		}
	}
	for k := 1; k < len(d.drawn); k += 2 {
		if meets(d.drawn[k-1], d.drawn[k], r) {
			return false
		}
	}
	return true
}
