package packing_test

import (
	"math/rand/v2"
	"testing"

	"railwright/internal/packing"
)

// BenchmarkCost asks for changing sets of 50 signals at one place, as siting does.
func BenchmarkCost(b *testing.B) {
	for _, c := range []string{"rail", "slice", "block"} {
		b.Run(c, func(b *testing.B) {
			const n = 1000
			place := builtinPlace(b, c, mixed(1, n), nil)
			rnd := rand.New(rand.NewPCG(1, 2))
			bad := 0
			for b.Loop() {
				set := make([]int, 0, 50)
				for range 50 {
					set = append(set, rnd.IntN(n))
				}
				if _, ok := packing.Cost(packing.Order{Place: place, Signals: set}); !ok {
					bad++
				}
			}
			b.ReportMetric(float64(bad)/float64(b.N), "refused/op")
		})
	}
}

// BenchmarkCostEdits asks for a set of about 50 signals that changes by one or two each time, as a
// search by shifts and exchanges does.
func BenchmarkCostEdits(b *testing.B) {
	for _, c := range []string{"rail", "slice", "block"} {
		b.Run(c, func(b *testing.B) {
			const n = 1000
			place := builtinPlace(b, c, mixed(1, n), nil)
			rnd := rand.New(rand.NewPCG(1, 2))
			set := all(50)
			for b.Loop() {
				set[rnd.IntN(len(set))] = rnd.IntN(n)
				_, _ = packing.Cost(packing.Order{Place: place, Signals: set})
			}
		})
	}
}
