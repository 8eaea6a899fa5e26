package scenetest_test

import (
	"strings"
	"testing"

	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
)

// Each law must see the fault it is there for, and only on the faulty sheet.
func TestLawsSee(t *testing.T) {
	cases := []struct {
		name, want string
		spoil      func(*scene.Sheet, scene.Pen)
	}{
		{"text over text", "lies over", func(_ *scene.Sheet, p scene.Pen) { p.Text(60, 121, "one"); p.Text(61, 122, "two") }},
		{"turned text over text", "lies over", func(_ *scene.Sheet, p scene.Pen) {
			p.Text(60, 121, "one long text")
			p.TextUp(70, 126, scene.Left, "another")
		}},
		{"out of the frame", "leaves the frame", func(_ *scene.Sheet, p scene.Pen) { p.Text(190, 121, "far too long a text") }},
		{"line out of the frame", "leaves the frame", func(_ *scene.Sheet, p scene.Pen) { p.Line(190, 130, 206, 130) }},
		{"out of the box", "leaves its box", func(_ *scene.Sheet, p scene.Pen) {
			p.Box(scene.Rect{X: 60, Y: 118, W: 5, H: 5}).Text(60, 121, "longer")
		}},
		{"no partner", "not there", func(_ *scene.Sheet, p scene.Pen) { p.Link("nowhere").Text(60, 121, "x") }},
		{"no ID", "no ID", func(s *scene.Sheet, _ scene.Pen) { s.ID = "" }},
		{"too small", "mm high", func(_ *scene.Sheet, p scene.Pen) { p.Size(1).Text(60, 121, "x") }},
		{"no glyph", "lacks glyphs", func(s *scene.Sheet, _ scene.Pen) {
			l := &s.Layers[0]
			l.Items = append(l.Items, scene.Item{Text: &scene.Text{At: scene.Point{X: 60, Y: 121}, Size: 2, Words: "漢"}})
		}},
		{"no shape", "item of 0 shapes", func(s *scene.Sheet, _ scene.Pen) {
			s.Layers[0].Items = append(s.Layers[0].Items, scene.Item{})
		}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := scenetest.Sample()
			c.spoil(&s, scene.NewPen(&s))
			if c.want == "no ID" {
				s.Layers = nil
			}
			faults := scenetest.Faults([]scene.Sheet{s})
			if len(faults) == 0 || !strings.Contains(strings.Join(faults, "\n"), c.want) {
				t.Errorf("faults = %q, want one with %q", faults, c.want)
			}
		})
	}
	a, b := scenetest.Sample(), scenetest.Sample()
	if faults := scenetest.IDs([]scene.Sheet{a, b}); len(faults) != 1 {
		t.Errorf("two sheets of one ID: %q", faults)
	}
}
