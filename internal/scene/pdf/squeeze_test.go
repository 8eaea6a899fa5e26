package pdf

import (
	"bytes"
	"fmt"
	"testing"

	"railwright/internal/scene"
	"railwright/internal/scene/scenetest"
)

// TestSqueeze: every object begins where the table says, and no stream is left plain.
func TestSqueeze(t *testing.T) {
	data, err := Bytes([]scene.Sheet{scenetest.Sample(), scenetest.Sample()}, Info{})
	if err != nil {
		t.Fatal(err)
	}
	_, offsets, err := references(data)
	if err != nil {
		t.Fatal(err)
	}
	for n, at := range offsets {
		if want := fmt.Appendf(nil, "%d 0 obj", n); n > 0 && !bytes.HasPrefix(data[at:], want) {
			t.Errorf("object %d begins with %.20q", n, data[at:])
		}
	}
	if s, f := bytes.Count(data, []byte("\nstream\n")), bytes.Count(data, []byte("/Filter")); s < 6 || s != f {
		t.Errorf("%d streams, %d compressed", s, f)
	}
	if err := squeeze(&bytes.Buffer{}, []byte("no PDF")); err == nil {
		t.Error("what is no PDF was taken")
	}
}
