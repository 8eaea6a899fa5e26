package design

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
)

// Names gives out ids made of a prefix and an ordinal. An ordinal that was ever given under a
// prefix, in this design or in the one before it, is not given again.
type Names struct {
	last map[string]int
}

// NewNames continues the ordinals of the previous design, which may be nil.
func NewNames(previous *Design) *Names {
	n := &Names{last: map[string]int{}}
	if previous != nil {
		maps.Copy(n.last, previous.Ordinals)
	}
	return n
}

// Next returns the next id of the prefix, its ordinal at least digits wide.
func (n *Names) Next(prefix string, digits int) string {
	n.last[prefix]++
	return fmt.Sprintf("%s%0*d", prefix, digits, n.last[prefix])
}

// Keep notes that an id of the prefix is in use, so that Next never gives it.
func (n *Names) Keep(prefix string, ordinal int) {
	n.last[prefix] = max(n.last[prefix], ordinal)
}

// Ordinals returns the last ordinal given under each prefix.
func (n *Names) Ordinals() map[string]int { return maps.Clone(n.last) }

// Match pairs new sets with old ones by what they have in common: the pair with the most common
// members first, then the lower old id, then the lower index; each set is paired at most once. The
// result has one old id for each new set, "" where nothing in common was left.
func Match(old map[string][]string, sets [][]string) []string {
	owner := map[string][]string{}
	for id, members := range old {
		for _, m := range members {
			owner[m] = append(owner[m], id)
		}
	}
	type pair struct {
		id     string
		index  int
		common int
	}
	var pairs []pair
	for i, set := range sets {
		common := map[string]int{}
		for _, m := range set {
			for _, id := range owner[m] {
				common[id]++
			}
		}
		for id, n := range common {
			pairs = append(pairs, pair{id, i, n})
		}
	}
	slices.SortFunc(pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(b.common, a.common), cmp.Compare(a.id, b.id), cmp.Compare(a.index, b.index))
	})
	out := make([]string, len(sets))
	taken := map[string]bool{}
	for _, p := range pairs {
		if out[p.index] == "" && !taken[p.id] {
			out[p.index] = p.id
			taken[p.id] = true
		}
	}
	return out
}
