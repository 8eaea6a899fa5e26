package plan_test

import (
	"bytes"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"railwright/internal/checker"
	"railwright/internal/checker/corrupt"
	"railwright/internal/demo"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/project"
)

// example reads the example project, with another construction.
func example(t testing.TB, construction string) *project.Project {
	files := folder.Files{}
	for _, f := range demo.Files() {
		files[f.Name] = f.Data
	}
	read := folder.Parse(files)
	if read.Findings.HasErrors() {
		t.Fatal(read.Findings)
	}
	p := *read.Project
	p.Basis.Construction = construction
	return &p
}

// The laws hold on the example in every construction: nothing unplaced, no error finding, nothing that
// the independent checker says, the gap within 3 % (built-in construction rail) and within 5 % with the
// labour of a station halved.
func TestExampleInEveryConstruction(t *testing.T) {
	for _, c := range []struct {
		construction string
		station      int64 // labour of a station, per cent of the basis's
		gap          float64
	}{{"rail", 100, 0.03}, {"rail", 50, 0.05}, {"slice", 100, 0.05}, {"block", 100, 0.05}} {
		p := example(t, c.construction)
		p.Basis.Prices.StationMount = p.Basis.Prices.StationMount * c.station / 100
		d, data := mustPlan(t, p, plan.Options{})
		if len(d.Unplaced) > 0 || d.Findings.HasErrors() {
			t.Errorf("%s: %d unplaced, errors: %v", c.construction, len(d.Unplaced), d.Findings[:min(3, len(d.Findings))])
		}
		if d.Siting.Gap > c.gap {
			t.Errorf("%s with a station's labour at %d %%: gap %.2f %%", c.construction, c.station, 100*d.Siting.Gap)
		}
		for i, bad := range checker.Check(p, hardware.Builtin(), data, checker.Options{}) {
			if i < 5 {
				t.Errorf("%s: %s", c.construction, bad)
			}
		}
	}
}

// Same input twice, shuffled and on one core: the same bytes.
func TestExampleIsTheSameInAnyOrder(t *testing.T) {
	p := example(t, "rail")
	_, want := mustPlan(t, p, plan.Options{Steps: 5000})
	q := *p
	r := rand.New(rand.NewPCG(1, 2))
	q.Signals = append([]project.Signal{}, p.Signals...)
	r.Shuffle(len(q.Signals), func(i, j int) { q.Signals[i], q.Signals[j] = q.Signals[j], q.Signals[i] })
	q.Places = append([]project.Place{}, p.Places...)
	r.Shuffle(len(q.Places), func(i, j int) { q.Places[i], q.Places[j] = q.Places[j], q.Places[i] })
	q.Routes = append([]project.Route{}, p.Routes...)
	r.Shuffle(len(q.Routes), func(i, j int) { q.Routes[i], q.Routes[j] = q.Routes[j], q.Routes[i] })
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	_, got := mustPlan(t, &q, plan.Options{Steps: 5000})
	if !bytes.Equal(got, want) {
		t.Fatal(firstDifference(want, got))
	}
}

// The checker catches every corruption of the example's design that finds a spot in it.
func TestCheckerCatchesCorruptions(t *testing.T) {
	p := example(t, "rail")
	_, data := mustPlan(t, p, plan.Options{Steps: 5000})
	if bad := checker.Check(p, hardware.Builtin(), data, checker.Options{}); len(bad) > 0 {
		t.Fatalf("the design itself: %s", bad[0])
	}
	tried := 0
	missed, skipped, err := corrupt.Missed(data, 1, func(spoiled []byte) map[string]bool {
		tried++
		laws := map[string]bool{}
		// the bound is slow to evaluate and is looked at only where nothing else speaks
		for _, v := range checker.Check(p, hardware.Builtin(), spoiled, checker.Options{NoCertificate: true}) {
			laws[v.Law] = true
		}
		if len(laws) == 0 {
			for _, v := range checker.Check(p, hardware.Builtin(), spoiled, checker.Options{}) {
				laws[v.Law] = true
			}
		}
		return laws
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(missed) > 0 || tried < 30 {
		t.Fatalf("%d corruptions tried, missed: %s", tried, strings.Join(missed, ", "))
	}
	t.Logf("%d corruptions caught, %d found no spot: %s", tried, len(skipped), strings.Join(skipped, ", "))
}
