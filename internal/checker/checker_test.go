package checker

import (
	"os"
	"testing"

	"railwright/internal/checker/corrupt"
)

func valid(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// The designs in testdata were worked out apart from this package (own arithmetic from
// docs/plan-rules.md; the bound by trying every subset of bundles).
func TestValidDesigns(t *testing.T) {
	for _, convention := range []string{"byte", "word"} {
		t.Run(convention, func(t *testing.T) {
			p := fixtureProject()
			p.Basis.Address.Convention = convention
			for _, v := range Check(p, fixtureHardware(), valid(t, "two-stations-"+convention+".json"), Options{}) {
				t.Error(v)
			}
		})
	}
}

// Each seeded corruption of a valid design is noticed, by one of the laws that it breaks.
func TestCorruptions(t *testing.T) {
	if n := len(corrupt.All()); n < 40 {
		t.Fatalf("%d corruptions, want 40 at least", n)
	}
	for _, convention := range []string{"byte", "word"} {
		p, hw := fixtureProject(), fixtureHardware()
		p.Basis.Address.Convention = convention
		design := valid(t, "two-stations-"+convention+".json")
		for seed := range int64(2) {
			missed, skipped, err := corrupt.Missed(design, seed*1000, func(spoiled []byte) map[string]bool {
				laws := map[string]bool{}
				for _, v := range Check(p, hw, spoiled, Options{}) {
					laws[v.Law] = true
				}
				return laws
			})
			if err != nil || len(missed) > 0 || len(skipped) > 0 {
				t.Errorf("%s, seed %d: missed %q, no spot for %q, %v", convention, seed, missed, skipped, err)
			}
		}
	}
}
