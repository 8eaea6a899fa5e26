package siting

import (
	"maps"
	"math"
	"slices"
)

// drop opens the stations of a first design: it begins with one at every place and closes them one after the other while
// that saves money, with every bundle at its nearest open place. A station counts its empty cost and, for each pool it
// holds, waste quarters of the pool's price for one signal times eight: what a module begun leaves unused.
//
// With least > 0 it stops at that many stations, or goes on closing the least useful ones until there are no more.
func (se *search) drop(waste int64, least int) {
	s, m := se.s, se.s.m
	d := dropping{m: m, first: make([]int32, len(m.types)), second: make([]int32, len(m.types)), members: make([][]int32, len(m.in.Places)), open: make([]bool, len(m.in.Places)), waste: waste}
	for t := range m.types {
		d.open[m.types[t].order[0]] = true
	}
	for p := range m.in.Places {
		d.open[p] = d.open[p] || m.in.Places[p].Copies > 0
		d.fixed = append(d.fixed, s.emptyCost(p))
	}
	for t := range m.types {
		d.look(int32(t))
		if p := d.place(int32(t), d.first[t]); p >= 0 {
			d.members[p] = append(d.members[p], int32(t))
		}
	}
	count := 0
	for p := range d.open {
		if d.open[p] && len(d.members[p]) == 0 && m.in.Places[p].Must == 0 {
			d.open[p] = false
		}
		if d.open[p] {
			count++
		}
	}
	saving := make([]int64, len(d.open))
	for p := range d.open {
		saving[p] = d.saving(p)
	}
	for ; count != least; count-- {
		best := -1
		for p := range d.open {
			if d.open[p] && m.in.Places[p].Must == 0 && (best < 0 || saving[p] > saving[best]) {
				best = p
			}
		}
		if best < 0 || saving[best] == math.MinInt64 || least == 0 && saving[best] <= 0 {
			break
		}
		for _, p := range d.close(best) {
			saving[p] = d.saving(int(p))
		}
	}
	for p, open := range d.open {
		if open && len(d.members[p]) > 0 && s.stand[p] == 0 {
			s.setOpen(int(s.first[p]), true)
		}
	}
}

// emptyCost is what a station at the place costs before it holds anything.
func (s *state) emptyCost(p int) int64 {
	if s.m.in.Places[p].Copies == 0 {
		return 0
	}
	sl := s.slots[s.first[p]]
	if sl.bundles > 0 {
		return sl.cost
	}
	c, ok := s.slotCost(&sl)
	if !ok {
		return Forbidden
	}
	return c
}

type dropping struct {
	m             *model
	open          []bool
	first, second []int32   // per type: index in its order of its two cheapest open places; past the end: none
	members       [][]int32 // per place: types
	fixed         []int64
	waste         int64
}

// look moves the type's two places on to open ones.
func (d *dropping) look(t int32) {
	order := d.m.types[t].order
	n := int32(len(order))
	for d.first[t] < n && !d.open[order[d.first[t]]] {
		d.first[t]++
	}
	d.second[t] = max(d.second[t], d.first[t]+1)
	for d.second[t] < n && !d.open[order[d.second[t]]] {
		d.second[t]++
	}
}

// place returns the place at the index of the type's order, -1 past its end.
func (d *dropping) place(t, index int32) int32 {
	if order := d.m.types[t].order; int(index) < len(order) {
		return order[index]
	}
	return -1
}

// saving estimates what closing the station at p saves.
func (d *dropping) saving(p int) int64 {
	sum := d.fixed[p]
	kind := &d.m.in.Kinds[d.m.in.Places[p].Kind]
	used := make([]bool, len(kind.Pools))
	for _, t := range d.members[p] {
		a := &d.m.types[t]
		for _, pp := range a.kinds[d.m.in.Places[p].Kind].pools {
			if !used[pp.pool] {
				used[pp.pool] = true
				sum += d.waste * kind.Pools[pp.pool].Weight / 2
			}
		}
		d.look(t)
		q := d.place(t, d.second[t])
		if q < 0 {
			return math.MinInt64
		}
		sum -= (a.cost[q] - a.cost[p]) * int64(len(a.members))
	}
	return sum
}

// close moves what p holds to the next open places and returns the places whose saving changes: those that got something,
// and those that p was the second choice of.
func (d *dropping) close(p int) []int32 {
	touched := map[int32]bool{}
	for t := range d.first {
		if d.place(int32(t), d.second[t]) == int32(p) {
			touched[d.place(int32(t), d.first[t])] = true
		}
	}
	d.open[p] = false
	for _, t := range d.members[p] {
		d.look(t)
		q := d.place(t, d.first[t])
		d.members[q] = append(d.members[q], t)
		touched[q] = true
	}
	d.members[p] = nil
	delete(touched, int32(p))
	return slices.Sorted(maps.Keys(touched))
}
