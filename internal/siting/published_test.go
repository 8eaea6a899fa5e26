package siting

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// published reads an instance of testdata/single-source; its README names the sources of instances and optima.
func published(t testing.TB, name string) Instance {
	f, err := os.Open(filepath.Join("testdata", "single-source", name+".txt"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	in, err := ReadSingleSource(f, cents)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

func optima(t testing.TB) map[string]int64 {
	f, err := os.Open(filepath.Join("testdata", "single-source", "optima.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]int64{}
	for _, row := range rows[1:] {
		v, err := strconv.ParseFloat(row[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		out[row[0]] = int64(v*cents + 0.5)
	}
	return out
}

// TestPublishedInstances holds the solver against proven optima: bound <= optimum <= cost always, the holmberg ones met.
func TestPublishedInstances(t *testing.T) {
	for name, optimum := range optima(t) {
		t.Run(name, func(t *testing.T) {
			in := published(t, name)
			res, err := Solve(in, Options{Steps: 600_000})
			if err != nil || len(res.Unplaced) > 0 {
				t.Fatalf("%v, %d unplaced", err, len(res.Unplaced))
			}
			if cost, ok := evaluate(in, res.Stations); !ok || cost != res.Cost {
				t.Errorf("the answer costs %d (allowed: %v), it says %d", cost, ok, res.Cost)
			}
			if res.Bound > res.Proven || res.Proven > optimum || optimum > res.Cost {
				t.Errorf("bound %d, proven %d, optimum %d, cost %d", res.Bound, res.Proven, optimum, res.Cost)
			}
			if strings.HasPrefix(name, "holmberg") && res.Cost != optimum {
				t.Errorf("cost %d, optimum %d", res.Cost, optimum)
			}
			if res.Cost*1000 > optimum*1005 {
				t.Errorf("cost %d is more than 0.5 %% above the optimum %d", res.Cost, optimum)
			}
		})
	}
}

// TestOneCoreOrMany checks that the number of cores changes nothing.
func TestOneCoreOrMany(t *testing.T) {
	for name, in := range map[string]Instance{
		"published": published(t, "delmaire-p45"),
		"plant":     plant(200, 20, 8, 3, regimes[2]),
	} {
		t.Run(name, func(t *testing.T) {
			solve := func(cores int) Result {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
				res, err := Solve(in, Options{Steps: 200_000, Seed: 7, Curve: true})
				if err != nil {
					t.Fatal(err)
				}
				return res
			}
			if diff := cmp.Diff(solve(1), solve(4)); diff != "" {
				t.Errorf("one core, four cores:\n%s", diff)
			}
		})
	}
}

func TestReadSingleSourceFaults(t *testing.T) {
	for text, want := range map[string]string{
		"":                       "the file ends before the number of facilities",
		"1 1\n5\n7\n3":           "the file ends before a cost",
		"1 1\n5\n-7\n3\n4":       `an opening cost: "-7" is not a number from 0 to 1e12`,
		"1 x":                    `the number of customers: "x" is not a number from 0 to 1e12`,
		"99999999 99999999 1 2 ": "99999999 facilities and 99999999 customers are too many",
	} {
		if _, err := ReadSingleSource(strings.NewReader(text), 1); err == nil || err.Error() != want {
			t.Errorf("%q: error %v, want %s", text, err, want)
		}
	}
}
