package pdf_test

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
	"railwright/internal/scene/pdf"
	"railwright/internal/scene/scenetest"
)

func pack() []scene.Sheet {
	a, b := scenetest.Sample(), scenetest.Sample()
	b.ID, b.Number, b.Width, b.Height = "sample/2", "S-02", 420, 297
	scene.NewPen(&b).Link("sample/1").Text(30, 138, "back to S-01")
	c := scenetest.Sample()
	c.ID, c.Number, c.Chapter = "other/1", "O-01", "Others"
	return []scene.Sheet{a, b, c}
}

func TestSameBytes(t *testing.T) {
	first, err := pdf.Bytes(pack(), pdf.Info{Title: "Samples", Language: "en"})
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if again, err := pdf.Bytes(pack(), pdf.Info{Title: "Samples", Language: "en"}); err != nil || !bytes.Equal(first, again) {
			t.Fatalf("two runs differ (%v)", err)
		}
	}
}

func TestText(t *testing.T) {
	reader, fonts := peer.Need(t, "pdftotext"), peer.Need(t, "pdffonts")
	path := filepath.Join(t.TempDir(), "samples.pdf")
	data, err := pdf.Bytes(pack(), pdf.Info{Title: "Samples"})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(reader, "-layout", path, "-").CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, want := range []string{"Left O0 Il1 Ω °C ² µ → ≤", `middle (in) \ brackets`, "right ÄÖÜß «é» č", "shrunk a little into its cell", "the sign □ being"} {
		if n := strings.Count(string(out), want); n < 3 {
			t.Errorf("%q stands %d times on three pages", want, n)
		}
	}
	if pages := strings.Count(string(out), "\f"); pages != 3 {
		t.Errorf("%d pages", pages)
	}
	out, err = exec.Command(fonts, path).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n")[2:] {
		if f := strings.Fields(line); f[len(f)-5] != "yes" {
			t.Errorf("font not embedded: %s", line)
		}
	}
}

func TestLinksAndBookmarks(t *testing.T) {
	data, err := pdf.Bytes(pack(), pdf.Info{})
	if err != nil {
		t.Fatal(err)
	}
	for want, n := range map[string]int{"/Subtype /Link": 4, "/Type /Outlines": 1, "/Title ": 6} {
		if got := strings.Count(string(data), want); got < n {
			t.Errorf("%q stands %d times, want %d", want, got, n)
		}
	}
}

func TestNoSheets(t *testing.T) {
	if data, err := pdf.Bytes(nil, pdf.Info{}); err != nil || len(data) == 0 {
		t.Error(err)
	}
}

func BenchmarkThousandPages(b *testing.B) {
	sheets := make([]scene.Sheet, 1000)
	for i := range sheets {
		sheets[i] = scenetest.Sample()
		sheets[i].ID = fmt.Sprint(i)
	}
	for b.Loop() {
		if _, err := pdf.Bytes(sheets, pdf.Info{}); err != nil {
			b.Fatal(err)
		}
	}
}
