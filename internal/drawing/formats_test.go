package drawing

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"railwright/internal/peer"
	"railwright/internal/scene"
	"railwright/internal/scene/dxf"
	"railwright/internal/scene/pdf"
	"railwright/internal/scene/svg"
	"railwright/internal/synth"
)

// Every SVG of the example is accepted by xmllint (libxml2).
func TestSVGLint(t *testing.T) {
	lint := peer.Need(t, "xmllint")
	dir := t.TempDir()
	args := []string{"--noout", "--nonet"}
	sheets := pack(sites["rail"]())
	for i := range sheets {
		path := filepath.Join(dir, fmt.Sprintf("%04d.svg", i))
		if err := os.WriteFile(path, svg.Bytes(&sheets[i], svg.Options{Address: func(id string) string { return id + ".svg" }}), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	if out, err := exec.Command(lint, args...).CombinedOutput(); err != nil {
		t.Errorf("%v: %.2000s", err, out)
	}
}

// An independent reader (npm package dxf-parser) finds every text of one sheet of each kind.
func TestDXFReader(t *testing.T) {
	parser := peer.Need(t, "dxf-parser")
	seen := map[string]bool{}
	sheets := pack(sites["rail"]())
	for i := range sheets {
		s := &sheets[i]
		if seen[s.Kind] {
			continue
		}
		seen[s.Kind] = true
		path := filepath.Join(t.TempDir(), "sheet.dxf")
		if err := os.WriteFile(path, dxf.Bytes(s), 0o600); err != nil {
			t.Fatal(err)
		}
		script := `const P=require(process.argv[1]);const D=P.default||P;` +
			`const d=new D().parseSync(require("fs").readFileSync(process.argv[2],"utf8"));` +
			`console.log(d.entities.filter(e=>e.type==="TEXT").length)`
		out, err := exec.Command("node", "-e", script, parser, path).CombinedOutput()
		if err != nil {
			t.Errorf("%s: %v: %.500s", s.ID, err, out)
			continue
		}
		want := 0
		s.Text(func(string, *scene.Item) { want++ })
		if got := strings.TrimSpace(string(out)); got != fmt.Sprint(want) {
			t.Errorf("%s: the reader finds %s texts, want %d", s.ID, got, want)
		}
	}
}

// The text of the PDF (poppler) holds every designation of the design: stations, groups, supply units,
// protective devices, cables, tags and addresses.
func TestPDFDesignations(t *testing.T) {
	reader := peer.Need(t, "pdftotext")
	in := sites["rail"]()
	data, err := pdf.Bytes(pack(in), pdf.Info{Title: "drawings"})
	if err != nil {
		t.Fatal(err)
	}
	again, err := pdf.Bytes(pack(in), pdf.Info{Title: "drawings"})
	if err != nil || !bytes.Equal(data, again) {
		t.Errorf("two runs give different bytes (%v)", err)
	}
	path := filepath.Join(t.TempDir(), "drawings.pdf")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(reader, "-raw", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	there := map[string]bool{}
	for _, w := range strings.Fields(string(out)) {
		there[w] = true
	}
	missing := 0
	for _, name := range designations(in) {
		if !there[name] {
			if missing++; missing <= 10 {
				t.Errorf("the PDF does not hold %q", name)
			}
		}
	}
	if missing > 10 {
		t.Errorf("%d designations are missing", missing)
	}
}

func designations(in Input) []string {
	names := map[string]bool{}
	d := in.Design
	for i := range d.Stations {
		st := &d.Stations[i]
		names[st.ID], names[st.Coupler] = true, true
		for _, g := range st.SupplyGroups {
			names[short(g.ID, st.ID)] = true
		}
		for _, s := range st.Slots {
			names[s.Module] = true
			for _, c := range s.Channels {
				names[c.Address] = true
				if c.Signal != nil {
					names[*c.Signal] = true
				}
				for _, label := range c.Terminals {
					names[label] = true
				}
			}
		}
	}
	for _, c := range d.Cables {
		names[c.Name], names[c.Type] = true, true
	}
	for _, p := range d.Protections {
		names[p.ID] = true
	}
	for _, s := range d.Supplies {
		names[s.ID], names[s.Type] = true, true
	}
	for _, a := range d.Network.Addresses {
		names[a.Address] = true
	}
	return sortedKeys(names)
}

// BenchmarkFiveThousand draws a made-up site of 5,000 signals and writes it as PDF, SVG and DXF.
func BenchmarkFiveThousand(b *testing.B) {
	p := synth.Site(synth.Size{Signals: 5000, Places: 120, Candidates: 30}, synth.Balanced, synth.Seed(1))
	in := planned(p)
	b.ResetTimer()
	for b.Loop() {
		sheets := pack(in)
		drawn := b.Elapsed()
		data, err := pdf.Bytes(sheets, pdf.Info{})
		if err != nil {
			b.Fatal(err)
		}
		printed := b.Elapsed()
		bytes := 0
		for i := range sheets {
			bytes += len(svg.Bytes(&sheets[i], svg.Options{})) + len(dxf.Bytes(&sheets[i]))
		}
		b.Logf("%d sheets drawn by %v; PDF of %d bytes by %v; SVG and DXF of %d bytes by %v", len(sheets), drawn, len(data), printed, bytes, b.Elapsed())
	}
}
