package routes

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"pgregory.net/rapid"
)

func TestTies(t *testing.T) {
	tests := []struct {
		name, source string // source of the expected value
		routes       []Route
		to           string
		want         []string
		length       int64
	}{
		{"shorter wins", "own arithmetic: 3 + 4 < 8", []Route{{"r1", "a", "c", 8}, {"r2", "a", "b", 3}, {"r3", "b", "c", 4}}, "c", []string{"r2", "r3"}, 7},
		{"equal length: fewer routes", "the rule in doc.go", []Route{{"z", "a", "c", 7}, {"r2", "a", "b", 3}, {"r3", "b", "c", 4}}, "c", []string{"z"}, 7},
		{"parallel: first id", "the rule in doc.go", []Route{{"r9", "a", "b", 5}, {"r1", "b", "a", 5}}, "b", []string{"r1"}, 5},
		{"equal count: first ids", "the rule in doc.go", []Route{{"r1", "a", "x", 2}, {"r5", "x", "d", 2}, {"r2", "a", "b", 2}, {"r3", "b", "d", 2}}, "d", []string{"r1", "r5"}, 4},
		{"length zero", "own arithmetic", []Route{{"r1", "a", "b", 0}, {"r2", "b", "c", 0}}, "c", []string{"r1", "r2"}, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			n, faults := New([]string{"a", "b", "c", "d", "x"}, tt.routes)
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			w, err := n.From("a")
			if err != nil {
				t.Fatal(err)
			}
			got, ok := w.Path(tt.to)
			length, _ := w.LengthMM(tt.to)
			if diff := cmp.Diff(tt.want, got); diff != "" || !ok || length != tt.length {
				t.Errorf("length %d, want %d; path -want +got:\n%s", length, tt.length, diff)
			}
		})
	}
}

func TestFaults(t *testing.T) {
	_, faults := New([]string{"a", "b", "b"}, []Route{{"r1", "a", "q", 5}, {"r2", "a", "b", -1}, {"r3", "a", "b", 1}, {"r3", "a", "b", 2}})
	var got []string
	for _, f := range faults {
		got = append(got, f.String())
	}
	want := []string{
		"place b: the id is given more than once; it stands for one place",
		`route r1: it leads to "q", which is no place of the project`,
		"route r2: its length of -1 mm is not between 0 and 100000000000 mm",
		"route r3: the id is given more than once", "route r3: the id is given more than once",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// TestAgainstGonum compares lengths with gonum's shortest paths, and checks that each path adds up, is contiguous, and does
// not depend on the order of the rows.
func TestAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := strings.Split("abcdefgh", "")
		count := rapid.IntRange(0, 16).Draw(t, "routes")
		var list []Route
		g := simple.NewWeightedUndirectedGraph(0, 1e18)
		for i := range names {
			g.AddNode(simple.Node(i))
		}
		for i := range count {
			a, b := rapid.IntRange(0, 7).Draw(t, "a"), rapid.IntRange(0, 7).Draw(t, "b")
			length := rapid.Int64Range(0, 5).Draw(t, "mm")
			list = append(list, Route{string(rune('A' + i)), names[a], names[b], length})
			if old, ok := g.Weight(int64(a), int64(b)); a != b && (!ok || old > float64(length)) {
				g.SetWeightedEdge(simple.WeightedEdge{F: simple.Node(a), T: simple.Node(b), W: float64(length)})
			}
		}
		n, faults := New(names, list)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		shuffled := rapid.Permutation(list).Draw(t, "order")
		n2, _ := New(names, shuffled)
		w, _ := n.From("a")
		w2, _ := n2.From("a")
		want := path.DijkstraFrom(simple.Node(0), g)
		for i, p := range names {
			length, ok := w.LengthMM(p)
			if outside := want.WeightTo(int64(i)); ok != (outside < 1e17) || ok && float64(length) != outside {
				t.Fatalf("%s: %d %v, gonum %v", p, length, ok, outside)
			}
			if !ok {
				continue
			}
			ids, _ := w.Path(p)
			ids2, _ := w2.Path(p)
			if !slices.Equal(ids, ids2) {
				t.Fatalf("%s: %v in one order, %v in another", p, ids, ids2)
			}
			checkPath(t, list, ids, p, length)
		}
	})
}

func checkPath(t *rapid.T, list []Route, ids []string, to string, length int64) {
	at := "a"
	for _, id := range ids {
		r := list[slices.IndexFunc(list, func(r Route) bool { return r.ID == id })]
		switch at {
		case r.A:
			at = r.B
		case r.B:
			at = r.A
		default:
			t.Fatalf("route %s does not start at %s", id, at)
		}
		length -= r.LengthMM
	}
	if at != to || length != 0 {
		t.Fatalf("path %v ends at %s with %d mm left, want %s", ids, at, length, to)
	}
}
