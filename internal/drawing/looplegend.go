package drawing

import "railwright/internal/scene"

// loopLegend lists the signs that a loop's sheets show, always in the same order.
func (b *book) loopLegend(l *loop) []mark {
	used := map[string]bool{}
	screened, plain := false, false
	for i := range l.strands {
		used[glyphOf(l.strands[i].signal)] = true
		if c := b.ix.cables[l.strands[i].cable()]; c != nil {
			screened, plain = screened || b.ix.screened(c), plain || !b.ix.screened(c)
		}
	}
	var out []mark
	for _, name := range glyphOrder {
		if used[name] {
			out = append(out, mark{name, glyphs[name]})
		}
	}
	out = append(out, mark{"terminal", func(p scene.Pen, r scene.Rect) {
		p.Wide(scene.Medium).Line(r.X+1, r.MidY(), r.MidX()-0.9, r.MidY())
		p.Wide(scene.Thin).Circle(r.MidX(), r.MidY(), 0.9)
	}})
	if plain {
		out = append(out, mark{"sheath", oval(scene.Whole)})
	}
	if screened {
		out = append(out, mark{"screen", func(p scene.Pen, r scene.Rect) {
			oval(scene.Dotted)(p, r)
			p.Line(r.MidX()+1.2, r.MidY(), r.MidX()+3, r.MidY())
			p.Line(r.MidX()+3, r.MidY(), r.MidX()+3, r.MidY()+0.8)
			earth(p, r.MidX()+3, r.MidY()+0.8)
		}})
	}
	return append(out, mark{"group", lozenge})
}

// lozenge is the mark of a supply group.
func lozenge(p scene.Pen, r scene.Rect) {
	y := r.MidY()
	p.Polygon(scene.Point{X: r.X + 1, Y: y}, scene.Point{X: r.X + 2.4, Y: y - 1.7}, scene.Point{X: r.X + 7.6, Y: y - 1.7},
		scene.Point{X: r.X + 9, Y: y}, scene.Point{X: r.X + 7.6, Y: y + 1.7}, scene.Point{X: r.X + 2.4, Y: y + 1.7})
}

func oval(dash scene.Dash) func(p scene.Pen, r scene.Rect) {
	return func(p scene.Pen, r scene.Rect) {
		x, y := r.MidX(), r.MidY()
		p.Line(r.X, y-0.8, r.Right()-1, y-0.8)
		p.Line(r.X, y+0.8, r.Right()-1, y+0.8)
		p = p.Wide(scene.Thin)
		if dash != scene.Whole {
			p = p.Wide(scene.Medium).Dash(dash)
		}
		p.Arc(x, y-1, 1.2, 180, 180)
		p.Line(x+1.2, y-1, x+1.2, y+1)
		p.Arc(x, y+1, 1.2, 0, 180)
		p.Line(x-1.2, y+1, x-1.2, y-1)
	}
}
