package paper

import (
	"strings"
	"testing"

	"railwright/internal/scene"
)

func sample(size Size) Setting {
	return Setting{Size: size, Draft: true, Project: "Ødegård waterworks, extension of the northern filter house and its pumps", Controller: "PLC 1", Revision: "C", Date: "2026-03-01", Design: "1a2b3c4d"}
}

// TestOpen: on every format everything of the frame lies in the frame, each text in its box, and the free
// rectangle is clear of it.
func TestOpen(t *testing.T) {
	for _, size := range Sizes {
		for _, b := range []Block{
			{ID: "a", Title: "Loop PT-101 and a very long title that must be shortened somewhere because no cell is as wide as this", Chapter: "Loops", Drawing: true},
			{ID: "b", Title: "Signal list", Chapter: "Schedules"},
			{ID: "c", Title: "Wires", Chapter: "Schedules", Lying: true},
		} {
			s, free := Open(sample(size), b)
			sheets := []scene.Sheet{s}
			Finish(sample(size), sheets)
			if !free.Within(s.Frame) || free.W < 100 || free.H < 100 {
				t.Errorf("%s %s: free %v in frame %v", size, b.ID, free, s.Frame)
			}
			for _, it := range s.Layers[0].Items {
				if it.Text == nil {
					continue
				}
				box := it.Text.Bounds()
				switch {
				case it.Text.Words == "":
					t.Errorf("%s %s: empty text of %q", size, b.ID, it.Role)
				case !box.Within(s.Frame), !box.Within(*it.Text.Box):
					t.Errorf("%s %s: %q at %v leaves its box %v", size, b.ID, it.Text.Words, box, *it.Text.Box)
				case box.Overlaps(free):
					t.Errorf("%s %s: %q stands in the free space", size, b.ID, it.Text.Words)
				}
			}
		}
	}
}

func TestFinish(t *testing.T) {
	set := sample(A4)
	var sheets []scene.Sheet
	for _, b := range []Block{{ID: "x", Chapter: "One"}, {ID: "y", Chapter: "One"}, {ID: "z", Chapter: "Two", Number: "S-7"}} {
		s, _ := Open(set, b)
		p := pen{}
		p.text(RoleSheet, scene.Rect{X: 30, Y: 30, W: 20, H: 5}, scene.Text{At: scene.Point{X: 31, Y: 34}, Size: Small, Sheet: "z"})
		p.text(RoleSheet, scene.Rect{X: 30, Y: 40, W: 20, H: 5}, scene.Text{At: scene.Point{X: 31, Y: 44}, Size: Small, Sheet: "gone"})
		s.Layers = append(s.Layers, scene.Layer{Name: "body", Items: p.items})
		sheets = append(sheets, s)
	}
	Finish(set, sheets)
	var got []string
	for _, s := range sheets {
		for _, l := range s.Layers {
			for _, it := range l.Items {
				if it.Text != nil && (it.Role == RolePage || it.Role == RoleNumber || it.Role == RoleSheet) {
					got = append(got, it.Text.Words)
				}
			}
		}
	}
	want := "A1 page 1 of 3 S-7 – A2 page 2 of 3 S-7 – S-7 page 3 of 3 S-7 –"
	if s := strings.Join(got, " "); s != want {
		t.Errorf("got %q, want %q", s, want)
	}
	if l := letter(23) + letter(24); l != "ZAA" {
		t.Errorf("letters %q", l)
	}
}
