package scenetest

import (
	"fmt"
	"sort"
	"testing"

	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Check holds a pack of sheets to every law of this package and reports at most ten faults.
func Check(t testing.TB, sheets []scene.Sheet) {
	t.Helper()
	faults := Faults(sheets)
	for i, f := range faults {
		if i == 10 {
			t.Errorf("and %d more", len(faults)-10)
			break
		}
		t.Error(f)
	}
}

// Faults returns what Check would report.
func Faults(sheets []scene.Sheet) []string {
	out := IDs(sheets)
	out = append(out, References(sheets)...)
	for i := range sheets {
		s := &sheets[i]
		for _, law := range []func(*scene.Sheet) []string{OneShape, InFrame, InBox, Apart, Glyphs, Sizes} {
			for _, fault := range law(s) {
				out = append(out, fmt.Sprintf("sheet %s (%s): %s", s.ID, s.Number, fault))
			}
		}
	}
	return out
}

// IDs says which sheets have no ID or that of another.
func IDs(sheets []scene.Sheet) (faults []string) {
	seen := map[string]bool{}
	for _, s := range sheets {
		switch {
		case s.ID == "":
			faults = append(faults, fmt.Sprintf("sheet %q has no ID", s.Title))
		case seen[s.ID]:
			faults = append(faults, fmt.Sprintf("two sheets have the ID %q", s.ID))
		}
		seen[s.ID] = true
	}
	return faults
}

// References says which texts refer to a sheet that is not there.
func References(sheets []scene.Sheet) (faults []string) {
	there := map[string]bool{}
	for _, s := range sheets {
		there[s.ID] = true
	}
	for i := range sheets {
		sheets[i].Text(func(_ string, item *scene.Item) {
			if to := item.Text.Sheet; to != "" && !there[to] {
				faults = append(faults, fmt.Sprintf("sheet %s: %q refers to sheet %q, which is not there", sheets[i].ID, item.Text.Words, to))
			}
		})
	}
	return faults
}

// OneShape says which items are not exactly one shape, or a path of fewer than two points.
func OneShape(s *scene.Sheet) (faults []string) {
	s.Each(func(layer string, i *scene.Item) {
		n := 0
		for _, there := range []bool{i.Path != nil, i.Circle != nil, i.Arc != nil, i.Text != nil} {
			if there {
				n++
			}
		}
		if n != 1 {
			faults = append(faults, fmt.Sprintf("layer %s: an item of %d shapes (%s %s)", layer, n, i.Subject, i.Role))
		} else if i.Path != nil && len(i.Path.Points) < 2 {
			faults = append(faults, fmt.Sprintf("layer %s: a path of %d points (%s %s)", layer, len(i.Path.Points), i.Subject, i.Role))
		}
	})
	return faults
}

// InFrame says what leaves the sheet's frame.
func InFrame(s *scene.Sheet) (faults []string) {
	s.Each(func(layer string, i *scene.Item) {
		if b := i.Bounds(); !b.Within(s.Frame) {
			faults = append(faults, fmt.Sprintf("layer %s: %s at %s leaves the frame %s", layer, name(i), at(b), at(s.Frame)))
		}
	})
	return faults
}

// InBox says which texts leave the cell or symbol they belong in.
func InBox(s *scene.Sheet) (faults []string) {
	s.Text(func(layer string, i *scene.Item) {
		if i.Text.Box == nil {
			return
		}
		if b := i.Text.Bounds(); !b.Within(*i.Text.Box) {
			faults = append(faults, fmt.Sprintf("layer %s: %s at %s leaves its box %s", layer, name(i), at(b), at(*i.Text.Box)))
		}
	})
	return faults
}

// Apart says which texts lie over each other.
func Apart(s *scene.Sheet) (faults []string) {
	type placed struct {
		item *scene.Item
		box  scene.Rect
	}
	var all []placed
	s.Text(func(_ string, i *scene.Item) { all = append(all, placed{i, i.Text.Bounds()}) })
	sort.SliceStable(all, func(a, b int) bool { return all[a].box.Y < all[b].box.Y })
	for a := range all {
		for b := a + 1; b < len(all) && all[b].box.Y < all[a].box.Bottom(); b++ {
			if all[a].box.Overlaps(all[b].box) {
				faults = append(faults, fmt.Sprintf("%s at %s lies over %s at %s", name(all[a].item), at(all[a].box), name(all[b].item), at(all[b].box)))
			}
		}
	}
	return faults
}

// Glyphs says which texts hold signs that some font lacks, or none at all.
func Glyphs(s *scene.Sheet) (faults []string) {
	s.Text(func(layer string, i *scene.Item) {
		if missing := typeface.Missing(i.Text.Words); len(missing) > 0 || i.Text.Words == "" {
			faults = append(faults, fmt.Sprintf("layer %s: %s lacks glyphs for %q", layer, name(i), string(missing)))
		}
	})
	return faults
}

// LeastText is the smallest text of any sheet, mm: the least lettering height of ISO 3098-1 (1.8 mm,
// taken as the em height), less what rounding a size takes.
const LeastText = 1.79

// Sizes says which texts are too small to read and which are turned as no writer can.
func Sizes(s *scene.Sheet) (faults []string) {
	s.Text(func(layer string, i *scene.Item) {
		if i.Text.Size < LeastText {
			faults = append(faults, fmt.Sprintf("layer %s: %s is only %.2f mm high", layer, name(i), i.Text.Size))
		}
		if i.Text.Turn != 0 && i.Text.Turn != -90 {
			faults = append(faults, fmt.Sprintf("layer %s: %s is turned by %v degrees", layer, name(i), i.Text.Turn))
		}
	})
	return faults
}

func name(i *scene.Item) string {
	if i.Text != nil {
		return fmt.Sprintf("text %q", i.Text.Words)
	}
	return fmt.Sprintf("shape of %q %q", i.Subject, i.Role)
}

func at(r scene.Rect) string {
	return fmt.Sprintf("(%.1f, %.1f, %.1f x %.1f)", r.X, r.Y, r.W, r.H)
}
