package svg_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"railwright/internal/peer"
	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
	"railwright/internal/scene/svg"
)

func TestSample(t *testing.T) {
	s := scenetest.Sample()
	scenetest.Check(t, []scene.Sheet{s})
	scenetest.Golden(t, "sample", &s)
	if !bytes.Equal(svg.Bytes(&s, svg.Options{}), svg.Bytes(&s, svg.Options{})) {
		t.Error("two runs differ")
	}
}

func TestLint(t *testing.T) {
	lint := peer.Need(t, "xmllint")
	s := scenetest.Sample()
	s.Title += "\x00\x1f \xff"
	path := filepath.Join(t.TempDir(), "sample.svg")
	data := svg.Bytes(&s, svg.Options{Address: func(id string) string { return id + ".svg?a&b" }})
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(lint, "--noout", "--nonet", path).CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, out)
	}
	if !bytes.Contains(data, []byte(`<a xlink:href="sample/1.svg?a&amp;b">`)) {
		t.Error("the link is missing")
	}
}
