package schedule_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/schedule"
)

// fewest is the least number of drums of one length that hold the pieces, by trying everything.
func fewest(pieces []q.Millimetres, length q.Millimetres) int {
	best := len(pieces)
	var left []q.Millimetres
	var try func(i int)
	try = func(i int) {
		if len(left) >= best {
			return
		}
		if i == len(pieces) {
			best = len(left)
			return
		}
		for d := range left {
			if left[d] >= pieces[i] {
				left[d] -= pieces[i]
				try(i + 1)
				left[d] += pieces[i]
			}
		}
		left = append(left, length-pieces[i])
		try(i + 1)
		left = left[:len(left)-1]
	}
	try(0)
	return best
}

// Law: every piece is cut once, no drum is overrun, drums have usual lengths unless a piece fits none.
// With one length, at most 11/9 of the fewest drums and 6/9 of a drum are taken.
//
// Source: Dósa 2007, "The tight bound of first fit decreasing bin-packing algorithm is
// FFD(I) <= 11/9 OPT(I) + 6/9"; the fewest by exhaustive search.
func TestCutPlanKeepsItsLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lengths := rapid.SampledFrom([][]q.Millimetres{nil, {100_000}, {50_000, 100_000}, project.DefaultBasis().Cable.Drums}).Draw(t, "lengths")
		pieces := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) q.Millimetres {
			return q.Millimetres(rapid.IntRange(1, 1200).Draw(t, "dm")) * 100
		}), 0, 9).Draw(t, "pieces")
		plan := schedule.CutPlan(pieces, lengths)
		var cut []int
		for _, d := range plan {
			used := q.Millimetres(0)
			for _, i := range d.Pieces {
				used += pieces[i]
			}
			cut = append(cut, d.Pieces...)
			if used+d.Left != d.Length || d.Left < 0 || len(d.Pieces) == 0 {
				t.Fatalf("drum %+v holds %v", d, used)
			}
			if d.Made == slices.Contains(lengths, d.Length) && !(d.Made && d.Length == pieces[d.Pieces[0]]) {
				t.Fatalf("drum %+v of lengths %v", d, lengths)
			}
		}
		slices.Sort(cut)
		for i := range pieces {
			if i >= len(cut) || cut[i] != i {
				t.Fatalf("pieces cut: %v of %d", cut, len(pieces))
			}
		}
		if len(lengths) != 1 || len(pieces) == 0 || slices.Max(pieces) > lengths[0] {
			return
		}
		if opt := fewest(pieces, lengths[0]); 9*len(plan) > 11*opt+6 {
			t.Fatalf("%d drums, %d would do", len(plan), opt)
		}
	})
}

// A few plans worked out by hand.
func TestCutPlan(t *testing.T) {
	m := func(v ...q.Millimetres) []q.Millimetres {
		for i := range v {
			v[i] *= 1000
		}
		return v
	}
	for _, c := range []struct {
		name    string
		pieces  []q.Millimetres
		lengths []q.Millimetres
		drums   []q.Millimetres
	}{
		{"own arithmetic: 60+40 and 50+50 fill two drums of 100", m(50, 40, 60, 50), m(100), m(100, 100)},
		{"own arithmetic: 30 fits the least drum", m(30), m(50, 100), m(50)},
		{"own arithmetic: 60+60+60 buys 200 of one drum, 300 of three", m(60, 60, 60), m(100, 200), m(200)},
		{"own arithmetic: 1500 is longer than any drum", m(1500, 80), m(100, 1000), m(1500, 100)},
	} {
		var got []q.Millimetres
		for _, d := range schedule.CutPlan(c.pieces, c.lengths) {
			got = append(got, d.Length)
		}
		if !slices.Equal(got, c.drums) {
			t.Errorf("%s: drums %v, want %v", c.name, got, c.drums)
		}
	}
}
