package check_test

import (
	"flag"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/check"
	"railwright/internal/cite"
)

var update = flag.Bool("update", false, "write the generated part of docs/rules.md anew")

const page = "../../docs/rules.md"

// The page is made from the rules, so it cannot drift.
func TestPageShowsEveryRule(t *testing.T) {
	data, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	prose, have, _ := strings.Cut(string(data), check.ReferenceMark)
	if *update {
		if err := os.WriteFile(page, []byte(prose+check.Reference()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(check.Reference(), check.ReferenceMark+have); diff != "" {
		t.Errorf("the page differs from the rules; run go test ./internal/check -run TestPage -update\n%s", diff)
	}
}

// Every check that the trade asks for has a rule, every rule is asked for, and none stands twice.
func TestTraceIsComplete(t *testing.T) {
	known := map[string]bool{}
	for _, r := range check.All() {
		known[r.Code] = true
	}
	asked, lines := map[string]bool{}, map[string]bool{}
	for _, x := range check.Trace {
		if lines[x.About+x.Check] || x.Check == "" {
			t.Errorf("%q stands twice or is empty", x.Check)
		}
		lines[x.About+x.Check] = true
		if len(x.Rules) == 0 {
			t.Errorf("no rule checks %q", x.Check)
		}
		for _, code := range x.Rules {
			if !known[code] {
				t.Errorf("%q names %s, which is no rule", x.Check, code)
			}
			asked[code] = true
		}
	}
	for code := range known {
		if !asked[code] {
			t.Errorf("nothing asks for %s", code)
		}
	}
}

// Rules are filled in, their codes well formed and each given once, their sources registered.
func TestRulesAreWellFormed(t *testing.T) {
	code := regexp.MustCompile(`^[A-Z]{3}-[0-9]{3}$`)
	mends := []check.Mend{check.ByPlan, check.ByChoice, check.ByBasis, check.ByExpert}
	last := ""
	for _, r := range check.All() {
		if !code.MatchString(r.Code) || r.Code == last {
			t.Errorf("code %q", r.Code)
		}
		last = r.Code
		if r.Title == "" || r.Why == "" || r.Example == "" || !slices.Contains(mends, r.Mend) {
			t.Errorf("%s is not filled in: %+v", r.Code, r)
		}
		if strings.HasSuffix(r.Title, ".") || !strings.HasSuffix(r.Why, ".") || !strings.HasSuffix(r.Example, ".") {
			t.Errorf("%s: a title has no full stop, why and example have one", r.Code)
		}
		if _, err := cite.Lookup(r.Source); err != nil {
			t.Errorf("%s: %v", r.Code, err)
		}
	}
}

// What is safety-related is mended by nobody but a competent person and offers no change.
func TestSafetyIsLeftToPeople(t *testing.T) {
	for _, r := range check.All() {
		if family := r.Code[:3]; (family == "SAF" || family == "EXI" || family == "ZON") && r.Mend != check.ByExpert {
			t.Errorf("%s is mended by %s", r.Code, r.Mend)
		}
	}
}
