package drawing

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"railwright/internal/demo"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/plan"
	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/scene/pdf"
	"railwright/internal/synth"
)

// look writes the drawings as PDF files to look at: go test ./internal/drawing -run TestLook -look DIR
var look = flag.String("look", "", "folder for the drawings as PDF files")

var lookOn = flag.String("look-on", "A4", "paper")

var lookAt = flag.String("look-at", "", "only this site")

// planned makes an input of a project.
func planned(p *project.Project) Input {
	d, err := plan.Run(p, hardware.Builtin(), plan.Options{Steps: 60})
	if err != nil {
		panic(err)
	}
	return Input{Design: d, Project: p, List: hardware.Builtin(), Setting: paper.Setting{
		Size: paper.A4, Wire: paper.MM2, Draft: true, Project: p.Name, Controller: p.Controller, Revision: p.Revision, Design: "1a2b3c4d",
	}}
}

func exampleIn(construction string) Input {
	files := folder.Files{}
	for _, f := range demo.Files() {
		files[f.Name] = f.Data
	}
	p := folder.Parse(files).Project
	p.Basis.Construction = construction
	return planned(p)
}

// The sites that tests draw: the example in each construction, a one-station project, and a station of
// forty slots. Each is planned once.
var sites = map[string]func() Input{
	"rail":  sync.OnceValue(func() Input { return exampleIn("rail") }),
	"slice": sync.OnceValue(func() Input { return exampleIn("slice") }),
	"block": sync.OnceValue(func() Input { return exampleIn("block") }),
	"one": sync.OnceValue(func() Input {
		return planned(made("rail", 24, synth.Seed(3)))
	}),
	"forty": sync.OnceValue(func() Input { return planned(made("rail", 520, synth.Seed(7))) }),
}

// packs are the numbered sheets of each site on A4; tests only read them.
var packs = func() map[string]func() []scene.Sheet {
	out := map[string]func() []scene.Sheet{}
	for name, site := range sites {
		out[name] = sync.OnceValue(func() []scene.Sheet { return pack(site()) })
	}
	return out
}()

// made is a site with one place for stations.
func made(construction string, signals int, from synth.Source) *project.Project {
	p := synth.Site(synth.Size{Signals: signals, Places: 4, Candidates: 1, Stations: 1, Plain: true}, synth.Balanced, from)
	p.Basis.Construction = construction
	return p
}

// pack draws a site and numbers its sheets.
func pack(in Input) []scene.Sheet {
	sheets := All(in)
	paper.Finish(in.Setting, sheets)
	return sheets
}

func TestLook(t *testing.T) {
	if *look == "" {
		t.Skip("no -look folder given")
	}
	for _, name := range sortedKeys(sites) {
		if *lookAt != "" && *lookAt != name {
			continue
		}
		in := sites[name]()
		in.Setting.Size = paper.Size(*lookOn)
		for _, st := range in.Design.Stations {
			t.Logf("%s: %s has %d slots, %d groups", name, st.ID, len(st.Slots), len(st.SupplyGroups))
		}
		kinds := map[string][]scene.Sheet{}
		for _, s := range pack(in) {
			kinds[s.Kind] = append(kinds[s.Kind], s)
		}
		if name == "rail" {
			for _, topology := range []string{"line", "ring", "tree"} {
				b := newBook(wired(in, topology))
				b.network()
				kinds["network-"+topology] = b.done()
			}
			kinds["boxed"] = pack(boxed(sites["one"]()))
		}
		for _, k := range sortedKeys(kinds) {
			data, err := pdf.Bytes(kinds[k], pdf.Info{Title: name})
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(*look, name+"-"+strings.ReplaceAll(k, " ", "-")+".pdf"), data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
