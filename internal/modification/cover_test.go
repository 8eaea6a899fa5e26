package modification

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/synth"
)

type chance struct{ t *rapid.T }

func (c chance) Intn(n int) int { return rapid.IntRange(0, n-1).Draw(c.t, "n") }

// Every choice of what to switch off is tried (a group by itself, or its whole station): none that lets all
// the work be done takes fewer signals out of service, counted as often as they go out.
func TestNoChoiceTakesFewerSignalsOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := synth.Site(synth.Size{Signals: rapid.IntRange(4, 16).Draw(t, "signals"), Places: 3, Candidates: 2, Plain: true}, synth.Balanced, chance{t})
		p.Basis.Construction = rapid.SampledFrom([]string{"rail", "slice"}).Draw(t, "construction")
		old, err := plan.Run(p, hardware.Builtin(), plan.Options{Steps: 300})
		if err != nil {
			t.Fatal(err)
		}
		q := *p
		q.Signals = slices.Clone(p.Signals)
		i := rapid.IntRange(0, len(q.Signals)-1).Draw(t, "at")
		q.Signals[i].Place = q.Places[rapid.IntRange(0, 2).Draw(t, "to")].ID
		if len(q.Signals) > 5 {
			q.Signals = slices.Delete(q.Signals, 0, rapid.IntRange(0, 2).Draw(t, "gone"))
		}
		now, err := plan.Run(&q, hardware.Builtin(), plan.Options{Steps: 300, Previous: old})
		if err != nil {
			t.Fatal(err)
		}
		m := Between(Input{Old: old, New: now})
		ours := 0
		for _, o := range m.Outages {
			ours += len(o.Signals)
		}
		s := lookAt(old, now)
		acts := s.actsOf(StateOf(old), StateOf(now))
		loadWhereSet(acts)
		if least := leastOut(s, acts); ours != least {
			t.Fatalf("%d signals go out, %d would do", ours, least)
		}
	})
}

// leastOut tries every set of groups and stations.
func leastOut(s *site, acts []act) int {
	var units []string
	add := func(u string) {
		if u != "" && !slices.Contains(units, u) {
			units = append(units, u)
		}
	}
	for _, a := range acts {
		add(a.unit)
		if kindOf(a.unit) == "group" {
			add("station:" + s.owner(idOf(a.unit)))
		}
	}
	if len(units) > 14 {
		units = units[:14] // never so many on sites this small; the comparison would fail if it mattered
	}
	best := 1 << 30
	for set := range 1 << len(units) {
		sum, covered := 0, true
		has := func(u string) bool { i := slices.Index(units, u); return i >= 0 && set>>i&1 == 1 }
		for _, a := range acts {
			covered = covered && (a.unit == "" || has(a.unit) || kindOf(a.unit) == "group" && has("station:"+s.owner(idOf(a.unit))))
		}
		if !covered {
			continue
		}
		for i, u := range units {
			if set>>i&1 == 1 {
				sum += len(s.off([]string{u}))
			}
		}
		best = min(best, sum)
	}
	return best
}
