package plan_test

import (
	"bytes"
	"errors"
	"fmt"
	"runtime"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/checker"
	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/project"
	"railwright/internal/synth"
)

// drawn lets a property test choose, and shrink, what a made-up site is made of.
type drawn struct{ t *rapid.T }

func (d drawn) Intn(n int) int { return rapid.IntRange(0, n-1).Draw(d.t, "n") }

// site draws a small project in one of the constructions.
func site(t *rapid.T) *project.Project {
	places := rapid.IntRange(1, 5).Draw(t, "places")
	p := synth.Site(synth.Size{
		Signals: rapid.IntRange(1, 30).Draw(t, "signals"), Places: places, Candidates: rapid.IntRange(1, places).Draw(t, "candidates"),
	}, synth.Balanced, drawn{t})
	p.Basis.Construction = rapid.SampledFrom([]string{"rail", "slice", "block"}).Draw(t, "construction")
	p.Network.Topology = rapid.SampledFrom([]string{"star", "line", "ring", "tree"}).Draw(t, "topology")
	p.Basis.Redundancy = rapid.SampledFrom([]project.Level{project.LevelModule, project.LevelGroup, project.LevelStation}).Draw(t, "redundancy")
	p.Basis.Address.Convention = rapid.SampledFrom([]string{"byte", "word"}).Draw(t, "convention")
	p.Basis.Group.SplitInOut = rapid.Bool().Draw(t, "split in out")
	p.Basis.Group.SplitAnalogue = rapid.Bool().Draw(t, "split analogue")
	return p
}

func mustPlan(t rapid.TB, p *project.Project, opt plan.Options) (*design.Design, []byte) {
	d, err := plan.Run(p, hardware.Builtin(), opt)
	if err != nil {
		t.Fatalf("plan: %v", err)
	}
	data, err := design.Encode(d)
	if err != nil {
		t.Fatalf("encode: %v", err)
	}
	return d, data
}

// Laws: the independent checker finds nothing against any plan of a made-up site.
func TestEveryPlanKeepsTheLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := site(t)
		_, data := mustPlan(t, p, plan.Options{Steps: 2000})
		if bad := checker.Check(p, hardware.Builtin(), data, checker.Options{}); len(bad) > 0 {
			for _, b := range bad[:min(len(bad), 25)] {
				t.Log(b)
			}
			t.Fatalf("%d violations", len(bad))
		}
	})
}

// Law: shuffling rows changes nothing; one core gives the bytes of many.
func TestOrderAndCoresChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := site(t)
		_, want := mustPlan(t, p, plan.Options{Steps: 2000})
		shuffled := *p
		shuffled.Signals = rapid.Permutation(p.Signals).Draw(t, "signals")
		shuffled.Places = rapid.Permutation(p.Places).Draw(t, "places")
		shuffled.Routes = rapid.Permutation(p.Routes).Draw(t, "routes")
		cores := runtime.GOMAXPROCS(1)
		_, got := mustPlan(t, &shuffled, plan.Options{Steps: 2000})
		runtime.GOMAXPROCS(cores)
		if !bytes.Equal(got, want) {
			t.Fatalf("shuffled rows on one core give another design: %s", firstDifference(want, got))
		}
	})
}

func firstDifference(a, b []byte) string {
	la, lb := bytes.Split(a, []byte("\n")), bytes.Split(b, []byte("\n"))
	for i := range min(len(la), len(lb)) {
		if !bytes.Equal(la[i], lb[i]) {
			return fmt.Sprintf("line %d: %q, %q", i+1, la[i], lb[i])
		}
	}
	return "length"
}

// Law: fixed decisions are untouched by a new plan. A design is fixed whole, signals are added, and
// every fixed slot, channel and module is where it was.
func TestFixedDecisionsStay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := site(t)
		d, _ := mustPlan(t, p, plan.Options{Steps: 2000})
		next := *p
		next.Choices = append([]project.Decision{}, fix(d)...)
		more := synth.Site(synth.Size{Signals: rapid.IntRange(1, 4).Draw(t, "more"), Places: 1, Candidates: 1}, synth.Balanced, drawn{t})
		next.Signals = append([]project.Signal{}, p.Signals...)
		for _, s := range more.Signals {
			s.ID, s.Tag, s.Device = "N-"+s.ID, "N-"+s.Tag, "N-"+s.Device
			for i := range s.RedundantWith {
				s.RedundantWith[i] = "N-" + s.RedundantWith[i]
			}
			next.Signals = append(next.Signals, s)
		}
		after, err := plan.Run(&next, hardware.Builtin(), plan.Options{Steps: 2000, Previous: d})
		var none *plan.Impossible
		if errors.As(err, &none) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		for where, signal := range seats(d) {
			if got := seats(after)[where]; got != signal && !after.Findings.HasErrors() {
				t.Fatalf("%s held %q and now holds %q, and no finding says so", where, signal, got)
			}
		}
	})
}

// fix turns a design into fixed decisions.
func fix(d *design.Design) []project.Decision {
	var out []project.Decision
	add := func(subject, property, value string) {
		out = append(out, project.Decision{Subject: subject, Property: property, Value: value, Strength: project.Fixed, Origin: project.FromHand})
	}
	for _, s := range d.Stations {
		add("station:"+s.ID, "place", s.Place)
		add("station:"+s.ID, "coupler", s.Coupler)
		for _, sl := range s.Slots {
			add("station:"+s.ID, fmt.Sprintf("slot.%d", sl.Slot), sl.Module)
			if sl.Infeed {
				add("station:"+s.ID, fmt.Sprintf("infeed.%d", sl.Slot), "yes")
			}
			for _, c := range sl.Channels {
				if c.Signal != nil {
					add("signal:"+c.SignalID, "channel", fmt.Sprintf("%s/%d/%d", s.ID, sl.Slot, c.Channel))
				}
			}
		}
	}
	return out
}

// seats lists what every used channel and every slot holds.
func seats(d *design.Design) map[string]string {
	out := map[string]string{}
	for _, s := range d.Stations {
		for _, sl := range s.Slots {
			out[fmt.Sprintf("%s/%d", s.ID, sl.Slot)] = sl.Module
			for _, c := range sl.Channels {
				if c.Signal != nil {
					out[fmt.Sprintf("%s/%d/%s/%d", s.ID, sl.Slot, c.Kind, c.Channel)] = c.SignalID
				}
			}
		}
	}
	return out
}
