package folder

import (
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the generated part of docs/project-folder.md anew")

const page = "../../docs/project-folder.md"

// The page's tables are made from the tables that reading uses, so they cannot drift.
func TestPageShowsEveryKeyAndColumn(t *testing.T) {
	data, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	start := strings.Index(Reference(), "\n")
	mark := Reference()[:start+1]
	prose, have, found := strings.Cut(string(data), mark)
	if *update {
		if err := os.WriteFile(page, []byte(prose+Reference()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !found {
		t.Fatalf("%s has no part %q; run go test ./internal/folder -run TestPage -update", page, strings.TrimSpace(mark))
	}
	if diff := cmp.Diff(Reference(), mark+have); diff != "" {
		t.Errorf("the page differs from the tables in the code; run go test ./internal/folder -run TestPage -update\n%s", diff)
	}
}

// The two blocks of the page's smallest project are a project without any error.
func TestPagesSmallestProject(t *testing.T) {
	data, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	block := func(lang string) []byte {
		_, rest, _ := strings.Cut(string(data), "```"+lang+"\n")
		b, _, _ := strings.Cut(rest, "```")
		return []byte(b)
	}
	f := Parse(Files{ProjectFile: block("toml"), ListFile: block("csv")})
	if f.Findings.HasErrors() || len(f.Project.Signals) != 2 || len(f.Project.Routes) != 1 {
		t.Errorf("%d signals, findings %v", len(f.Project.Signals), f.Findings)
	}
}
