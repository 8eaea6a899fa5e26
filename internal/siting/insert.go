package siting

import (
	"cmp"
	"math"
	"slices"
)

// enter returns what placing q more bundles of the type in the slot changes in the cost, opening it if need be.
func (s *state) enter(i int, t, q int32) (int64, bool) {
	cost, ok := s.probe(i, t, q)
	if !ok {
		return 0, false
	}
	sl := &s.slots[i]
	delta := cost - sl.cost + int64(q)*s.m.types[t].cost[sl.place]
	if !sl.open {
		delta += s.networkWith(sl.place, 1)
	}
	return delta, true
}

// offer is one way to place bundles.
type offer struct {
	slot  int
	qty   int32
	delta int64 // true change of cost
	rank  int64 // what offers are compared by, a bundle
}

// taste says how offers are ranked while a ruined state is rebuilt.
type taste struct {
	linear  int64 // 0..16: parts of 16 by which module steps are smoothed to the pool's price per signal
	opening bool  // closed slots may be opened
	reach   int   // open places looked at
	blink   int   // one offer in blink is overlooked; 0: none
	barred  int   // a slot that must not be used; -1: none
}

// best returns the best way to place up to q bundles of the type; ok is false when nothing can take even one.
func (s *state) best(t, q int32, ta taste, r *random) (offer, bool) {
	best := offer{rank: math.MaxInt64}
	a := &s.m.types[t]
	seen := 0
	for _, p := range a.order {
		if s.stand[p] == 0 && !ta.opening {
			continue
		}
		if best.rank < math.MaxInt64 && a.cost[p] >= best.rank {
			break // dearer cable alone
		}
		opened := false
		for i := int(s.first[p]); i < int(s.first[p+1]); i++ {
			if i == ta.barred || ta.blink > 0 && r.below(ta.blink) == 0 {
				continue
			}
			if !s.slots[i].open {
				if !ta.opening || opened {
					continue
				}
				opened = true
			}
			s.offers(i, t, q, ta, &best)
		}
		if s.stand[p] > 0 {
			seen++
			if seen >= ta.reach && best.rank < math.MaxInt64 {
				break
			}
		}
	}
	return best, best.rank < math.MaxInt64
}

// offers tries the slot with all q bundles and with as many as fit without another module.
func (s *state) offers(i int, t, q int32, ta taste, best *offer) {
	s.try(i, t, q, ta, best)
	if q == 1 {
		return
	}
	if n := s.room(i, t, q); n > 0 && n < q {
		s.try(i, t, n, ta, best)
	}
}

// room returns how many of q bundles the slot's modules take without growing (by the first pool; 0 when not even one).
func (s *state) room(i int, t, q int32) int32 {
	sl := &s.slots[i]
	tk := &s.m.types[t].kinds[sl.kind]
	if !tk.ok || !sl.open {
		return 1
	}
	pp := tk.pools[0]
	j := int(pp.pool)
	start := s.m.start[sl.kind][j]
	sc := append(s.scratch.counts[:0], sl.counts[start:int(start)+len(s.m.pools[sl.kind][j])]...)
	n := int32(0)
	for ; n < q; n++ {
		for _, p := range tk.parts {
			if p.pool == pp.pool {
				sc[p.pos] += p.count
			}
		}
		if s.pr.pool(int(sl.kind), j, sc, 0).cost > sl.pool[j].cost {
			break
		}
	}
	s.scratch.counts = sc
	return max(n, 1)
}

func (s *state) try(i int, t, q int32, ta taste, best *offer) {
	delta, ok := s.enter(i, t, q)
	if !ok {
		return
	}
	rank := delta
	if ta.linear > 0 && s.slots[i].open {
		sl := &s.slots[i]
		tk := &s.m.types[t].kinds[sl.kind]
		cable := int64(q) * s.m.types[t].cost[sl.place]
		smooth := int64(0)
		for _, pp := range tk.pools {
			smooth += int64(q) * pp.weight
		}
		rank = cable + ((16-ta.linear)*(delta-cable)+ta.linear*smooth)/16
	}
	rank /= int64(q)
	if rank < best.rank {
		*best = offer{i, q, delta, rank}
	}
}

// fill places the loose bundles of the types in their order; what fits nowhere stays loose.
func (s *state) fill(types []int32, ta taste, r *random) {
	for _, t := range types {
		for s.loose[t] > 0 {
			o, ok := s.best(t, s.loose[t], ta, r)
			if !ok && s.loose[t] > 1 {
				o, ok = s.best(t, 1, ta, r)
			}
			if !ok {
				break
			}
			s.put(o.slot, t, o.qty)
		}
	}
}

// looseTypes lists the types with bundles not placed, dearest to leave first: by demand, then by cheapest cable.
func (s *state) looseTypes() []int32 {
	var list []int32
	for t := range s.loose {
		if s.loose[t] > 0 {
			list = append(list, int32(t))
		}
	}
	s.bySize(list)
	return list
}

func (s *state) bySize(list []int32) {
	slices.SortFunc(list, func(a, b int32) int {
		x, y := &s.m.types[a], &s.m.types[b]
		return cmp.Or(-cmp.Compare(x.size, y.size), cmp.Compare(a, b))
	})
}
