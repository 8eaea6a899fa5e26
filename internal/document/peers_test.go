package document_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"railwright/internal/document"
	"railwright/internal/peer"
	"railwright/internal/scene"
	"railwright/internal/scene/pdf"
)

// printed writes sheets as a PDF file and returns its path.
func printed(t *testing.T, sheets []scene.Sheet) string {
	t.Helper()
	data, err := pdf.Bytes(sheets, pdf.Info{Title: "pack"})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "pack.pdf")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func output(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return string(out)
}

// TestPackText: another program finds every tag, cable, station and landed terminal in the text of the
// pack, and one line of page numbers for each page.
func TestPackText(t *testing.T) {
	program := peer.Need(t, "pdftotext")
	in := sites["rail"]()
	text := strings.Join(strings.Fields(output(t, program, "-layout", printed(t, document.All(rail())), "-")), " ")
	has := map[string]bool{}
	for _, w := range strings.Fields(text) {
		has[w] = true
	}
	d := in.Design
	for i := range d.Stations {
		st := &d.Stations[i]
		if !has[st.ID] {
			t.Errorf("station %s is not in the text", st.ID)
		}
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				if c.Signal == nil {
					continue
				}
				if !has[*c.Signal] {
					t.Errorf("tag %s is not in the text", *c.Signal)
				}
				if !has[c.Address] {
					t.Errorf("address %s is not in the text", c.Address)
				}
				for _, terminal := range c.Terminals {
					if where := st.ID + " : " + strconv.Itoa(sl.Slot) + " : " + terminal; !strings.Contains(text, where+" ") {
						t.Errorf("terminal %s is not in the text", where)
					}
				}
			}
		}
	}
	for _, c := range d.Cables {
		if !has[c.Name] {
			t.Errorf("cable %s is not in the text", c.Name)
		}
	}
	n := len(document.All(rail()))
	if last := "page " + strconv.Itoa(n) + " of " + strconv.Itoa(n); !strings.Contains(text, last) {
		t.Errorf("%q is not in the text", last)
	}
}

// TestPackFonts: every font of the pack is embedded and gives its text.
func TestPackFonts(t *testing.T) {
	program := peer.Need(t, "pdffonts")
	lines := strings.Split(strings.TrimSpace(output(t, program, printed(t, document.All(rail())[:40]))), "\n")
	if len(lines) < 4 {
		t.Fatalf("fonts: %q", lines)
	}
	for _, l := range lines[2:] { // name type encoding emb sub uni object
		f := strings.Fields(l)
		if len(f) < 6 || f[len(f)-5] != "yes" || f[len(f)-3] != "yes" {
			t.Errorf("font %q is not embedded with its text", l)
		}
	}
}

// TestCodes: another program reads each QR code of the first sheets of labels back from their picture.
func TestCodes(t *testing.T) {
	draw, read := peer.Need(t, "pdftoppm"), peer.Need(t, "zbarimg")
	in := sites["rail"]()
	labels := document.Labels(in)[:3]
	dir := t.TempDir()
	output(t, draw, "-r", "200", "-gray", printed(t, labels), filepath.Join(dir, "page"))
	pages, err := filepath.Glob(filepath.Join(dir, "page*"))
	if err != nil || len(pages) != 3 {
		t.Fatalf("%d pictures, %v", len(pages), err)
	}
	var got []string
	for _, p := range pages {
		got = append(got, strings.Split(strings.TrimSpace(output(t, read, "-q", "--raw", "-Sdisable", "-Sqrcode.enable", p)), "\n")...)
	}
	var want []string
	for _, st := range in.Design.Stations {
		for _, n := range in.Design.Network.Addresses {
			if n.Station == st.ID {
				want = append(want, "station:"+st.ID+" "+n.Address+" rev A")
			}
		}
	}
	tags := 0
	for _, s := range labels[1:] {
		s.Text(func(_ string, it *scene.Item) {
			if it.Role == "label" {
				tags++
			}
		})
	}
	for i := range tags {
		want = append(want, "cable:"+in.Design.Cables[i/2].ID+" rev A") // two tags for each cable
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("read %d codes, %d are printed: %q, want %q", len(got), len(want), got, want)
	}
}
