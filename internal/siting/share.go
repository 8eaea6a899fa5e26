package siting

import "math/bits"

// shares splits a reduced cost over the pools a bundle touches, in proportion to their weights, into out. With W the sum
// of the weights and A_i the sum of the first i of them (pools ascending), share i is
//
//	floor(r * A_i / W) - floor(r * A_(i-1) / W)
//
// so that the shares are integers that add up to r exactly, whatever its sign.
func shares(r int64, pools []poolPart, out []int64) {
	if len(pools) == 1 {
		out[0] = r
		return
	}
	var total, sum, before int64
	for _, p := range pools {
		total += p.weight
	}
	for i, p := range pools {
		sum += p.weight
		upTo := mulDivFloor(r, sum, total)
		out[i] = upTo - before
		before = upTo
	}
}

// mulDivFloor returns floor(a * b / c) for 0 <= b <= c, c > 0, exactly.
func mulDivFloor(a, b, c int64) int64 {
	neg := a < 0
	u := uint64(a)
	if neg {
		u = -u
	}
	hi, lo := bits.Mul64(u, uint64(b))
	quo, rem := bits.Div64(hi, lo, uint64(c))
	if !neg {
		return int64(quo)
	}
	if rem != 0 {
		quo++
	}
	return -int64(quo)
}
