package drawing

import (
	"railwright/internal/scene"
)

// railMarks is the legend of a rail drawing: what stands on this station's.
func (b *book) railMarks(r *rack) []mark {
	marks := []mark{
		{"group", func(p scene.Pen, s scene.Rect) {
			p.Wide(scene.Medium).Polyline(scene.Point{X: s.X + 1, Y: s.Y + 3}, scene.Point{X: s.X + 1, Y: s.Y + 1.5}, scene.Point{X: s.Right() - 1, Y: s.Y + 1.5}, scene.Point{X: s.Right() - 1, Y: s.Y + 3})
		}},
		{"load", func(p scene.Pen, s scene.Rect) {
			loadBar(p, scene.Rect{X: s.X, Y: s.Y + 1, W: s.W, H: 2.4}, 0.6, 1)
		}},
		{"bus", func(p scene.Pen, s scene.Rect) {
			p.Wide(scene.Heavy).Line(s.X, s.MidY(), s.Right()-1, s.MidY())
			p.Wide(scene.Thick).Line(s.Right()-1, s.MidY()-1.5, s.Right()-1, s.MidY()+1.5)
		}},
		{"infeed", func(p scene.Pen, s scene.Rect) {
			p = p.Wide(scene.Medium).Ink(scene.Accent)
			p.Arrow(s.X, s.MidY(), s.X+7, s.MidY(), 2.4)
			p.Dot(s.X+8, s.MidY(), 0.9)
		}},
		{"channels", func(p scene.Pen, s scene.Rect) {
			p.Wide(scene.Hair).Fill(scene.Black).Circle(s.MidX()-1.5, s.MidY(), 0.55)
			p.Wide(scene.Hair).Fill(scene.White).Circle(s.MidX()+1.5, s.MidY(), 0.55)
		}},
	}
	if based(r.station) {
		marks = append(marks, mark{"base", func(p scene.Pen, s scene.Rect) {
			p.Wide(scene.Medium).Rect(scene.Rect{X: s.X + 3, Y: s.Y, W: 4, H: 2.5})
			p.Wide(scene.Medium).Rect(scene.Rect{X: s.X + 3, Y: s.Y + 2.5, W: 4, H: 2})
		}})
	}
	for i := range r.station.Slots {
		if infeedModule(b.List, &r.station.Slots[i]) {
			return append(marks, mark{"infeed_module", func(p scene.Pen, s scene.Rect) {
				p.Wide(scene.Medium).Fill(scene.Pale).Rect(scene.Rect{X: s.X + 3, Y: s.Y, W: 4, H: 4.5})
			}})
		}
	}
	return marks
}
