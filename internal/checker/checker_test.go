package checker

import (
	"os"
	"testing"
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
