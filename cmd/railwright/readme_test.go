package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var readmePath = filepath.Join("..", "..", "README.md")

// TestReadmeSample: the README shows what its first command prints today.
func TestReadmeSample(t *testing.T) {
	out := show(terminal{width: 80}, func(p *page) { p.summary(planned(t)) })
	text, err := os.ReadFile(readmePath)
	if err != nil {
		t.Fatal(err)
	}
	const open = "```text\n"
	from := bytes.Index(text, []byte(open)) + len(open)
	to := from + bytes.Index(text[from:], []byte("```"))
	if *update {
		text = bytes.Join([][]byte{text[:from], []byte(out), text[to:]}, nil)
		if err := os.WriteFile(readmePath, text, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(strings.Split(string(text[from:to]), "\n"), strings.Split(out, "\n")); diff != "" {
		t.Errorf("the README's sample is out of date: go test ./cmd/railwright -run Readme -update, and read the diff\n%s", diff)
	}
}

// TestReadmeLinks: every file that the README and the pages of docs name is there.
func TestReadmeLinks(t *testing.T) {
	pages, err := filepath.Glob(filepath.Join("..", "..", "docs", "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	more, err := filepath.Glob(filepath.Join("..", "..", "docs", "decisions", "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	link := regexp.MustCompile(`\]\(([^)#:]+)(#[^)]*)?\)`)
	for _, page := range append(append(pages, more...), readmePath) {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range link.FindAllStringSubmatch(string(text), -1) {
			if strings.Contains(m[1], " ") {
				continue
			}
			if _, err := os.Stat(filepath.Join(filepath.Dir(page), filepath.FromSlash(m[1]))); err != nil {
				t.Errorf("%s names %s, which is not there", page, m[1])
			}
		}
	}
}

// TestDecisionsListed: every decision stands in the list of decisions.
func TestDecisionsListed(t *testing.T) {
	dir := filepath.Join("..", "..", "docs", "decisions")
	index, err := os.ReadFile(filepath.Join(dir, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != "README.md" && !bytes.Contains(index, []byte("("+e.Name()+")")) {
			t.Errorf("docs/decisions/README.md does not list %s", e.Name())
		}
	}
}
