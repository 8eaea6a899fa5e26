package siting

import (
	"cmp"
	"slices"
)

// nearPlaces orders, for each place, the other places by how alike their cable costs are: the sum over a sample of types
// of the difference of cost. Places that share no type come last.
func nearPlaces(m *model) [][]int32 {
	n := len(m.in.Places)
	out := make([][]int32, n)
	stride := max(1, len(m.types)/200)
	dist := make([]int64, n)
	for p := range n {
		for q := range n {
			dist[q] = m.unlike(p, q, stride)
			if q != p && m.in.Places[q].Copies > 0 {
				out[p] = append(out[p], int32(q))
			}
		}
		slices.SortStableFunc(out[p], func(a, b int32) int { return cmp.Compare(dist[a], dist[b]) })
		out[p] = out[p][:min(len(out[p]), 24)]
	}
	return out
}

func (m *model) unlike(p, q, stride int) int64 {
	sum, both := int64(0), int64(0)
	for t := 0; t < len(m.types); t += stride {
		a, b := m.types[t].cost[p], m.types[t].cost[q]
		if a < Forbidden && b < Forbidden {
			sum += max(a-b, b-a)
			both++
		}
	}
	if both == 0 {
		return Forbidden
	}
	return sum / both
}
