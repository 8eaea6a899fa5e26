package siting

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// counts looks at other numbers of stations than the first design has: a short search each, with that number kept. It
// returns the designs, the best first; the first design is among them.
func (so *solver) counts(first candidate, steps int64) []candidate {
	k := first.stations()
	list := []candidate{first}
	if len(so.opt.Start) > 0 || len(so.m.types) == 0 {
		return list // a design was given: stay near it
	}
	tried := []int{k - 2, k - 1, k, k + 1, k + 2, k + 3, k + 5}
	list = append(list, so.withCounts(tried, steps)...)
	slices.SortStableFunc(list, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(a.loose, b.loose), cmp.Compare(a.value, b.value))
	})
	return list
}

// withCounts searches for designs with exactly so many stations; numbers for which none was found are left out.
func (so *solver) withCounts(numbers []int, steps int64) []candidate {
	least, most := 0, 0
	for _, p := range so.m.in.Places {
		least += p.Must
		most += p.Copies
	}
	numbers = slices.DeleteFunc(slices.Clone(numbers), func(k int) bool { return k < max(least, 1) || k > most })
	found := make([]candidate, len(numbers))
	spent := make([]int64, islands)
	var wait sync.WaitGroup
	for i := range islands {
		wait.Go(func() {
			for n := i; n < len(numbers); n += islands {
				var used int64
				found[n], used = so.withCount(numbers[n], steps/int64(len(numbers)))
				spent[i] += used
			}
		})
	}
	wait.Wait()
	for _, n := range spent {
		so.steps += n
	}
	return slices.DeleteFunc(found, func(c candidate) bool { return c.loose == math.MaxInt })
}

func (so *solver) withCount(k int, steps int64) (candidate, int64) {
	s := newState(so.m, so.learned)
	se := newSearch(s, so.near, so.opt.Seed*1000+uint64(k)+17)
	se.drop(4, k)
	se.construct(16)
	se.found()
	if s.nOpen != k {
		return candidate{loose: math.MaxInt}, s.steps
	}
	se.count = k
	se.bestValue, se.bestLoose = math.MaxInt64, math.MaxInt
	se.keep()
	heat := s.value() / int64(max(1, len(so.m.types))) / 4
	se.run(steps, heat, 0, so.opt.Cancelled)
	return se.found(), s.steps
}

func (c candidate) stations() int {
	n := 0
	for _, open := range c.at.open {
		if open {
			n++
		}
	}
	return n
}

// curve returns the best cost found for the numbers of stations around that of the best design, on the tariff and what was
// learned of it.
func (so *solver) curve(best candidate) []CurvePoint {
	k := best.stations()
	var numbers []int
	for n := k - 6; n <= k+6; n++ {
		if n != k {
			numbers = append(numbers, n)
		}
	}
	list := append(so.withCounts(numbers, so.opt.Steps/2), so.reprice(best))
	var points []CurvePoint
	for _, c := range list {
		if c.loose > best.loose {
			continue
		}
		s := newState(so.m, so.learned)
		s.load(c.at)
		p := CurvePoint{Stations: s.nOpen, Cost: s.value()}
		for i := range s.slots {
			if s.slots[i].open {
				p.Places = append(p.Places, int(s.slots[i].place))
			}
		}
		points = append(points, p)
	}
	slices.SortFunc(points, func(a, b CurvePoint) int { return cmp.Compare(a.Stations, b.Stations) })
	return points
}
