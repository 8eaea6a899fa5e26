package drawing

import (
	"strings"

	"railwright/internal/design"
	"railwright/internal/scene"
)

// loopLegend lists the signs that a loop's sheets show, always in the same order.
func (b *book) loopLegend(l *loop) []mark {
	used := map[string]bool{}
	guards := map[string]bool{}
	screened, plain := false, false
	for i := range l.strands {
		used[glyphOf(l.strands[i].signal)] = true
		b.guardsOf(l.strands[i].at.group, guards)
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
			oval(scene.Fine)(p, r)
			p.Line(r.MidX()+1.2, r.MidY(), r.MidX()+3, r.MidY())
			p.Line(r.MidX()+3, r.MidY(), r.MidX()+3, r.MidY()+0.8)
			earth(p, r.MidX()+3, r.MidY()+0.8)
		}})
	}
	for _, name := range []string{"breaker", "electronic", "fuse"} {
		if guards[name] {
			out = append(out, mark{name, guardGlyphs[name]})
		}
	}
	if guards["safety"] {
		out = append(out, mark{"safety", contact(false)})
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

// guardsOf notes which signs the row of a supply group shows.
func (b *book) guardsOf(g *design.SupplyGroup, signs map[string]bool) {
	if g == nil {
		return
	}
	if guard := b.ix.guards["group:"+g.ID]; guard != nil {
		signs[b.guardGlyph(guard)] = true
	}
	if _, class := classOf(g); strings.HasPrefix(class, "safety:") {
		signs["safety"] = true
	}
}
