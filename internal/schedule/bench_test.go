package schedule_test

import (
	"testing"

	"railwright/internal/schedule"
)

// BenchmarkExample makes the schedules of the example's 489 signals, held against the same design; the
// work grows with the signals.
func BenchmarkExample(b *testing.B) {
	in := example("rail")
	in.Previous = in.Design
	b.ResetTimer()
	for range b.N {
		schedule.Make(in)
	}
}
