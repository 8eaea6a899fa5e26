package plan_test

import (
	"testing"

	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/synth"
)

// The size that the plan must take in its stride: 1,000 signals over 40 places with 20 candidates.
func BenchmarkPlan1000(b *testing.B) {
	p := synth.Site(synth.Size{Signals: 1000, Places: 40, Candidates: 20}, synth.Balanced, synth.Seed(1))
	b.ReportAllocs()
	for b.Loop() {
		d, err := plan.Run(p, hardware.Builtin(), plan.Options{})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(100*d.Siting.Gap, "gap-%")
		b.ReportMetric(float64(len(d.Stations)), "stations")
		b.ReportMetric(float64(len(d.Unplaced)), "unplaced")
	}
}
