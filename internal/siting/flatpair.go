package siting

import "math"

// pairing redistributes what two (or, for what is left out, two and one more) places hold at least cost: exact, by dynamic
// programming over the load of the first. It finds the exchanges of several bundles that single moves cannot.
type pairing struct {
	items []int32
	best  []int64
	from  []uint64
	words int
}

const unreached = math.MaxInt64 / 4

// solvePair finds the cheapest way to split s.pair.items over p and q, with the price on what is too much, and returns its
// cost and the load of p.
func (s *flatState) solvePair(p, q int32, total int32) (cost int64, at int) {
	f, pr := s.f, &s.pair
	limit := int(min(f.room[p]+f.room[p]/16, total))
	pr.best = append(pr.best[:0], make([]int64, limit+1)...)
	for n := 1; n <= limit; n++ {
		pr.best[n] = unreached
	}
	pr.words = limit/64 + 1
	need := pr.words * len(pr.items)
	if cap(pr.from) < need {
		pr.from = make([]uint64, need)
	}
	pr.from = pr.from[:need]
	clear(pr.from)
	reach := 0
	for i, j := range pr.items {
		size, delta := int(f.size[j]), f.at(j, p)-f.at(j, q)
		cost += f.at(j, q)
		reach = min(limit, reach+size)
		row := pr.from[i*pr.words : (i+1)*pr.words]
		for n := reach; n >= size; n-- {
			if v := pr.best[n-size]; v < unreached && v+delta < pr.best[n] {
				pr.best[n] = v + delta
				row[n>>6] |= 1 << (n & 63)
			}
		}
	}
	least := int64(math.MaxInt64)
	for n := 0; n <= limit; n++ {
		if pr.best[n] >= unreached {
			continue
		}
		over := tooMuch(f.room[p]-int32(n)) + tooMuch(f.room[q]-total+int32(n))
		if v := pr.best[n] + int64(over)*s.price; v < least {
			least, at = v, n
		}
	}
	return cost + least, at
}

// applyPair carries out what solvePair found.
func (s *flatState) applyPair(p, q int32, at int) {
	pr := &s.pair
	for i := len(pr.items) - 1; i >= 0; i-- {
		j := pr.items[i]
		if pr.from[i*pr.words+at>>6]&(1<<(at&63)) != 0 {
			s.shift(j, p)
			at -= int(s.f.size[j])
		} else {
			s.shift(j, q)
		}
	}
}

// improvePair redistributes what two places hold. It reports whether the cost fell.
func (s *flatState) improvePair(p, q int32) bool {
	f, pr := s.f, &s.pair
	pr.items = append(append(pr.items[:0], s.held[p]...), s.held[q]...)
	now, least, total := int64(0), int64(0), int32(0)
	for _, j := range pr.items {
		a, b := f.at(j, p), f.at(j, q)
		if a >= Forbidden || b >= Forbidden {
			return false
		}
		now += f.at(j, s.to[j])
		least += min(a, b)
		total += f.size[j]
	}
	now += int64(tooMuch(s.left[p])+tooMuch(s.left[q])) * s.price
	least += int64(tooMuch(f.room[p]+f.room[q]-total)) * s.price
	if least >= now {
		return false
	}
	s.moves += int64(len(pr.items)) * int64(min(f.room[p], total)) / 64
	cost, at := s.solvePair(p, q, total)
	if cost >= now {
		return false
	}
	s.applyPair(p, q, at)
	return true
}

// polish improves pairs of places until none improves.
func (s *flatState) polish() {
	var list []int32
	for p := range s.f.places {
		if s.open[p] {
			list = append(list, int32(p))
		}
	}
	stale := make([]bool, s.f.places)
	for again := true; again; {
		again = false
		changed := make([]bool, s.f.places)
		for i, p := range list {
			for _, q := range list[:i] {
				if !(stale[p] && stale[q]) && s.improvePair(p, q) {
					changed[p], changed[q], again = true, true, true
				}
			}
		}
		for p := range stale {
			stale[p] = !changed[p]
		}
	}
	s.log = s.log[:0]
	s.record()
}
