package siting

import (
	"testing"

	"pgregory.net/rapid"
)

// TestShares checks that shares add up and stay within one unit of the exact proportion.
func TestShares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Int64Range(-1e13, 1e13).Draw(t, "r")
		var pools []poolPart
		var total int64
		for _, w := range rapid.SliceOfN(rapid.Int64Range(1, 1e6), 1, 5).Draw(t, "weights") {
			pools = append(pools, poolPart{weight: w})
			total += w
		}
		out := make([]int64, len(pools))
		shares(r, pools, out)
		var sum int64
		for i, s := range out {
			sum += s
			exact := float64(r) * float64(pools[i].weight) / float64(total)
			if d := float64(s) - exact; d < -1.01 || d > 1.01 {
				t.Fatalf("share %d of %d is %d, exactly %g", i, r, s, exact)
			}
		}
		if sum != r {
			t.Fatalf("shares of %d add up to %d", r, sum)
		}
	})
}

// TestFilling compares the subproblem's solution with trying every choice.
func TestFilling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		count := rapid.IntRange(0, 5).Draw(t, "bids")
		sizes := rapid.SampledFrom([]int32{1, 2, 3}).Draw(t, "largest")
		var bids []bid
		for i := range count {
			bids = append(bids, bid{int32(i), rapid.Int32Range(1, sizes).Draw(t, "size"), rapid.Int32Range(1, 3).Draw(t, "many"), rapid.Int64Range(-20, -1).Draw(t, "r")})
		}
		floor := []int64{0}
		for range rapid.IntRange(0, 8).Draw(t, "floor") {
			floor = append(floor, floor[len(floor)-1]+rapid.Int64Range(0, 15).Draw(t, "step"))
		}
		if rapid.Bool().Draw(t, "free") {
			floor = nil
		}
		limit := rapid.IntRange(0, 12).Draw(t, "limit")
		want := tryAll(bids, floor, limit, 0, 0)
		var f filling
		if got := f.solve(bids, floor, limit, false); got != want {
			t.Fatalf("got %d, want %d", got, want)
		}
		if got := f.solve(bids, floor, limit, true); got != want {
			t.Fatalf("with choice: got %d, want %d", got, want)
		}
		n, sum := 0, int64(0)
		for i, taken := range f.taken {
			if taken > bids[i].many {
				t.Fatalf("took %d of %d", taken, bids[i].many)
			}
			n += int(taken * bids[i].size)
			sum += int64(taken) * bids[i].r
		}
		if n > limit || sum+floorAt(floor, n) != want {
			t.Fatalf("choice of %d signals costs %d, want %d", n, sum+floorAt(floor, n), want)
		}
	})
}

func tryAll(bids []bid, floor []int64, limit, n int, sum int64) int64 {
	if n > limit {
		return 0
	}
	if len(bids) == 0 {
		return min(0, sum+floorAt(floor, n))
	}
	best := int64(0)
	for u := int32(0); u <= bids[0].many; u++ {
		best = min(best, tryAll(bids[1:], floor, limit, n+int(u*bids[0].size), sum+int64(u)*bids[0].r))
	}
	return best
}
