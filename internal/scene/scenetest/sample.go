package scenetest

import (
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Sample returns a sheet with every shape, line, ink, font and anchor, for the tests of writers.
func Sample() scene.Sheet {
	s := scene.Sheet{
		ID: "sample/1", Kind: "sample", Number: "S-01", Title: "Every shape & <sign>", Chapter: "Samples",
		Width: 210, Height: 148, Frame: scene.Rect{X: 5, Y: 5, W: 200, H: 138},
	}
	p := scene.NewPen(&s)
	p.On("frame").Wide(scene.Thick).Rect(s.Frame)
	for i, d := range []scene.Dash{scene.Whole, scene.Dashed, scene.Dotted, scene.Chain, scene.Fine} {
		for j, w := range []float64{scene.Hair, scene.Thin, scene.Medium, scene.Thick, scene.Heavy} {
			y := 12 + 5*float64(i) + float64(j)
			p.Dash(d).Wide(w).For("wire:W1", "conductor").Line(10, y, 60, y)
		}
	}
	for i, ink := range []scene.Ink{scene.Black, scene.Dark, scene.Mid, scene.Light, scene.Pale, scene.White, scene.Accent, scene.Warn} {
		x := 70 + 14*float64(i)
		p.Fill(ink).Rect(scene.Rect{X: x, Y: 10, W: 10, H: 8})
		p.Ink(ink).Circle(x+5, 25, 4)
	}
	h := scene.Rect{X: 10, Y: 36, W: 30, H: 12}
	p.Rect(h)
	p.Wide(scene.Hair).Hatch(h, 2)
	h.X = 44
	p.Rect(h)
	p.Wide(scene.Hair).Hatch(h, -2)
	for i := range 4 {
		p.Arc(90+14*float64(i), 42, 5, 90*float64(i), 90)
		p.Dash(scene.Dashed).Arc(90+14*float64(i), 42, 6, 90*float64(i), -210)
	}
	p.Arrow(150, 48, 190, 36, 3)
	p.Dot(150, 48, 0.8)
	for i, style := range typeface.Styles {
		y := 58 + 6*float64(i)
		p.Font(style, 3.5).For("signal:S1", "tag").Text(10, y, "Left O0 Il1 Ω °C ² µ → ≤")
		p.Font(style, 2.5).TextMiddle(105, y, "middle (in) \\ brackets")
		p.Font(style, 1.8).Ink(scene.Accent).TextRight(195, y, "right ÄÖÜß «é» č")
		p.Font(style, 2.5).TextUp(15+6*float64(i), 120, scene.Left, "upwards 24 V")
	}
	box := scene.Rect{X: 60, Y: 90, W: 40, H: 6}
	p.Rect(box)
	p.TextIn(box.Inset(1), scene.Middle, 1.8, "shrunk a little into its cell")
	box.Y += 8
	p.Rect(box)
	p.TextIn(box.Inset(1), scene.Left, 1.8, "cut, since it would never fit into its cell")
	p.Wrapped(scene.Rect{X: 110, Y: 90, W: 50, H: 30}, "A text over several lines, broken at spaces;\nand at line ends, the sign ⎓ being replaced.")
	p.Ink(scene.Accent).Link("sample/1").Text(10, 138, "to sheet S-01")
	return s
}
