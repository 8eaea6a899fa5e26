package network

import (
	"fmt"
	"math"
	"slices"

	q "railwright/internal/quantity"
)

// Edge is one network cable between two nodes. Node 0 is the controller; stations count from 1.
type Edge struct {
	From, To int
	Length   q.Millimetres
}

// Distances tells how long the cable between two nodes is when laid, allowances included; ok is
// false where it cannot be laid or is longer than the profile's limit. It is symmetric.
type Distances func(a, b int) (length q.Millimetres, ok bool)

// exactNodes is the most stations for which lines and rings are ordered by the exact method.
const exactNodes = 12

// Join returns the cables of least total length that join the controller (node 0) and n stations
// (nodes 1 to n) in the topology "star", "line", "ring" or "tree". Edges come in the order in
// which they are laid from the controller. ok is false where no way was found that keeps every
// cable allowed. Lines and rings of more than 12 stations are ordered by a local search
// (deterministic, not proven least); everything else is exact.
func Join(topology string, n int, dist Distances) (edges []Edge, ok bool, err error) {
	if n == 0 {
		return nil, true, nil
	}
	switch topology {
	case "star":
		edges, ok = star(n, dist)
	case "tree":
		edges, ok = tree(n, dist)
	case "line":
		edges, ok = line(n, dist, false)
	case "ring":
		edges, ok = line(n, dist, true)
	default:
		return nil, false, fmt.Errorf("network topology %q: want star, line, ring or tree", topology)
	}
	return edges, ok, nil
}

func star(n int, dist Distances) ([]Edge, bool) {
	var edges []Edge
	for i := 1; i <= n; i++ {
		l, ok := dist(0, i)
		if !ok {
			return nil, false
		}
		edges = append(edges, Edge{0, i, l})
	}
	return edges, true
}

// tree is Prim's method from the controller; ties go to the lower node, then to the lower parent.
func tree(n int, dist Distances) ([]Edge, bool) {
	in := make([]bool, n+1)
	in[0] = true
	var edges []Edge
	for len(edges) < n {
		best := Edge{-1, -1, math.MaxInt64}
		for b := 1; b <= n; b++ {
			if in[b] {
				continue
			}
			for a := 0; a <= n; a++ {
				if !in[a] {
					continue
				}
				if l, ok := dist(a, b); ok && l < best.Length {
					best = Edge{a, b, l}
				}
			}
		}
		if best.To < 0 {
			return nil, false
		}
		in[best.To] = true
		edges = append(edges, best)
	}
	return edges, true
}

const far = math.MaxInt64 / 1024

type matrix [][]int64

func distances(n int, dist Distances) matrix {
	m := make(matrix, n+1)
	for a := range m {
		m[a] = make([]int64, n+1)
		for b := range m[a] {
			if l, ok := dist(min(a, b), max(a, b)); ok && a != b {
				m[a][b] = int64(l)
			} else {
				m[a][b] = far
			}
		}
	}
	return m
}

func line(n int, dist Distances, closed bool) ([]Edge, bool) {
	m := distances(n, dist)
	var order []int
	if n <= exactNodes {
		order = exactOrder(m, closed)
	} else {
		order = searchOrder(m, closed)
	}
	if m.length(order, closed) >= far {
		return nil, false
	}
	order = m.canonical(order, closed)
	var edges []Edge
	at := 0
	for _, to := range order {
		edges = append(edges, Edge{at, to, q.Millimetres(m[at][to])})
		at = to
	}
	if closed {
		edges = append(edges, Edge{at, 0, q.Millimetres(m[at][0])})
	}
	return edges, true
}

func (m matrix) length(order []int, closed bool) int64 {
	at, sum := 0, int64(0)
	for _, to := range order {
		sum += m[at][to]
		at = to
	}
	if closed {
		sum += m[at][0]
	}
	return sum
}

// canonical turns a ring so that it leaves the controller towards the lower of its two neighbours.
func (m matrix) canonical(order []int, closed bool) []int {
	if closed && len(order) > 1 && order[0] > order[len(order)-1] {
		order = slices.Clone(order)
		slices.Reverse(order)
	}
	return order
}

// exactOrder is dynamic programming over subsets (Held and Karp, 1962): best[set][last] is the
// shortest way from the controller through the set that ends at last.
func exactOrder(m matrix, closed bool) []int {
	n := len(m) - 1
	full := 1<<n - 1
	best := make([][]int64, full+1)
	from := make([][]int8, full+1)
	for set := 1; set <= full; set++ {
		best[set] = make([]int64, n)
		from[set] = make([]int8, n)
		for last := range n {
			best[set][last], from[set][last] = far*2, -1
			if set&(1<<last) == 0 {
				continue
			}
			rest := set &^ (1 << last)
			if rest == 0 {
				best[set][last] = m[0][last+1]
				continue
			}
			for prev := range n {
				if rest&(1<<prev) == 0 {
					continue
				}
				if d := min(best[rest][prev]+m[prev+1][last+1], far); d < best[set][last] {
					best[set][last], from[set][last] = d, int8(prev)
				}
			}
		}
	}
	end, least := 0, int64(math.MaxInt64)
	for last := range n {
		d := best[full][last]
		if closed {
			d += m[last+1][0]
		}
		if d < least {
			end, least = last, d
		}
	}
	order := make([]int, n)
	for set, at, i := full, end, n-1; i >= 0; i-- {
		order[i] = at + 1
		prev := int(from[set][at])
		set, at = set&^(1<<at), prev
	}
	return order
}

// searchOrder begins with the nearest neighbour from the controller and improves by reversing
// runs (2-opt) and by moving runs of up to three (or-opt) until neither helps.
func searchOrder(m matrix, closed bool) []int {
	n := len(m) - 1
	used := make([]bool, n+1)
	order := make([]int, 0, n)
	for at := 0; len(order) < n; {
		next := -1
		for b := 1; b <= n; b++ {
			if !used[b] && (next < 0 || m[at][b] < m[at][next]) {
				next = b
			}
		}
		used[next] = true
		order = append(order, next)
		at = next
	}
	for improved := true; improved; {
		order, improved = m.reverseRuns(order, closed)
		if !improved {
			order, improved = m.moveRuns(order, closed)
		}
	}
	return order
}

func (m matrix) reverseRuns(order []int, closed bool) ([]int, bool) {
	now := m.length(order, closed)
	for i := range order {
		for j := i + 1; j < len(order); j++ {
			try := slices.Clone(order)
			slices.Reverse(try[i : j+1])
			if m.length(try, closed) < now {
				return try, true
			}
		}
	}
	return order, false
}

func (m matrix) moveRuns(order []int, closed bool) ([]int, bool) {
	now := m.length(order, closed)
	for size := 1; size <= 3; size++ {
		for i := 0; i+size <= len(order); i++ {
			rest := slices.Delete(slices.Clone(order), i, i+size)
			for j := 0; j <= len(rest); j++ {
				try := slices.Insert(slices.Clone(rest), j, order[i:i+size]...)
				if m.length(try, closed) < now {
					return try, true
				}
			}
		}
	}
	return order, false
}
