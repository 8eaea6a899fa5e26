package drawing

import (
	"cmp"
	"math"
	"slices"

	"railwright/internal/scene"
)

// Least distances between places on a plan, mm: room for a line and its label.
const (
	siteGapX = 9.0
	siteGapY = 6.0
)

// spread lays the places so that no two boxes come close, and so that what lies to the left of, right of,
// above or below another on the site does so on the plan. It reports whether the area holds them. Far
// distances shrink; the plan is not to scale.
func (s *sitePlan) spread(area scene.Rect) bool {
	// Two places are kept apart sideways if they lie apart sideways more than the weight says, else one above
	// the other. Weights are tried from the one that suits the boxes' shape.
	for _, weight := range []float64{0.5, 0.35, 0.7, 0.25, 1, 1.5, 2.5} {
		aside := func(a, b *siteNode) bool { return weight*math.Abs(a.x-b.x) >= math.Abs(a.y-b.y) }
		xs, ok := s.axis(area.X, area.W, func(n *siteNode) (float64, float64) { return n.x, n.size.W }, siteGapX, aside)
		if !ok {
			continue
		}
		ys, ok := s.axis(area.Y, area.H, func(n *siteNode) (float64, float64) { return n.y, n.size.H }, siteGapY, func(a, b *siteNode) bool { return !aside(a, b) })
		if !ok {
			continue
		}
		for i, n := range s.nodes {
			n.size.X, n.size.Y = grid(xs[i]), grid(ys[i])
		}
		return true
	}
	return false
}

// axis lays the nodes along one axis: as near to their wanted spots as the gaps between those kept apart on
// this axis allow. It returns the lower edges by the order of nodes.
func (s *sitePlan) axis(from, length float64, of func(*siteNode) (at, size float64), gap float64, apart func(a, b *siteNode) bool) ([]float64, bool) {
	order := make([]int, len(s.nodes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, _ := of(s.nodes[i])
		b, _ := of(s.nodes[j])
		return cmp.Compare(a, b)
	})
	n := len(order)
	low, high := make([]float64, n), make([]float64, n) // by rank
	size := func(rank int) float64 { _, w := of(s.nodes[order[rank]]); return w }
	near := func(i, j int) bool { return apart(s.nodes[order[i]], s.nodes[order[j]]) }
	for i := range n {
		low[i] = from
		for j := range i {
			if near(i, j) {
				low[i] = max(low[i], low[j]+size(j)+gap)
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		high[i] = from + length - size(i)
		for j := i + 1; j < n; j++ {
			if near(i, j) {
				high[i] = min(high[i], high[j]-gap-size(i))
			}
		}
		if high[i] < low[i] {
			return nil, false
		}
	}
	want := s.wanted(order, of, from, length)
	out := make([]float64, n)
	at := make([]float64, n)
	for i := range n {
		at[i] = min(max(want[i]-size(i)/2, low[i]), high[i])
		for j := range i {
			if near(i, j) {
				at[i] = max(at[i], at[j]+size(j)+gap)
			}
		}
		out[order[i]] = at[i]
	}
	return out, true
}

// wanted are the middles that the nodes would take: half by their distance, half by their rank, so that a
// crowd far from a lone place is drawn apart.
func (s *sitePlan) wanted(order []int, of func(*siteNode) (at, size float64), from, length float64) []float64 {
	first, _ := of(s.nodes[order[0]])
	last, _ := of(s.nodes[order[len(order)-1]])
	out := make([]float64, len(order))
	for rank, i := range order {
		at, _ := of(s.nodes[i])
		byRank := (float64(rank) + 0.5) / float64(len(order))
		byPlace := byRank
		if last > first {
			byPlace = (at - first) / (last - first)
		}
		out[rank] = from + length*(0.35*byPlace+0.65*byRank)
	}
	return out
}
