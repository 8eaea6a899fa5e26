package app

import (
	"context"
	"testing"

	"railwright/internal/design"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/plan"
	"railwright/internal/synth"
)

// BenchmarkDocuments measures the whole command over the example, planning included.
func BenchmarkDocuments(b *testing.B) {
	for b.Loop() {
		if _, err := Documents(context.Background(), DocumentsRequest{Example: true, Out: b.TempDir()}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkDocumentsLarge measures the documents of 5,000 signals, without planning them.
func BenchmarkDocumentsLarge(b *testing.B) {
	p := synth.Site(synth.Size{Signals: 5000, Places: 60, Candidates: 30, Stations: 30}, synth.Balanced, synth.Seed(1))
	s := &source{folder: &folder.Folder{}, project: p, hardware: hardware.Builtin()}
	d, err := plan.Run(p, s.hardware, plan.Options{Steps: 300, Input: design.Input{SHA256: "1a2b3c4d"}})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		res := &DocumentsResult{}
		files, err := render(context.Background(), s.documents(d, "plan", paper.Setting{Size: paper.A3, Draft: true}), res, nil)
		if err != nil {
			b.Fatal(err)
		}
		if err := writeSet(b.TempDir(), files, false); err != nil {
			b.Fatal(err)
		}
		size := 0
		for _, f := range files {
			size += len(f.Data)
		}
		b.ReportMetric(float64(res.Sheets), "sheets")
		b.ReportMetric(float64(size)/1e6, "MB")
	}
}
