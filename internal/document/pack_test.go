package document_test

import (
	"os"
	"path/filepath"
	"sync"
	"testing"

	"railwright/internal/check"
	"railwright/internal/demo"
	"railwright/internal/design"
	"railwright/internal/document"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/plan"
	"railwright/internal/scene"
	"railwright/internal/scene/pdf"
	"railwright/internal/scene/scenetest"
	"railwright/internal/schedule"
)

// planned is an input made from the example in one construction.
func planned(construction string) document.Input {
	files := folder.Files{}
	for _, f := range demo.Files() {
		files[f.Name] = f.Data
	}
	src := folder.Parse(files)
	p := src.Project
	p.Basis.Construction = construction
	list := hardware.Builtin()
	d, err := plan.Run(p, list, plan.Options{Findings: src.Findings, Unplaced: src.LeftOut, Input: design.Input{SHA256: src.SHA256}})
	if err != nil {
		panic(err)
	}
	in := document.Input{
		Design: d, Project: p, Hardware: list, Tables: schedule.All(d, p),
		Setting: paper.Setting{Size: paper.A4, Draft: true, Project: p.Name, Controller: p.Controller, Revision: p.Revision, Design: src.SHA256[:8]},
	}
	for _, r := range check.All() {
		in.Rules = append(in.Rules, document.Rule{Code: r.Code, Title: r.Title, Source: r.Source})
	}
	return in
}

var (
	rail  = sync.OnceValue(func() document.Input { return planned("rail") })
	slice = sync.OnceValue(func() document.Input { return planned("slice") })
	block = sync.OnceValue(func() document.Input { return planned("block") })
)

// TestLaws: in every construction each text of the pack lies in its cell and frame, none over another.
func TestLaws(t *testing.T) {
	for name, in := range map[string]func() document.Input{"rail": rail, "slice": slice, "block": block} {
		t.Run(name, func(t *testing.T) {
			scenetest.Check(t, document.All(document.Pack(in(), nil)))
		})
	}
}

// TestLook writes the pack where RAILWRIGHT_LOOK says, for a person to look at.
func TestLook(t *testing.T) {
	dir := os.Getenv("RAILWRIGHT_LOOK")
	if dir == "" {
		t.Skip("RAILWRIGHT_LOOK names no folder")
	}
	in := map[string]func() document.Input{"": rail, "rail": rail, "slice": slice, "block": block}[os.Getenv("RAILWRIGHT_CONSTRUCTION")]()
	for _, c := range document.Pack(in, nil) {
		write(t, filepath.Join(dir, c.Key+".pdf"), c.Sheets)
	}
}

func write(t *testing.T, path string, sheets []scene.Sheet) {
	data, err := pdf.Bytes(sheets, pdf.Info{Title: filepath.Base(path)})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
}
