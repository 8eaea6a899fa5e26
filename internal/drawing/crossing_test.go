package drawing

import (
	"fmt"
	"testing"

	"railwright/internal/scene"
)

// conductors are the roles of lines that stand for conductors.
var conductors = map[string]bool{"wire": true, "lead": true, "bus": true, "node": true, "line": true, "bond": true, "network cable": true, "link": true}

type stroke struct {
	a, b scene.Point
	what string
}

func strokes(s *scene.Sheet) (across, down []stroke) {
	s.Each(func(layer string, i *scene.Item) {
		if layer == "legend" || i.Path == nil || !conductors[i.Role] || i.Path.Closed {
			return
		}
		for k := 1; k < len(i.Path.Points); k++ {
			a, b := i.Path.Points[k-1], i.Path.Points[k]
			if a.X > b.X || a.Y > b.Y {
				a, b = b, a
			}
			t := stroke{a, b, i.Subject + " " + i.Role}
			switch {
			case a.Y == b.Y && a.X < b.X:
				across = append(across, t)
			case a.X == b.X && a.Y < b.Y:
				down = append(down, t)
			}
		}
	})
	return across, down
}

// TestNoCrossing: on loop diagrams, supplies, mains, earthing and network no two conductors cross: lines meet
// at their ends or not at all.
func TestNoCrossing(t *testing.T) {
	kinds := map[string]bool{"loop": true, "power": true, "power-site": true, "earthing": true, "earthing-site": true, "network": true}
	check := func(name string, sheets []scene.Sheet) {
		var faults []string
		for i := range sheets {
			if !kinds[sheets[i].Kind] {
				continue
			}
			const e = 0.01
			across, down := strokes(&sheets[i])
			for _, h := range across {
				for _, v := range down {
					if v.a.X > h.a.X+e && v.a.X < h.b.X-e && h.a.Y > v.a.Y+e && h.a.Y < v.b.Y-e {
						faults = append(faults, fmt.Sprintf("%s, sheet %s: %s crosses %s at (%.1f, %.1f)", name, sheets[i].ID, h.what, v.what, v.a.X, h.a.Y))
					}
				}
			}
		}
		report(t, faults)
	}
	for _, name := range sortedKeys(sites) {
		check(name, packs[name]())
	}
	for _, topology := range []string{"line", "ring", "tree"} {
		b := newBook(wired(sites["rail"](), topology))
		b.network()
		check(topology, b.done())
	}
}

// TestEveryCable: each field cable, multicore, network cable and feeder of the design is named on a drawing
// of its own kind: loop, network, supplies.
func TestEveryCable(t *testing.T) {
	kind := map[string]string{"field": "loop", "multicore": "loop", "network": "network", "supply": "power-site"}
	for _, name := range []string{"rail", "one"} {
		in := sites[name]()
		named := map[string]bool{}
		sheets := packs[name]()
		for i := range sheets {
			sheets[i].Text(func(_ string, item *scene.Item) {
				if item.Role == "cable" {
					named[sheets[i].Kind+" "+item.Subject] = true
				}
			})
		}
		for _, c := range in.Design.Cables {
			if !named[kind[c.Use]+" cable:"+c.ID] {
				t.Errorf("%s: %s cable %s stands on no %s sheet", name, c.Use, c.ID, kind[c.Use])
			}
		}
	}
}

// TestRoutesClear: on the site plan no route runs through the box of a place that it does not lead to.
func TestRoutesClear(t *testing.T) {
	for _, name := range sortedKeys(sites) {
		sheets := packs[name]()
		for i := range sheets {
			if sheets[i].Kind != "site" {
				continue
			}
			boxes, lines := map[string]scene.Rect{}, map[string][]scene.Point{}
			sheets[i].Each(func(layer string, item *scene.Item) {
				switch {
				case item.Path != nil && item.Role == "place":
					boxes[item.Subject] = item.Bounds()
				case item.Path != nil && item.Role == "route":
					lines[item.Subject] = item.Path.Points
				}
			})
			for route, line := range lines {
				for place, box := range boxes {
					// A line is walked in short steps: a second way to what the drawing solves by algebra.
					for k := 1; k < len(line); k++ {
						for s := range 200 {
							f := float64(s) / 199
							x, y := line[k-1].X+(line[k].X-line[k-1].X)*f, line[k-1].Y+(line[k].Y-line[k-1].Y)*f
							if in := box.Inset(0.5); x > in.X && x < in.Right() && y > in.Y && y < in.Bottom() {
								t.Fatalf("%s: %s runs through %s at (%.1f, %.1f)", name, route, place, x, y)
							}
						}
					}
				}
			}
		}
	}
}
