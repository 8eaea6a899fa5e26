package scenetest

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railwright/internal/scene"
	"railwright/internal/scene/svg"
)

var update = flag.Bool("update-sheets", false, "write the golden sheets anew")

// Golden compares a sheet with testdata/sheets/NAME.json (the scene: what moved) and NAME.svg (what is
// seen). go test PACKAGE -update-sheets writes them anew.
func Golden(t testing.TB, name string, s *scene.Sheet) {
	t.Helper()
	data := JSON(s)
	picture := svg.Bytes(s, svg.Options{})
	WellFormed(t, picture)
	base := filepath.Join("testdata", "sheets", strings.ReplaceAll(name, "/", "-"))
	compare(t, base+".json", data)
	compare(t, base+".svg", picture)
}

// JSON returns the scene with one item a line, so that a difference shows which item moved.
func JSON(s *scene.Sheet) []byte {
	var b bytes.Buffer
	head := *s
	head.Layers = nil
	line(&b, head)
	for _, l := range s.Layers {
		line(&b, map[string]string{"layer": l.Name})
		for _, i := range l.Items {
			line(&b, i)
		}
	}
	return b.Bytes()
}

func line(b *bytes.Buffer, v any) {
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		panic("scenetest: a scene that JSON cannot hold: " + err.Error())
	}
}

// WellFormed reads an XML file to its end.
func WellFormed(t testing.TB, data []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		_, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Errorf("not well-formed XML: %v", err)
			return
		}
	}
}

func compare(t testing.TB, path string, got []byte) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Errorf("%v (write it with -update-sheets)", err)
		return
	}
	if bytes.Equal(got, want) {
		return
	}
	g, w := strings.Split(string(got), "\n"), strings.Split(string(want), "\n")
	for i := range g {
		if i >= len(w) || g[i] != w[i] {
			before := "(nothing)"
			if i < len(w) {
				before = w[i]
			}
			t.Errorf("%s, line %d:\n got %.300s\nwant %.300s\n(-update-sheets writes it anew)", path, i+1, g[i], before)
			return
		}
	}
	t.Errorf("%s: %d lines, want %d (-update-sheets writes it anew)", path, len(g), len(w))
}
