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

	core, settled, chosen []unit // scratch of reduced
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
	if len(floor) == 0 {
		return f.reduced(bids, limit, want)
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

// reduced is exact where signals have no price, only a limit: the plain knapsack. Bids are ranked by reduced cost per
// signal; those that the linear bound shows to be in (or out of) every better choice than the greedy one are settled, and the
// dynamic programme runs over the few that remain. (Dembo and Hammer, "A reduction algorithm for knapsack problems",
// Methods of Operations Research 36, 1980.)
func (f *filling) reduced(bids []bid, limit int, want bool) int64 {
	slices.SortFunc(bids, func(a, b bid) int {
		return cmp.Or(cmp.Compare(a.r*int64(b.size), b.r*int64(a.size)), cmp.Compare(a.typ, b.typ))
	})
	f.cut(bids, limit)
	breakAt, left, prefix := len(f.units), limit, int64(0)
	for i, u := range f.units {
		if int(u.size) > left {
			breakAt = i
			break
		}
		left -= int(u.size)
		prefix += u.r
	}
	if breakAt == len(f.units) {
		f.takeUnits(bids, f.units, want)
		return prefix
	}
	greedy := prefix
	f.chosen = f.chosen[:0]
	room := left
	for _, u := range f.units[breakAt:] {
		if int(u.size) <= room {
			room -= int(u.size)
			greedy += u.r
			f.chosen = append(f.chosen, u)
		}
	}
	b := f.units[breakAt]
	linear := prefix + divFloor(int64(left)*b.r, int64(b.size))
	f.core = f.core[:0]
	f.settled = f.settled[:0]
	value, space := int64(0), limit
	for i, u := range f.units {
		at := divFloor(int64(u.size)*b.r, int64(b.size)) // what its room is worth at the break
		if i < breakAt && linear-u.r+at >= greedy {
			f.settled = append(f.settled, u)
			value += u.r
			space -= int(u.size)
		} else if i < breakAt || linear+u.r-at-1 < greedy {
			f.core = append(f.core, u)
		}
	}
	if best := f.overCore(space, want); value+best < greedy {
		if want {
			f.takeUnits(bids, f.settled, true)
			f.trace(bids, space)
		}
		return value + best
	}
	if want {
		f.takeUnits(bids, f.units[:breakAt], true)
		f.takeUnits(bids, f.chosen, true)
	}
	return greedy
}

func (f *filling) takeUnits(bids []bid, units []unit, want bool) {
	if want {
		for _, u := range units {
			f.taken[u.bid] += u.size / bids[u.bid].size
		}
	}
}

// overCore is the dynamic programme over f.core with the given room.
func (f *filling) overCore(space int, want bool) int64 {
	f.best = append(f.best[:0], make([]int64, space+1)...)
	for len(f.from) < len(f.core) {
		f.from = append(f.from, nil)
	}
	for i, u := range f.core {
		size := int(u.size)
		row := f.from[i]
		if want {
			row = append(row[:0], make([]int32, space/32+1)...)
			f.from[i] = row
		}
		for n := space; n >= size; n-- {
			if v := f.best[n-size] + u.r; v < f.best[n] {
				f.best[n] = v
				if want {
					row[n>>5] |= 1 << (n & 31)
				}
			}
		}
	}
	return f.best[space]
}

// trace adds to taken what overCore chose.
func (f *filling) trace(bids []bid, at int) {
	for i := len(f.core) - 1; i >= 0; i-- {
		if f.from[i][at>>5]&(1<<(at&31)) != 0 {
			u := f.core[i]
			f.taken[u.bid] += u.size / bids[u.bid].size
			at -= int(u.size)
		}
	}
}

// divFloor returns floor(a / b) for b > 0.
func divFloor(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
