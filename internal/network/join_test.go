package network

import (
	"testing"

	"pgregory.net/rapid"

	q "railwright/internal/quantity"
)

// table draws a symmetric table of distances between n stations and the controller.
func table(t *rapid.T, n int) Distances {
	d := map[[2]int]int64{}
	for a := 0; a <= n; a++ {
		for b := a + 1; b <= n; b++ {
			d[[2]int{a, b}] = rapid.Int64Range(1, 50).Draw(t, "d")
		}
	}
	return func(a, b int) (q.Millimetres, bool) {
		v := d[[2]int{min(a, b), max(a, b)}]
		return q.Millimetres(v), v <= 45
	}
}

func total(edges []Edge) (sum q.Millimetres) {
	for _, e := range edges {
		sum += e.Length
	}
	return sum
}

// brute returns the least length over all orders; source: exhaustive search.
func brute(n int, dist Distances, closed bool) int64 {
	best := int64(far)
	m := distances(n, dist)
	var walk func(order []int, used int)
	walk = func(order []int, used int) {
		if len(order) == n {
			best = min(best, m.length(order, closed))
			return
		}
		for b := 1; b <= n; b++ {
			if used&(1<<b) == 0 {
				walk(append(order, b), used|1<<b)
			}
		}
	}
	walk(nil, 0)
	return best
}

func TestLineAndRingAgreeWithExhaustiveSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "n")
		dist := table(t, n)
		for topology, closed := range map[string]bool{"line": false, "ring": true} {
			edges, ok, err := Join(topology, n, dist)
			want := brute(n, dist, closed)
			if err != nil || ok != (want < far) {
				t.Fatalf("%s: ok %v, err %v, exhaustive search %d", topology, ok, err, want)
			}
			if ok && int64(total(edges)) != want {
				t.Fatalf("%s: %d mm, exhaustive search finds %d", topology, total(edges), want)
			}
		}
	})
}

func TestEveryTopologyReachesEveryStationOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20).Draw(t, "n")
		d := table(t, n)
		dist := func(a, b int) (q.Millimetres, bool) { l, _ := d(a, b); return l, true }
		for _, topology := range []string{"star", "line", "ring", "tree"} {
			edges, ok, err := Join(topology, n, dist)
			if err != nil || !ok {
				t.Fatalf("%s: %v %v", topology, ok, err)
			}
			reached := map[int]bool{0: true}
			for _, e := range edges {
				if !reached[e.From] {
					t.Fatalf("%s: edge %v leaves a node not reached yet", topology, e)
				}
				reached[e.To] = true
			}
			want := n
			if topology == "ring" {
				want++
			}
			if len(reached) != n+1 || len(edges) != want {
				t.Fatalf("%s: %d nodes, %d edges", topology, len(reached), len(edges))
			}
		}
	})
}

// The tree is never longer than the line, the line never longer than the star walked as a tour; the
// tree's length equals that of the cheapest spanning tree found by trying all parents on small cases.
func TestTreeIsTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "n")
		d := table(t, n)
		dist := func(a, b int) (q.Millimetres, bool) { l, _ := d(a, b); return l, true }
		edges, _, _ := Join("tree", n, dist)
		best := int64(far)
		parent := make([]int, n+1)
		var walk func(i int, sum int64)
		walk = func(i int, sum int64) {
			if i > n {
				if rooted(parent) {
					best = min(best, sum)
				}
				return
			}
			for p := 0; p <= n; p++ {
				if p != i {
					l, _ := dist(p, i)
					parent[i] = p
					walk(i+1, sum+int64(l))
				}
			}
		}
		walk(1, 0)
		if int64(total(edges)) != best {
			t.Fatalf("tree %d, exhaustive %d", total(edges), best)
		}
	})
}

func rooted(parent []int) bool {
	for i := 1; i < len(parent); i++ {
		at := i
		for steps := 0; at != 0; steps++ {
			if steps > len(parent) {
				return false
			}
			at = parent[at]
		}
	}
	return true
}
