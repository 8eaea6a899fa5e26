package intake_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/intake"
	"railwright/internal/project"
)

var update = flag.Bool("update", false, "write the expected reports of the lists anew; read the difference")

// Each list under testdata/lists is of our own making, in the manner of one kind of author, with the
// report expected beside it.
func TestLists(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("testdata", "lists", "*"))
	if err != nil || len(paths) == 0 {
		t.Fatal("no lists", err)
	}
	for _, p := range paths {
		if strings.HasSuffix(p, ".expected.txt") {
			continue
		}
		name := filepath.Base(p)
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			got := report(read(t, name, data, intake.Options{}))
			checkGolden(t, strings.TrimSuffix(p, filepath.Ext(p))+".expected.txt", got)
		})
	}
}

func checkGolden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); d != "" {
		t.Error(d)
	}
}

// A column map made from one reading gives the same signals again.
func TestColumnMapReadsTheSame(t *testing.T) {
	paths, _ := filepath.Glob(filepath.Join("testdata", "lists", "*.csv"))
	for _, p := range paths {
		name := filepath.Base(p)
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		first := read(t, name, data, intake.Options{})
		again := read(t, name, data, intake.Options{Columns: first.ColumnMap()})
		if d := cmp.Diff(lines(first.Signals), lines(again.Signals)); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

func lines(list []project.Signal) []string {
	var out []string
	for i := range list {
		out = append(out, signalLine(&list[i]))
	}
	return out
}
