package document_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/design/designtest"
	"railwright/internal/document"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/scene"
	"railwright/internal/schedule"
)

var update = flag.Bool("update", false, "write the golden texts anew")

// sample is the small design made by hand, with its project.
func sample() document.Input {
	opt := func(x float64) q.Opt[float64] { return q.Opt[float64]{Value: x, Set: true} }
	p := &project.Project{Name: "Sample yard", Controller: "K1", Revision: "A", Signals: []project.Signal{
		{ID: "s1", Tag: "LS-1", Description: "sump high", Kind: project.DI, Form: "contact", Contact: "NO", Place: "PUMP", Device: "LS-1"},
		{ID: "s2", Tag: "=A1-LS-2", Description: "sump low", Kind: project.DI, Form: "contact", Contact: "NC", Place: "PUMP", Device: "LS-1"},
		{ID: "s3", Tag: "P-1", Description: "pump runs", Kind: project.DO, Form: "24v", Place: "PUMP", Device: "P-1", SafeState: "0", Hold: "coil to be confirmed"},
		{ID: "s4", Tag: "LT-1", Description: "tank level", Kind: project.AI, Form: "4-20ma", Active: "passive", Place: "TANK", Device: "LT-1", RangeLow: opt(0), RangeHigh: opt(4), Unit: "m", AlarmHigh: opt(3.5)},
	}}
	d := designtest.Sample()
	return document.Input{
		Design: d, Project: p, Hardware: hardware.Builtin(), Tables: schedule.All(d, p),
		Rules: []document.Rule{
			{Code: "GRP-001", Title: "Supply group overloaded", Source: "common-practice"},
			{Code: "POW-003", Title: "Voltage at the infeed point", Source: "iec-61131-2#supply"},
		},
		Setting: paper.Setting{Size: paper.A4, Draft: true, Project: p.Name, Controller: p.Controller, Revision: p.Revision, Design: "0f1e2d3c"},
	}
}

// TestGolden holds the text of each kind of sheet against testdata/NAME.txt: every line of text in the
// order in which it is drawn, by sheet. go test ./internal/document -run Golden -update writes them anew.
func TestGolden(t *testing.T) {
	in := sample()
	german := in
	german.Setting.Language, german.Setting.Wire = "de", paper.AWG
	for name, sheets := range map[string][]scene.Sheet{
		"report": document.Report(in), "guide": document.Guides(in), "verification": document.Verifications(in), "loop-sheets": document.LoopSheets(in),
		"labels": document.Labels(in), "loop-sheets-german-awg": document.LoopSheets(german),
	} {
		t.Run(name, func(t *testing.T) {
			paper.Finish(in.Setting, sheets)
			got := textOf(sheets)
			path := filepath.Join("testdata", name+".txt")
			if *update {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("-want +got (read it; -update writes it anew)\n%s", diff)
			}
		})
	}
}

// textOf is the text of sheets; texts on one height stand on one line, parted by " | ".
func textOf(sheets []scene.Sheet) string {
	var b strings.Builder
	for i := range sheets {
		s := &sheets[i]
		b.WriteString("=== " + s.ID + " (" + s.Kind + "): " + s.Title + "\n")
		last := -1.0
		s.Text(func(layer string, it *scene.Item) {
			if layer == "frame" {
				return
			}
			switch {
			case last < 0:
			case it.Text.At.Y == last:
				b.WriteString(" | ")
			default:
				b.WriteString("\n")
			}
			last = it.Text.At.Y
			b.WriteString(it.Text.Words)
		})
		b.WriteString("\n")
	}
	return b.String()
}
