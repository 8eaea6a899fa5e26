package drawing

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/design"
	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
)

// stationOnly draws the stations' own sheets of a site.
func stationOnly(in Input) []scene.Sheet {
	b := newBook(in)
	for i := range in.Design.Stations {
		b.stationSheets(&in.Design.Stations[i])
	}
	return b.done()
}

func eachSite(t *testing.T, f func(t *testing.T, in Input)) {
	for _, name := range sortedKeys(sites) {
		t.Run(name, func(t *testing.T) { f(t, sites[name]()) })
	}
}

// The parts' widths on the rail add up to the rail that the planner stated, a second way to the figure.
func TestRackIsAsLongAsTheRail(t *testing.T) {
	eachSite(t, func(t *testing.T, in Input) {
		b := newBook(in)
		for i := range in.Design.Stations {
			st := &in.Design.Stations[i]
			if r := b.rackOf(st); math.Abs(r.length-float64(st.RailMM)) > 0.01 {
				t.Errorf("%s: parts of %v mm, rail of %d mm", st.ID, r.length, st.RailMM)
			}
		}
	})
}

// Every slot stands on the rail drawings once, to scale, in order, and none over another; each group has its
// load bar, and its infeed arrow once.
func TestRailToScale(t *testing.T) {
	eachSite(t, func(t *testing.T, in Input) {
		b := newBook(in)
		for i := range in.Design.Stations {
			st := &in.Design.Stations[i]
			nb := newBook(in)
			nb.railSheets(st)
			checkRail(t, b, st, nb.done())
		}
	})
}

func checkRail(t *testing.T, b *book, st *design.Station, sheets []scene.Sheet) {
	t.Helper()
	drawn := map[string][]scene.Rect{}
	scale := 0.0
	infeeds := map[string]int{}
	for k := range sheets {
		sheets[k].Each(func(layer string, i *scene.Item) {
			if layer == "infeeds" && i.Path != nil && i.Path.Closed && i.Role == "infeed point" {
				infeeds[i.Subject]++
			}
			if layer != "parts" || i.Path == nil || !i.Path.Closed || i.Role != "module" && i.Role != "coupler" {
				return
			}
			drawn[i.Subject] = append(drawn[i.Subject], i.Bounds())
			if i.Role == "coupler" {
				scale = i.Bounds().W / b.rackOf(st).parts[0].width
			}
		})
	}
	for k := range st.Slots {
		s := &st.Slots[k]
		at := drawn[slotSubject(st, s)]
		if len(at) != 1 {
			t.Errorf("%s slot %d is drawn %d times", st.ID, s.Slot, len(at))
			continue
		}
		if want := b.slotWidth(s) * scale; math.Abs(at[0].W-want) > 0.01 {
			t.Errorf("%s slot %d is %v mm wide on paper, want %v", st.ID, s.Slot, at[0].W, want)
		}
		if k == 0 {
			continue
		}
		if last := drawn[slotSubject(st, &st.Slots[k-1])]; len(last) == 1 && math.Abs(last[0].Right()-at[0].X) > 0.01 && at[0].X > last[0].X {
			t.Errorf("%s: slot %d begins at %v, its neighbour ends at %v", st.ID, s.Slot, at[0].X, last[0].Right())
		}
	}
	for _, g := range st.SupplyGroups {
		if infeeds["group:"+g.ID] != 1 {
			t.Errorf("%s: %d infeed arrows for %s", st.ID, infeeds["group:"+g.ID], g.ID)
		}
	}
}

// What stands on the enclosure's rails lies beside each other and on the rail; entries of the gland plate lie
// apart and inside it; nothing is forgotten.
func TestCabinet(t *testing.T) {
	eachSite(t, func(t *testing.T, in Input) {
		b := newBook(in)
		for i := range in.Design.Stations {
			st := &in.Design.Stations[i]
			c := b.cabinetOf(st)
			if c == nil {
				t.Errorf("%s has no enclosure", st.ID)
				continue
			}
			c.arrange()
			n := len(c.homeless)
			for _, r := range c.rows {
				end := 0.0
				for _, p := range r.parts {
					if p.from < end-0.01 || p.from+p.width > r.length+0.01 {
						t.Errorf("%s: %s lies from %v to %v on a rail of %v mm used to %v", st.ID, p.id, p.from, p.from+p.width, r.length, end)
					}
					end = p.from + p.width
				}
				n += len(r.parts)
			}
			if want := len(b.powerParts(st)) + 1; n != want {
				t.Errorf("%s: %d parts placed, want %d", st.ID, n, want)
			}
			if len(c.homeless) > 0 {
				t.Errorf("%s: no room for %v, though the planner chose the enclosure", st.ID, c.homeless)
			}
			checkGlands(t, st, c)
		}
	})
}

func checkGlands(t *testing.T, st *design.Station, c *cabinet) {
	t.Helper()
	for i, g := range c.glands {
		if g.off {
			continue
		}
		if h := g.pitch / 2; g.x-h < 0 || g.y-h < 0 || g.x+h > float64(c.box.Width) || g.y+h > float64(c.box.Depth) {
			t.Errorf("%s: the gland of %s leaves the plate", st.ID, g.cable.ID)
		}
		for _, o := range c.glands[:i] {
			if !o.off && math.Hypot(g.x-o.x, g.y-o.y) < (g.pitch+o.pitch)*0.42-0.01 {
				t.Errorf("%s: the glands of %s and %s touch", st.ID, g.cable.ID, o.cable.ID)
			}
		}
	}
}

// From lines and texts of the module drawings alone, by where they stand: which core of which cable lands on
// which terminal of which slot. It must be what the design says, each wire once.
func TestModuleConnectionsRebuilt(t *testing.T) {
	eachSite(t, rebuilt)
	t.Run("junction boxes", func(t *testing.T) { rebuilt(t, boxed(sites["one"]())) })
}

func rebuilt(t *testing.T, in Input) {
	var want []string
	for _, w := range in.Design.Wires {
		if e := endOf(w.To); e.kind == "station" && w.Signal != "" {
			want = append(want, fmt.Sprintf("%s slot %s terminal %s: %s core %s", e.owner, e.slot, e.terminal, w.Cable, w.Core))
		}
	}
	var got []string
	sheets := stationOnly(in)
	for i := range sheets {
		if sheets[i].Kind == "module" {
			got = append(got, rebuild(t, &sheets[i])...)
		}
	}
	sort.Strings(want)
	sort.Strings(got)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-design +drawing:\n%s", diff)
	}
}

// rebuild reads a module drawing. The station stands in the sheet's title, the slot in the module's head.
func rebuild(t *testing.T, s *scene.Sheet) []string {
	t.Helper()
	text := func(role string, near func(scene.Rect) bool) string {
		found := ""
		s.Text(func(layer string, i *scene.Item) {
			if layer == "drawing" && i.Role == role && near(i.Text.Bounds()) {
				if found != "" {
					t.Errorf("%s: both %q and %q stand there", s.ID, found, i.Text.Words)
				}
				found = i.Text.Words
			}
		})
		return found
	}
	whole := func(scene.Rect) bool { return true }
	slot := strings.TrimPrefix(text("slot", whole), "slot ")
	_, station, _ := strings.Cut(s.Title, "station ")
	station, _, _ = strings.Cut(station, " slot")
	var sheaths []scene.Rect
	var cables []*scene.Item
	s.Each(func(layer string, i *scene.Item) {
		switch {
		case layer == "drawing" && i.Path != nil && (i.Role == "sheath" || i.Role == "screen") && len(i.Path.Points) == 2 && i.Path.Points[0].X == i.Path.Points[1].X && i.Bounds().H > 1:
			sheaths = append(sheaths, i.Bounds())
		case layer == "drawing" && i.Text != nil && i.Role == "cable":
			cables = append(cables, i)
		}
	})
	var out []string
	s.Each(func(_ string, i *scene.Item) {
		if i.Role != "connection" || i.Path == nil || i.Path.Closed || i.Path.Stroke.Ink == scene.Accent {
			return
		}
		a := i.Path.Points[0]
		terminal := text("terminal", func(b scene.Rect) bool { return math.Abs(b.MidY()-a.Y) < 1.5 && b.Right() < a.X })
		core := text("core", func(b scene.Rect) bool { return b.Bottom() <= a.Y+0.1 && a.Y-b.Bottom() < 2 && b.X > a.X })
		out = append(out, fmt.Sprintf("%s slot %s terminal %s: %s core %s", station, slot, terminal, cableAt(a.Y, sheaths, cables), core))
	})
	return out
}

// cableAt is the name in the first row of the oval that a line runs through.
func cableAt(y float64, sheaths []scene.Rect, cables []*scene.Item) string {
	for _, s := range sheaths {
		if y < s.Y || y > s.Bottom() {
			continue
		}
		for _, c := range cables {
			if b := c.Text.Bounds(); b.Bottom() <= s.Y+1 && s.Y-b.Bottom() < 2 {
				return c.Text.Words
			}
		}
	}
	return ""
}

// Every picture of every step keeps the laws of sheets, and shows each slot.
func TestSteps(t *testing.T) {
	eachSite(t, func(t *testing.T, in Input) {
		for _, st := range in.Design.Stations {
			s := stepSheet(in, st.ID)
			scenetest.Check(t, []scene.Sheet{*s})
			shown := map[string]bool{}
			s.Each(func(layer string, i *scene.Item) {
				if layer == string(StageModules) && i.Path != nil {
					shown[i.Subject] = true
				}
			})
			for k := range st.Slots {
				if !shown[slotSubject(&st, &st.Slots[k])] {
					t.Errorf("%s slot %d is not in the picture of the modules", st.ID, st.Slots[k].Slot)
				}
			}
		}
	})
}
