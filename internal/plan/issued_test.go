package plan_test

import (
	"testing"

	"railwright/internal/design"
	"railwright/internal/plan"
	"railwright/internal/project"
	"railwright/internal/synth"
)

// A row keeps its revision until what it states changes; new rows bear the revision at which they came.
func TestRowsKeepTheirRevision(t *testing.T) {
	p := synth.Site(synth.Size{Signals: 6, Places: 2, Candidates: 1}, synth.Balanced, synth.Seed(3))
	p.Revision = "A"
	first, _ := mustPlan(t, p, plan.Options{Steps: 500})
	check := func(name string, d *design.Design, want map[string]string) {
		t.Helper()
		for _, r := range d.Issued {
			w := "A"
			if v, ok := want[r.Signal]; ok {
				w = v
			}
			if r.Revision != w {
				t.Errorf("%s: row %s is of revision %q, want %q", name, r.Signal, r.Revision, w)
			}
		}
	}
	check("first", first, nil)
	if len(first.Issued) != len(p.Signals) {
		t.Fatalf("%d rows for %d signals", len(first.Issued), len(p.Signals))
	}

	next := *p
	next.Revision = "B"
	next.Signals = append([]project.Signal{}, p.Signals...)
	changed := next.Signals[2].ID
	next.Signals[2].Hold = "range to be confirmed"
	added := next.Signals[0]
	added.ID, added.Tag, added.Device, added.RedundantWith = "new", "NEW-1", "NEW-1", nil
	next.Signals = append(next.Signals, added)
	second, _ := mustPlan(t, &next, plan.Options{Steps: 500, Previous: first})
	check("second", second, map[string]string{changed: "B", "new": "B"})

	next.Revision = "C"
	third, _ := mustPlan(t, &next, plan.Options{Steps: 500, Previous: second})
	check("third", third, map[string]string{changed: "B", "new": "B"})
}
