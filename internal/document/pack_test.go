package document_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/check"
	"railwright/internal/demo"
	"railwright/internal/design"
	"railwright/internal/document"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/plan"
	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/scene/pdf"
	"railwright/internal/scene/scenetest"
	"railwright/internal/schedule"
	"railwright/internal/synth"
)

// look writes the pack to look at: go test ./internal/document -run TestLook -look DIR -look-at slice
var (
	look   = flag.String("look", "", "folder for the chapters as PDF files")
	lookAt = flag.String("look-at", "rail", "site to look at")
	lookIn = flag.String("look-in", "en", "language to look at")
)

// planned is an input made of a project.
func planned(p *project.Project) document.Input {
	list := hardware.Builtin()
	d, err := plan.Run(p, list, plan.Options{Steps: 300, Input: design.Input{SHA256: "1a2b3c4d5e6f"}})
	if err != nil {
		panic(err)
	}
	in := document.Input{
		Design: d, Project: p, Hardware: list, Tables: schedule.Make(schedule.Input{Design: d, Project: p, Hardware: list}),
		Setting: paper.Setting{Size: paper.A4, Draft: true, Project: p.Name, Controller: p.Controller, Revision: p.Revision, Design: "1a2b3c4d"},
	}
	for _, r := range check.All() {
		in.Rules = append(in.Rules, document.Rule{Code: r.Code, Title: r.Title, Source: r.Source})
	}
	return in
}

func example(construction string) document.Input {
	files := folder.Files{}
	for _, f := range demo.Files() {
		files[f.Name] = f.Data
	}
	p := folder.Parse(files).Project
	p.Basis.Construction = construction
	return planned(p)
}

// made is a site with one place for stations.
func made(signals int, from synth.Source) document.Input {
	return planned(synth.Site(synth.Size{Signals: signals, Places: 4, Candidates: 1, Stations: 1, Plain: true}, synth.Balanced, from))
}

// sites are what the tests print, each planned once.
var sites = map[string]func() document.Input{
	"rail":  sync.OnceValue(func() document.Input { return example("rail") }),
	"slice": sync.OnceValue(func() document.Input { return example("slice") }),
	"block": sync.OnceValue(func() document.Input { return example("block") }),
	"one":   sync.OnceValue(func() document.Input { return made(24, synth.Seed(3)) }),
	"forty": sync.OnceValue(func() document.Input { return made(420, synth.Seed(7)) }),
}

// rail is the example's pack on rail stations, as many tests read it.
var rail = sync.OnceValue(func() []document.Chapter { return document.Pack(sites["rail"](), nil) })

// TestLaws: in every construction, for one small station and for a very long one, each text of the pack
// lies in its cell and frame, none over another, and every sheet says that it is no issue to build from.
func TestLaws(t *testing.T) {
	for name, in := range sites {
		t.Run(name, func(t *testing.T) {
			sheets := document.All(document.Pack(in(), nil))
			scenetest.Check(t, sheets)
			for i := range sheets {
				if !says(&sheets[i], "status", "NOT FOR CONSTRUCTION") {
					t.Errorf("sheet %s is not stamped", sheets[i].ID)
				}
			}
		})
	}
}

// TestSettings: each paper, gauge and language keeps the laws too; a design that is accepted bears no
// stamp; a design is not touched by being printed.
func TestSettings(t *testing.T) {
	in := sites["one"]()
	before, err := design.Encode(in.Design)
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range paper.Sizes {
		for _, language := range []string{"en", "de"} {
			in.Setting.Size, in.Setting.Wire, in.Setting.Draft, in.Setting.Language = size, paper.AWG, false, "en"
			if language == "de" {
				in.Setting.Language = "de"
			}
			sheets := document.All(document.Pack(in, nil))
			scenetest.Check(t, sheets)
			w, h := size.Half().Portrait()
			gauge := false
			for i := range sheets {
				s := &sheets[i]
				if says(s, "status", "") {
					t.Errorf("%s: sheet %s is stamped", size, s.ID)
				}
				if min(s.Width, s.Height) != w || max(s.Width, s.Height) != h {
					t.Errorf("%s: sheet %s is %v x %v", size, s.ID, s.Width, s.Height)
				}
				gauge = gauge || says(s, "", "AWG 18 (0.75 mm²)") // ASTM B258: AWG 18 is 0.823 mm2, AWG 20 only 0.518
			}
			if !gauge {
				t.Errorf("%s: no gauge is printed", size)
			}
		}
	}
	after, err := design.Encode(in.Design)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(before, after) {
		t.Error("printing changed the design")
	}
}

// TestRandomSites: sites of any kind keep the laws.
func TestRandomSites(t *testing.T) {
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		signals, seed := rapid.IntRange(1, 40).Draw(t, "signals"), rapid.Uint64().Draw(t, "seed")
		if n++; n > 12 {
			return // each costs a plan
		}
		p := synth.Site(synth.Size{Signals: signals, Places: 5, Candidates: 3, Stations: 3}, synth.Balanced, synth.Seed(seed))
		p.Basis.Construction = rapid.SampledFrom([]string{"rail", "slice", "block"}).Draw(t, "construction")
		if faults := scenetest.Faults(document.All(document.Pack(planned(p), nil))); len(faults) > 0 {
			t.Fatal(strings.Join(faults[:min(5, len(faults))], "\n"))
		}
	})
}

// TestSameBytes: the same design gives the same files.
func TestSameBytes(t *testing.T) {
	in := sites["rail"]()
	var first []byte
	for range 2 {
		data, err := pdf.Bytes(document.All(document.Pack(in, nil)), pdf.Info{Title: "x"})
		if err != nil {
			t.Fatal(err)
		}
		if first != nil && !bytes.Equal(first, data) {
			t.Error("another run gave other bytes")
		}
		first = data
	}
}

// TestContents: each chapter is in the contents, and each line of them leads to the sheet that it names.
func TestContents(t *testing.T) {
	chapters := rail()
	number := map[string]string{}
	for _, s := range document.All(chapters) {
		number[s.ID] = s.Number
	}
	lines := 0
	for i := range chapters[0].Sheets {
		chapters[0].Sheets[i].Text(func(_ string, it *scene.Item) {
			if it.Role == paper.RoleSheet {
				lines++
				if it.Text.Words != number[it.Text.Sheet] {
					t.Errorf("%s is called %s", it.Text.Sheet, it.Text.Words)
				}
			}
		})
	}
	if lines < len(chapters)-1 {
		t.Errorf("%d lines for %d chapters", lines, len(chapters))
	}
	keys := []string{}
	for _, c := range chapters {
		keys = append(keys, c.Key)
	}
	if want := []string{"cover", "report", "schedules", "assembly", "verification", "loop-sheets", "labels"}; !slices.Equal(keys, want) {
		t.Errorf("chapters %q", keys)
	}
}

// TestLook writes the pack for a person to look at.
func TestLook(t *testing.T) {
	if *look == "" {
		t.Skip("no -look folder given")
	}
	in := sites[*lookAt]()
	if *lookIn == "de" {
		in.Setting.Language = "de"
	}
	for _, c := range document.Pack(in, nil) {
		data, err := pdf.Bytes(c.Sheets, pdf.Info{Title: c.Title})
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(*look, c.Key+".pdf"), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// says reports whether a sheet has a text of the role ("" = any) with the words in it.
func says(s *scene.Sheet, role, words string) bool {
	found := false
	s.Text(func(_ string, it *scene.Item) {
		found = found || (role == "" || it.Role == role) && strings.Contains(it.Text.Words, words)
	})
	return found
}
