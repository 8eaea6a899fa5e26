package drawing

import (
	"flag"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/plan"
	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
	"railwright/internal/synth"
)

// wiresOnce says which wires of a design are not drawn exactly once as a line, and which lines are no wire.
func wiresOnce(d *design.Design, sheets []scene.Sheet) (faults []string) {
	drawn := map[string][]string{}
	for i := range sheets {
		sheets[i].Each(func(_ string, item *scene.Item) {
			if item.Path != nil && item.Role == "wire" {
				drawn[item.Subject] = append(drawn[item.Subject], sheets[i].ID)
			}
		})
	}
	for _, w := range d.Wires {
		if on := drawn["wire:"+w.ID]; len(on) != 1 {
			faults = append(faults, fmt.Sprintf("wire %s (%s to %s) is drawn on %q", w.ID, w.From, w.To, on))
		}
		delete(drawn, "wire:"+w.ID)
	}
	for _, id := range sortedKeys(drawn) {
		faults = append(faults, fmt.Sprintf("%s is no wire of the design", id))
	}
	return faults
}

// answered says which references from one part of a drawing to the next are not answered from there.
func answered(sheets []scene.Sheet) (faults []string) {
	refers := map[string]map[string]bool{}
	for i := range sheets {
		refers[sheets[i].ID] = map[string]bool{}
		sheets[i].Text(func(_ string, item *scene.Item) {
			if item.Role == paper.RoleSheet {
				refers[sheets[i].ID][item.Text.Sheet] = true
			}
		})
	}
	for id := range refers {
		subject, n, ok := strings.Cut(id, "#")
		if !ok {
			continue
		}
		k := 0
		fmt.Sscan(n, &k)
		before := more(subject, k-1)
		if !refers[id][before] && !strings.HasPrefix(id, "site#") {
			faults = append(faults, fmt.Sprintf("sheet %s does not refer back to %s", id, before))
		}
		if refers[before] == nil {
			faults = append(faults, fmt.Sprintf("sheet %s goes on from %s, which is not there", id, before))
		} else if !refers[before][id] && !strings.HasPrefix(id, "site#") {
			faults = append(faults, fmt.Sprintf("sheet %s does not refer on to %s", before, id))
		}
	}
	return faults
}

func report(t interface {
	Helper()
	Errorf(string, ...any)
}, faults []string,
) {
	t.Helper()
	for i, f := range faults {
		if i == 8 {
			t.Errorf("and %d more", len(faults)-8)
			return
		}
		t.Errorf("%s", f)
	}
}

// TestWholePacks: on every site each wire of the design is drawn exactly once, and each sheet that goes on
// elsewhere and its partner name each other.
func TestWholePacks(t *testing.T) {
	for _, name := range sortedKeys(sites) {
		t.Run(name, func(t *testing.T) {
			in := sites[name]()
			sheets := packs[name]()
			report(t, wiresOnce(in.Design, sheets))
			report(t, answered(sheets))
		})
	}
	t.Run("junction boxes", func(t *testing.T) {
		in := boxed(sites["one"]())
		report(t, wiresOnce(in.Design, pack(in)))
	})
}

// TestMadeUpSites: the laws of sheets, wires drawn once and answered references hold on made-up sites of
// every construction, with one place or many, on every paper.
func TestMadeUpSites(t *testing.T) {
	few(t, 25)
	rapid.Check(t, func(rt *rapid.T) {
		size := synth.Size{
			Signals: rapid.IntRange(1, 60).Draw(rt, "signals"), Places: rapid.IntRange(1, 40).Draw(rt, "places"),
			Candidates: rapid.IntRange(1, 3).Draw(rt, "candidates"), Stations: 1, Plain: true,
		}
		p := synth.Site(size, synth.Balanced, drawn{rt})
		p.Basis.Construction = rapid.SampledFrom([]string{"rail", "slice", "block"}).Draw(rt, "construction")
		p.Network.Topology = rapid.SampledFrom([]string{"star", "line", "ring", "tree"}).Draw(rt, "topology")
		d, err := plan.Run(p, hardware.Builtin(), plan.Options{Steps: 30})
		if err != nil {
			rt.Fatal(err)
		}
		in := Input{Design: d, Project: p, List: hardware.Builtin(), Setting: paper.Setting{
			Size: rapid.SampledFrom(paper.Sizes).Draw(rt, "paper"), Wire: rapid.SampledFrom([]string{paper.MM2, paper.AWG}).Draw(rt, "wire"), Project: p.Name, Draft: true, Revision: "0", Controller: "C1",
		}}
		sheets := pack(in)
		report(rt, scenetest.Faults(sheets))
		report(rt, wiresOnce(d, sheets))
		report(rt, answered(sheets))
	})
}

// few keeps a test short that plans a site for each case; -rapid.checks asks for more.
func few(t *testing.T, checks int) {
	f := flag.Lookup("rapid.checks")
	if f == nil || f.Value.String() != f.DefValue {
		return
	}
	if err := f.Value.Set(fmt.Sprint(checks)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Value.Set(f.DefValue) })
}

// drawn lets rapid choose what a site is made of.
type drawn struct{ t *rapid.T }

func (d drawn) Intn(n int) int { return rapid.IntRange(0, n-1).Draw(d.t, "") }

// TestStable: only what changes moves. With one more signal on the last station every loop diagram of the
// other stations is the same to the byte, and on the other loops of that station every line stands where it
// stood.
func TestStable(t *testing.T) {
	in := sites["rail"]()
	p := *in.Project
	var like project.Signal
	for _, s := range p.Signals {
		if s.Place == "SLU" && s.Kind == project.DI && s.Form == "contact" {
			like = s
		}
	}
	like.ID, like.Tag, like.Device, like.RedundantWith = "SLU-ZZ-1", "SLU-ZZ-1", "SLU-ZZ-1", nil
	p.Signals = append(p.Signals[:len(p.Signals):len(p.Signals)], like)
	other := planned(&p)
	before, after := All(in), All(other)
	there := map[string]*scene.Sheet{}
	for i := range after {
		there[after[i].ID] = &after[i]
	}
	home := map[string]string{}
	for id, sheet := range LoopSheets(in) {
		home[sheet] += newIndex(in).spots[id].station.ID + " "
	}
	same := 0
	for i := range before {
		s := &before[i]
		if s.Kind != "loop" || strings.Contains(home[s.ID], "SLU-S1") {
			continue
		}
		if !reflect.DeepEqual(there[s.ID], s) {
			t.Errorf("sheet %s of %s changed", s.ID, home[s.ID])
			continue
		}
		same++
	}
	if same < 100 {
		t.Errorf("only %d loops were compared", same)
	}
	for id, n := range moved(before, after) {
		if n > 0 {
			t.Errorf("%s: %d lines stand elsewhere", id, n)
		}
	}
}

// moved counts, for each loop on both sides, the lines that stand elsewhere on the other.
func moved(before, after []scene.Sheet) map[string]int {
	there := map[string]*scene.Sheet{}
	for i := range after {
		there[after[i].ID] = &after[i]
	}
	out := map[string]int{}
	for i := range before {
		s := &before[i]
		if o := there[s.ID]; s.Kind == "loop" && o != nil && !reflect.DeepEqual(o, s) {
			want := lines(o)
			for at, n := range lines(s) {
				out[s.ID] += max(n-want[at], 0)
			}
		}
	}
	return out
}

// lines counts the shapes of a sheet by where they stand.
func lines(s *scene.Sheet) map[scene.Rect]int {
	out := map[scene.Rect]int{}
	s.Each(func(_ string, i *scene.Item) {
		if i.Text == nil {
			out[i.Bounds()]++
		}
	})
	return out
}

// TestAlwaysTheSame: two runs draw the same sheets.
func TestAlwaysTheSame(t *testing.T) {
	in := sites["rail"]()
	one, two := All(in), All(in)
	if len(one) != len(two) {
		t.Fatalf("%d and %d sheets", len(one), len(two))
	}
	for i := range one {
		if !reflect.DeepEqual(one[i], two[i]) {
			t.Fatalf("sheet %s differs between two runs", one[i].ID)
		}
	}
}

// TestGolden keeps one sheet of each kind as scene and picture.
func TestGolden(t *testing.T) {
	seen := map[string]bool{}
	sheets := pack(goldenSite())
	for i := range sheets {
		s := &sheets[i]
		if ours[s.Kind] && !seen[s.Kind] {
			seen[s.Kind] = true
			scenetest.Golden(t, s.Kind, s)
		}
	}
	for _, kind := range sortedKeys(ours) {
		if !seen[kind] {
			t.Errorf("no sheet of kind %s", kind)
		}
	}
}

// ours are the kinds of sheets whose pictures are kept here.
var ours = map[string]bool{"site": true, "charts": true, "power-site": true, "power": true, "earthing-site": true, "earthing": true, "network": true, "loop": true}

// TestSpeed: all drawings of the example within 3 s, on a machine that has other work to do.
func TestSpeed(t *testing.T) {
	in := sites["rail"]()
	start := time.Now()
	sheets := All(in)
	if took := time.Since(start); took > 3*time.Second {
		t.Errorf("%d sheets took %v, want at most 3 s", len(sheets), took)
	}
}

// BenchmarkExample draws the example.
func BenchmarkExample(b *testing.B) {
	in := sites["rail"]()
	for b.Loop() {
		All(in)
	}
}
