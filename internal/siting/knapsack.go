package siting

import (
	"cmp"
	"slices"
)

// bid is what a type offers a pool of one station: up to many units, each of size signals at reduced cost r < 0.
type bid struct {
	typ  int32
	size int32
	many int32
	r    int64
}

// filling solves the pool's subproblem of the bound: which bids to take so that the sum of reduced costs plus the floor
// price of the number of signals is least, with at most limit signals. One value serves one goroutine.
type filling struct {
	taken []int32 // per bid: units taken, after solve
	best  []int64 // least sum of reduced costs with at most n signals
	from  [][]int32
	units []unit
}

type unit struct {
	bid  int32
	size int32
	r    int64
}

func floorAt(floor []int64, n int) int64 {
	if len(floor) == 0 {
		return 0
	}
	return floor[min(n, len(floor)-1)]
}

// solve returns the least value, at most 0. If want is set, taken holds the choice.
func (f *filling) solve(bids []bid, floor []int64, limit int, want bool) int64 {
	if want {
		f.taken = append(f.taken[:0], make([]int32, len(bids))...)
	}
	if len(bids) == 0 {
		return 0
	}
	same := true
	total := 0
	for i := range bids {
		same = same && bids[i].size == bids[0].size
		total = min(total+int(bids[i].size)*int(bids[i].many), 1<<30)
	}
	limit = min(limit, total)
	if same || total <= limit && len(floor) == 0 {
		return f.sorted(bids, floor, limit, want)
	}
	return f.dynamic(bids, floor, limit, want)
}

// sorted is exact when all sizes are equal (or nothing limits the choice): the best n units are the n cheapest.
func (f *filling) sorted(bids []bid, floor []int64, limit int, want bool) int64 {
	slices.SortFunc(bids, func(a, b bid) int { return cmp.Or(cmp.Compare(a.r, b.r), cmp.Compare(a.typ, b.typ)) })
	var sum, best int64
	n, bestBid, bestUnits := 0, -1, int32(0)
	for i := range bids {
		b := &bids[i]
		for u := int32(1); u <= b.many && n+int(b.size) <= limit; u++ {
			n += int(b.size)
			sum += b.r
			if v := sum + floorAt(floor, n); v < best {
				best, bestBid, bestUnits = v, i, u
			}
		}
	}
	if want {
		for i := 0; i < bestBid; i++ {
			f.taken[i] = bids[i].many
		}
		if bestBid >= 0 {
			f.taken[bestBid] = bestUnits
		}
	}
	return best
}

// dynamic is the exact dynamic programme over the number of signals. Bids of several units are cut into packets of
// 1, 2, 4, ... units.
func (f *filling) dynamic(bids []bid, floor []int64, limit int, want bool) int64 {
	f.cut(bids, limit)
	f.best = append(f.best[:0], make([]int64, limit+1)...)
	words := limit/32 + 1
	if want {
		for len(f.from) < len(f.units) {
			f.from = append(f.from, nil)
		}
	}
	for i, u := range f.units {
		size := int(u.size)
		if !want {
			for n := limit; n >= size; n-- {
				if v := f.best[n-size] + u.r; v < f.best[n] {
					f.best[n] = v
				}
			}
			continue
		}
		f.from[i] = append(f.from[i][:0], make([]int32, words)...)
		row := f.from[i]
		for n := limit; n >= size; n-- {
			if v := f.best[n-size] + u.r; v < f.best[n] {
				f.best[n] = v
				row[n>>5] |= 1 << (n & 31)
			}
		}
	}
	var best int64
	at := 0
	for n := 0; n <= limit; n++ {
		if v := f.best[n] + floorAt(floor, n); v < best {
			best, at = v, n
		}
	}
	if want {
		for i := len(f.units) - 1; i >= 0; i-- {
			if f.from[i][at>>5]&(1<<(at&31)) != 0 {
				u := f.units[i]
				f.taken[u.bid] += u.size / bids[u.bid].size
				at -= int(u.size)
			}
		}
	}
	return best
}

func (f *filling) cut(bids []bid, limit int) {
	f.units = f.units[:0]
	for i, b := range bids {
		left := min(b.many, int32(limit)/b.size)
		for packet := int32(1); left > 0; packet *= 2 {
			k := min(packet, left)
			f.units = append(f.units, unit{int32(i), k * b.size, int64(k) * b.r})
			left -= k
		}
	}
}
