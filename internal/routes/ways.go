package routes

import (
	"cmp"
	"container/heap"
	"fmt"
	"slices"
)

// Ways holds the shortest ways from one source to every place.
type Ways struct {
	n      *Network
	source int
	dist   []int64 // per place; -1 when it cannot be reached
	hops   []int
	prev   []arc // per place: the place before it and the route from there
}

// From returns the shortest ways from the source, or an error when the source is no place of the network.
func (n *Network) From(source string) (*Ways, error) {
	s, ok := n.index[source]
	if !ok {
		return nil, fmt.Errorf("shortest ways from %q: no such place", source)
	}
	w := &Ways{n: n, source: s, dist: make([]int64, len(n.places)), hops: make([]int, len(n.places)), prev: make([]arc, len(n.places))}
	for i := range w.dist {
		w.dist[i] = -1
		w.prev[i] = arc{-1, -1}
	}
	w.run()
	return w, nil
}

// run is Dijkstra's method on (length, number of routes), which grows strictly along every arc, even one of length 0; so a
// settled way is final, and a way whose ids come first has a beginning whose ids come first.
func (w *Ways) run() {
	done := make([]bool, len(w.dist))
	w.dist[w.source] = 0
	q := queue{{w.source, 0, 0}}
	for len(q) > 0 {
		at := heap.Pop(&q).(entry)
		if done[at.place] || at.dist != w.dist[at.place] || at.hops != w.hops[at.place] {
			continue
		}
		done[at.place] = true
		for _, a := range w.n.arcs[at.place] {
			if done[a.to] || !w.better(at, a) {
				continue
			}
			w.dist[a.to] = at.dist + w.n.routes[a.route].LengthMM
			w.hops[a.to] = at.hops + 1
			w.prev[a.to] = arc{at.place, a.route}
			heap.Push(&q, entry{a.to, w.dist[a.to], w.hops[a.to]})
		}
	}
}

// better reports whether reaching a.to over this arc beats the way known so far.
func (w *Ways) better(at entry, a arc) bool {
	old := w.dist[a.to]
	if old < 0 {
		return true
	}
	d := at.dist + w.n.routes[a.route].LengthMM
	if c := cmp.Or(cmp.Compare(d, old), cmp.Compare(at.hops+1, w.hops[a.to])); c != 0 {
		return c < 0
	}
	if w.prev[a.to].to == at.place {
		return a.route < w.prev[a.to].route // parallel routes: the first id
	}
	mine := append(w.trace(at.place), a.route)
	return slices.Compare(mine, w.trace(a.to)) < 0
}

// trace returns the route indices from the source to the place; their order is that of the ids.
func (w *Ways) trace(place int) []int {
	path := make([]int, 0, w.hops[place]+1)
	for place != w.source {
		path = append(path, w.prev[place].route)
		place = w.prev[place].to
	}
	slices.Reverse(path)
	return path
}

// Source returns the id of the place the ways start from.
func (w *Ways) Source() string { return w.n.places[w.source] }

// LengthMM returns the length of the shortest way to the place; ok is false when no way leads there or the place is
// unknown.
func (w *Ways) LengthMM(place string) (length int64, ok bool) {
	i, known := w.n.index[place]
	if !known || w.dist[i] < 0 {
		return 0, false
	}
	return w.dist[i], true
}

// Path returns the route ids of the shortest way, the one at the source first; empty for the source itself. ok is false
// when no way leads there or the place is unknown.
func (w *Ways) Path(place string) (ids []string, ok bool) {
	i, known := w.n.index[place]
	if !known || w.dist[i] < 0 {
		return nil, false
	}
	ids = []string{}
	for _, r := range w.trace(i) {
		ids = append(ids, w.n.routes[r].ID)
	}
	return ids, true
}

// Unreachable returns the ids of the places no way leads to, ascending.
func (w *Ways) Unreachable() []string {
	var ids []string
	for i, d := range w.dist {
		if d < 0 {
			ids = append(ids, w.n.places[i])
		}
	}
	return ids
}

type entry struct {
	place int
	dist  int64
	hops  int
}

type queue []entry

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	a, b := q[i], q[j]
	return cmp.Or(cmp.Compare(a.dist, b.dist), cmp.Compare(a.hops, b.hops), cmp.Compare(a.place, b.place)) < 0
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(entry)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
