package scene_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
	"railwright/internal/typeface"
)

func rect(t *rapid.T) scene.Rect {
	v := rapid.Float64Range(0.5, 80)
	return scene.Rect{X: v.Draw(t, "x"), Y: v.Draw(t, "y"), W: v.Draw(t, "w"), H: v.Draw(t, "h")}
}

// A hatch stays in its rectangle, whichever way it leans.
func TestHatchStaysInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s scene.Sheet
		r := rect(t)
		scene.NewPen(&s).Hatch(r, rapid.SampledFrom([]float64{-3, -1, 1, 3}).Draw(t, "gap"))
		s.Each(func(_ string, i *scene.Item) {
			if b := i.Bounds(); !b.Within(r) {
				t.Fatalf("%v leaves %v", b, r)
			}
		})
	})
}

// Whatever text is written into whatever rectangle that is high enough for one line, its ink stays inside.
func TestTextStaysInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s scene.Sheet
		r := rect(t)
		least := 1.8 * (typeface.CapHeight + typeface.Descent)
		r.H, r.W = max(r.H, 2.5*(typeface.CapHeight+typeface.Descent)), max(r.W, 2.5*(typeface.CapHeight+typeface.Descent), least)
		p := scene.NewPen(&s).Font(rapid.SampledFrom(typeface.Styles).Draw(t, "style"), 2.5)
		words := rapid.StringN(1, 30, 120).Draw(t, "words")
		a := rapid.SampledFrom([]scene.Anchor{scene.Left, scene.Middle, scene.Right}).Draw(t, "anchor")
		p.TextIn(r, a, 1.8, words)
		p.TextUpIn(r, a, 1.8, words)
		for _, i := range s.Items() {
			if b := i.Text.Bounds(); !b.Within(r) {
				t.Fatalf("%q at %v leaves %v", i.Text.Words, b, r)
			}
		}
	})
}

// Wrapped text stays in its rectangle, and what did not fit comes back.
func TestWrapped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s scene.Sheet
		r := rect(t)
		r.W = max(r.W, 4)
		p := scene.NewPen(&s)
		words := rapid.StringMatching(`[a-z ,\n-]{0,80}`).Draw(t, "words")
		rest := p.Wrapped(r, words)
		for _, i := range s.Items() {
			if b := i.Text.Bounds(); !b.Within(r) {
				t.Fatalf("%q at %v leaves %v", i.Text.Words, b, r)
			}
		}
		if h := p.WrappedHeight(r.W, words); (len(rest) == 0) != (h <= r.H+0.001) {
			t.Fatalf("needs %v of %v, %d lines left", h, r.H, len(rest))
		}
	})
}

// Moved there and back, a drawing is the same.
func TestShift(t *testing.T) {
	s := scenetest.Sample()
	items := s.Items()
	back := scene.Shift(scene.Shift(items, 12.5, -3), -12.5, 3)
	if diff := cmp.Diff(items, back); diff != "" {
		t.Error(diff)
	}
	if moved := scene.Shift(items, 1, 0); moved[0].Path.Points[0].X != items[0].Path.Points[0].X+1 {
		t.Error("nothing moved")
	}
}

// The ends of an arc lie on its circle, at its angles.
func TestArcEnds(t *testing.T) {
	a := scene.Arc{Center: scene.Point{X: 10, Y: 10}, Radius: 5, Start: 0, Sweep: 90}
	from, to := a.Ends()
	if from != (scene.Point{X: 15, Y: 10}) || to != (scene.Point{X: 10, Y: 15}) {
		t.Errorf("from %v to %v: 0 degrees is right, 90 is down", from, to)
	}
	for _, p := range a.Points() {
		if d := math.Hypot(p.X-10, p.Y-10); math.Abs(d-5) > 0.001 {
			t.Errorf("%v lies %v from the middle", p, d)
		}
	}
}
