package modification_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/modification"
	"railwright/internal/plan"
	"railwright/internal/project"
	"railwright/internal/synth"
)

type drawn struct{ t *rapid.T }

func (d drawn) Intn(n int) int { return rapid.IntRange(0, n-1).Draw(d.t, "n") }

func planned(t rapid.TB, p *project.Project, previous *design.Design) *design.Design {
	d, err := plan.Run(p, hardware.Builtin(), plan.Options{Steps: 500, Previous: previous})
	if err != nil {
		t.Fatalf("plan: %v", err)
	}
	return d
}

// pair makes a site, plans it, changes its list and plans it again.
func pair(t *rapid.T) modification.Input {
	p := synth.Site(synth.Size{Signals: rapid.IntRange(4, 30).Draw(t, "signals"), Places: 4, Candidates: 3, Plain: true}, synth.Balanced, drawn{t})
	p.Basis.Construction = rapid.SampledFrom([]string{"rail", "slice", "block"}).Draw(t, "construction")
	p.Network.Topology = rapid.SampledFrom([]string{"star", "line", "ring"}).Draw(t, "topology")
	old := planned(t, p, nil)
	q := *p
	q.Signals = slices.Clone(p.Signals)
	for range rapid.IntRange(0, 5).Draw(t, "edits") {
		i := rapid.IntRange(0, len(q.Signals)-1).Draw(t, "at")
		switch rapid.SampledFrom([]string{"rename", "remove", "move", "add"}).Draw(t, "edit") {
		case "rename":
			q.Signals[i].Tag += "-N"
		case "remove":
			if len(q.Signals) > 1 {
				q.Signals = slices.Delete(q.Signals, i, i+1)
			}
		case "move":
			q.Signals[i].Place = q.Places[rapid.IntRange(0, len(q.Places)-1).Draw(t, "to")].ID
		case "add":
			s := q.Signals[i]
			s.ID, s.Tag, s.Device, s.RedundantWith = fmt.Sprintf("%s-X%d", s.ID, len(q.Signals)), s.Tag+fmt.Sprintf("-X%d", len(q.Signals)), s.Device+"X", nil
			q.Signals = append(q.Signals, s)
		}
	}
	keep := old
	if rapid.Bool().Draw(t, "planned from nothing") {
		keep = nil
	}
	return modification.Input{Old: old, New: planned(t, &q, keep), OldProject: p, NewProject: &q}
}

// Law: carried out step by step on the old design, the steps give the new one exactly; each unit is off
// once; work on what is installed is done only while its unit is off.
func TestStepByStepFromOldToNew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := pair(t)
		m := modification.Between(in)
		state, want := modification.StateOf(in.Old), modification.StateOf(in.New)
		for i, s := range m.Steps {
			if s.Number != i+1 {
				t.Fatalf("step %d has number %d", i+1, s.Number)
			}
			if err := state.Apply(s); err != nil {
				t.Fatal(err)
			}
		}
		if !state.Equal(want) {
			for _, k := range state.Differences(want) {
				t.Errorf("%s: %q, want %q", k, state[k], want[k])
			}
			t.Fatal("the steps do not give the new design")
		}
		once(t, m)
		back(t, in, m)
	})
}

func once(t *rapid.T, m *modification.Modification) {
	units := map[string]int{}
	for _, o := range m.Outages {
		units[o.Unit]++
	}
	for u, n := range units {
		if n != 1 {
			t.Fatalf("%s is off %d times", u, n)
		}
	}
}

// back: the way back is the other way round: it gives the old design again.
func back(t *rapid.T, in modification.Input, m *modification.Modification) {
	state := modification.StateOf(in.New)
	for _, s := range slices.Backward(m.Steps) {
		back := modification.Step{Number: s.Number, Kind: s.Kind}
		for _, c := range s.Changes {
			back.Changes = append(back.Changes, modification.Change{Key: c.Key, Before: c.After, After: c.Before})
		}
		if err := state.Apply(back); err != nil {
			t.Fatal(err)
		}
	}
	if !state.Equal(modification.StateOf(in.Old)) {
		t.Fatal("the steps backwards do not give the old design")
	}
}

func TestNothingToDo(t *testing.T) {
	p := synth.Site(synth.Size{Signals: 12, Places: 2, Candidates: 1, Plain: true}, synth.Balanced, synth.Seed(1))
	d := planned(t, p, nil)
	m := modification.Between(modification.Input{Old: d, New: d})
	if len(m.Steps)+len(m.Outages)+len(m.Signals)+len(m.Buy)+len(m.Free) != 0 {
		t.Errorf("a design against itself: %+v", m)
	}
}

// A rename takes nothing out of service.
func TestRenameTakesNothingOut(t *testing.T) {
	p := synth.Site(synth.Size{Signals: 12, Places: 2, Candidates: 1, Plain: true}, synth.Balanced, synth.Seed(1))
	old := planned(t, p, nil)
	renamed := copyOf(t, old)
	tag := "NEW-TAG"
	for _, sl := range renamed.Stations[0].Slots {
		for i := range sl.Channels {
			if sl.Channels[i].SignalID == p.Signals[0].ID {
				sl.Channels[i].Signal = &tag
			}
		}
	}
	m := modification.Between(modification.Input{Old: old, New: renamed})
	if len(m.Outages) != 0 || m.Peak != 0 || m.Cores != 0 {
		t.Errorf("outages %d, peak %d, cores %d", len(m.Outages), m.Peak, m.Cores)
	}
	kinds := map[modification.Kind]int{}
	for _, s := range m.Steps {
		kinds[s.Kind]++
	}
	if want := map[modification.Kind]int{modification.Mark: 1}; !maps.Equal(kinds, want) {
		t.Errorf("steps %v, want %v: %+v", kinds, want, m.Steps)
	}
}

func copyOf(t *testing.T, d *design.Design) *design.Design {
	data, err := design.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	c, err := design.Decode(data)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
