package cite_test

import (
	"regexp"
	"testing"

	"railwright/internal/cite"
)

func TestLookupTakesKeyAndRow(t *testing.T) {
	for _, ref := range []string{"iec-60228", "iec-60228#table-3", "common-practice", "from-memory#x"} {
		if _, err := cite.Lookup(ref); err != nil {
			t.Errorf("Lookup(%q): %v", ref, err)
		}
	}
	for _, ref := range []string{"", "#row", "iec-0", "iec-60228 "} {
		if s, err := cite.Lookup(ref); err == nil {
			t.Errorf("Lookup(%q) = %+v, want an error", ref, s)
		}
	}
}

func TestSourcesAreWellFormed(t *testing.T) {
	key := regexp.MustCompile(`^[a-z0-9][a-z0-9.-]*$`)
	last := cite.Key("")
	for _, s := range cite.All() {
		if !key.MatchString(string(s.Key)) || s.Title == "" {
			t.Errorf("bad entry %+v", s)
		}
		if s.Key <= last {
			t.Errorf("%q does not stand after %q", s.Key, last)
		}
		last = s.Key
	}
}
