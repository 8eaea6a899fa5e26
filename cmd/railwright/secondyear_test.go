package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/modification"
)

// The example's second year, as docs/second-year.md tells it: the work order is the sample of the docs, and
// holds what was changed.
func TestSecondYear(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "works")
	call := func(args ...string) []byte {
		t.Helper()
		var out, errs bytes.Buffer
		if code := run(t.Context(), args, terminal{out: &out, err: &errs, width: 80}); code != 0 {
			t.Fatalf("%v: exit code %d\n%s", args, code, errs.String())
		}
		return out.Bytes()
	}
	call("demo", dir, "--second-year", "--quiet")
	text := call("modification", dir, dir)
	sample := filepath.Join("..", "..", "docs", "samples", "second-year.txt")
	if *update {
		if err := os.WriteFile(sample, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(sample)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(text)); d != "" {
		t.Errorf("docs/samples/second-year.txt is not what the program prints (go test ./cmd/railwright -run SecondYear -update):\n%s", d)
	}
	var m modification.Modification
	if err := json.Unmarshal(call("modification", dir, dir, "--json"), &m); err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, s := range m.Signals {
		for _, w := range s.What {
			count[w]++
		}
	}
	if count["added"] != 30 || count["removed"] != 5 || count["renamed"] != 2 || count["moved"] != 0 {
		t.Errorf("signals: %v", count)
	}
}
