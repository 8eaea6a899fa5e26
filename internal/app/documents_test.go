package app

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"railwright/internal/design"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/plan"
	"railwright/internal/synth"
)

func documents1(t *testing.T, r DocumentsRequest) *DocumentsResult {
	t.Helper()
	res, err := Documents(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// TestDocumentsSame: the same folder gives the same bytes; paper and language change sheets, but no file that
// machines read; what was written before is replaced, not refused.
func TestDocumentsSame(t *testing.T) {
	dir, out := yard(t), t.TempDir()
	first := documents1(t, DocumentsRequest{Folder: dir, Out: out})
	before := map[string]string{}
	for _, name := range first.Files {
		before[name] = read(t, filepath.Join(out, name))
	}
	for _, want := range []string{"pack.pdf", "0-cover.pdf", "1-report.pdf", "2-drawings.pdf", "3-schedules.pdf", "4-assembly.pdf", "5-verification.pdf", "6-loop-sheets.pdf", "7-labels.pdf", "schedules.xlsx", "design.json", "csv/wires.csv"} {
		if before[want] == "" {
			t.Errorf("no %s", want)
		}
	}
	for name, data := range before {
		if drawing, ok := strings.CutSuffix(name, ".svg"); ok && before[drawing+".dxf"] == "" {
			t.Errorf("%s has no DXF beside it", name)
		}
		if strings.HasSuffix(name, ".pdf") && !strings.HasPrefix(data, "%PDF-") {
			t.Errorf("%s is no PDF", name)
		}
	}
	again := documents1(t, DocumentsRequest{Folder: dir, Out: out})
	if !slices.Equal(first.Files, again.Files) || first.Sheets != again.Sheets {
		t.Errorf("another run wrote %d files of %d sheets, %d of %d before", len(again.Files), again.Sheets, len(first.Files), first.Sheets)
	}
	for name, data := range before {
		if read(t, filepath.Join(out, name)) != data {
			t.Errorf("%s has other bytes on another run", name)
		}
	}
	documents1(t, DocumentsRequest{Folder: dir, Out: out, Language: "de", Paper: "Tabloid"})
	for name, data := range before {
		now, err := os.ReadFile(filepath.Join(out, filepath.FromSlash(name)))
		machine := name == "design.json" || strings.HasSuffix(name, ".csv")
		switch {
		case machine && (err != nil || string(now) != data):
			t.Errorf("%s changed with the language", name)
		case name == "pack.pdf" && string(now) == data:
			t.Error("the pack is the same in German on other paper")
		}
	}
}

// TestDocumentsDraft: sheets are stamped until the design is accepted, and again while a signal is on hold.
// A sign that the fonts lack is named.
func TestDocumentsDraft(t *testing.T) {
	dir, out := yard(t), t.TempDir()
	if res := documents1(t, DocumentsRequest{Folder: dir, Out: out}); res.Of != "plan" || len(res.Draft) != 1 || !strings.Contains(res.Draft[0], "not accepted") || res.Unfit != "" {
		t.Errorf("a plan: %q of %q, signs %q", res.Draft, res.Of, res.Unfit)
	}
	put(t, filepath.Join(dir, "project.toml"), strings.Replace(yardProject, "[network]", "revision = \"B\"\ndate = \"2026-03-01\"\n[network]", 1))
	plan1(t, PlanRequest{Folder: dir, Accept: true})
	if res := documents1(t, DocumentsRequest{Folder: dir, Out: out}); res.Of != "accepted" || len(res.Draft) != 0 {
		t.Errorf("accepted: %q of %q", res.Draft, res.Of)
	}
	put(t, filepath.Join(dir, "signals.csv"), "tag,kind,form,place,device,description,hold\nLS-101,DI,contact,PUMPS,LS-101,\u6c34 high,to be confirmed\n")
	plan1(t, PlanRequest{Folder: dir, Accept: true})
	res := documents1(t, DocumentsRequest{Folder: dir, Out: out})
	if len(res.Draft) != 1 || res.Draft[0] != "1 hold open in the signal list" || res.Unfit != "\u6c34" {
		t.Errorf("on hold: %q, signs %q", res.Draft, res.Unfit)
	}
}

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
