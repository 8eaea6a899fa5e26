package siting

import "math/bits"

// shares splits a reduced cost over the pools a bundle touches, in proportion to their weights, into out: each share rounded
// down, and what is left handed out one by one to the largest remainders, the earlier pool first among equals. So the shares
// are integers that add up to r exactly, none of them of the other sign.
func shares(r int64, pools []poolPart, out []int64) {
	if len(pools) == 1 {
		out[0] = r
		return
	}
	var total int64
	for _, p := range pools {
		total += p.weight
	}
	var few [8]int64
	rest := few[:0]
	left := r
	for i, p := range pools {
		share, rem := mulDivFloor(r, p.weight, total)
		out[i] = share
		rest = append(rest, rem)
		left -= share
	}
	for ; left > 0; left-- {
		best := 0
		for i := range rest {
			if rest[i] > rest[best] {
				best = i
			}
		}
		out[best]++
		rest[best] = -1
	}
}

// mulDivFloor returns floor(a * b / c) and the remainder (0 <= rem < c) for 0 <= b <= c, c > 0, exactly.
func mulDivFloor(a, b, c int64) (quo, rem int64) {
	neg := a < 0
	u := uint64(a)
	if neg {
		u = -u
	}
	hi, lo := bits.Mul64(u, uint64(b))
	q, r := bits.Div64(hi, lo, uint64(c))
	if !neg {
		return int64(q), int64(r)
	}
	if r == 0 {
		return -int64(q), 0
	}
	return -int64(q) - 1, c - int64(r)
}
