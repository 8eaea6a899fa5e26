package merge

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestLines(t *testing.T) {
	base := "format = 1\n\n[project]\nname = \"Works\"\n\n[basis]\nspare = 20\n\n[[place]]\nid = \"P1\"\n"
	mine := strings.Replace(base, "Works", "Waterworks", 1)
	theirs := strings.Replace(base, "spare = 20", "spare = 25", 1) + "\n[[place]]\nid = \"P2\"\n"
	got, all, open, ok := Lines(base, mine, theirs, nil)
	want := strings.Replace(theirs, "Works", "Waterworks", 1)
	if diff := cmp.Diff(want, got); diff != "" || len(all) > 0 || open > 0 || !ok {
		t.Error(diff, all)
	}
	mine = strings.Replace(mine, "spare = 20", "spare = 30", 1)
	got, all, open, _ = Lines(base, mine, theirs, nil)
	if diff := cmp.Diff([]Conflict{{ID: "line 7", Base: "spare = 20\n", Mine: "spare = 30\n", Theirs: "spare = 25\n"}}, all); diff != "" || open != 1 || got != want {
		t.Error(diff, got)
	}
	got, _, open, _ = Lines(base, mine, theirs, func(Conflict) Side { return Mine })
	if diff := cmp.Diff(strings.Replace(want, "spare = 25", "spare = 30", 1), got); diff != "" || open != 0 {
		t.Error(diff)
	}
}

// TestLinesLaws: one side alone is taken, both alike too, sides may be swapped, and a result without
// conflicts holds every line that a side added.
func TestLinesLaws(t *testing.T) {
	text := rapid.Map(rapid.SliceOfN(rapid.SampledFrom([]string{"a\n", "b\n", "c\n", "d\n", "e\n"}), 0, 9), func(l []string) string { return strings.Join(l, "") })
	rapid.Check(t, func(t *rapid.T) {
		base, x, y := text.Draw(t, "base"), text.Draw(t, "x"), text.Draw(t, "y")+rapid.SampledFrom([]string{"", "end without newline"}).Draw(t, "end")
		for _, c := range [][3]string{{base, x, base}, {base, base, x}, {base, x, x}} {
			if got, all, _, ok := Lines(c[0], c[1], c[2], nil); got != x || len(all) > 0 || !ok {
				t.Errorf("%q: %q, %v", c, got, all)
			}
		}
		one, c1, _, _ := Lines(base, x, y, func(Conflict) Side { return Mine })
		two, c2, _, _ := Lines(base, y, x, func(Conflict) Side { return Theirs })
		if one != two || len(c1) != len(c2) {
			t.Errorf("%q and %q", one, two)
		}
		if len(c1) == 0 {
			for _, l := range append(split(x), split(y)...) {
				if !strings.Contains(base, l) && !strings.Contains(one, l) {
					t.Errorf("%q is lost in %q", l, one)
				}
			}
		}
	})
}

// TestDiff: what a difference tells, done to the first table, gives the second.
func TestDiff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := someTable(t, "from")
		to := edited(t, from, "to")
		have := byID(from)
		for _, d := range Diff(from, to) {
			if d.Removed {
				delete(have, d.ID)
				continue
			}
			if d.Added {
				have[d.ID] = map[string]string{}
			}
			for _, c := range d.Changes {
				if have[d.ID][c.Column] != c.From {
					t.Errorf("%s.%s was %q", d.ID, c.Column, have[d.ID][c.Column])
				}
				have[d.ID][c.Column] = c.To
				if c.To == "" {
					delete(have[d.ID], c.Column)
				}
			}
		}
		if diff := cmp.Diff(byID(to), have); diff != "" {
			t.Error(diff)
		}
	})
}
