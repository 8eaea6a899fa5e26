package app

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railwright/internal/design/designtest"
	"railwright/internal/project"
	"railwright/internal/tabular"
)

func read(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return "(none)"
	}
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func set(pairs ...string) []File {
	var files []File
	for i := 0; i < len(pairs); i += 2 {
		files = append(files, File{pairs[i], []byte(pairs[i+1])})
	}
	return files
}

func noRemains(t *testing.T, dir string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			t.Errorf("%s was left behind", e.Name())
		}
	}
}

func TestWriteSet(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "out")
	if err := writeSet(dir, set("a.json", "1", "csv/b.csv", "2", "csv/c.csv", "3"), false); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "mine.txt"), "mine")
	if err := writeSet(dir, set("a.json", "10", "csv/b.csv", "2"), false); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"a.json": "10", "csv/b.csv": "2", "csv/c.csv": "(none)", "mine.txt": "mine"} {
		if got := read(t, filepath.Join(dir, name)); got != want {
			t.Errorf("%s holds %q, want %q", name, got, want)
		}
	}
	noRemains(t, dir)
}

// TestWriteSetForeign: nothing is touched if one file is not ours or was changed.
func TestWriteSetForeign(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "a.json"), "mine")
	err := writeSet(dir, set("b.json", "1", "a.json", "2"), false)
	if KindOf(err) != Usage || !strings.Contains(err.Error(), "a.json") {
		t.Errorf("error %v", err)
	}
	if got := read(t, filepath.Join(dir, "a.json")) + read(t, filepath.Join(dir, "b.json")); got != "mine(none)" {
		t.Errorf("files hold %q", got)
	}
	if err := writeSet(dir, set("b.json", "1", "a.json", "2"), true); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "b.json"), "1 with a remark")
	if err := writeSet(dir, set("b.json", "3", "a.json", "3"), false); KindOf(err) != Usage || !strings.Contains(err.Error(), "b.json") {
		t.Errorf("error %v", err)
	}
	if got := read(t, filepath.Join(dir, "a.json")); got != "2" {
		t.Errorf("a.json holds %q", got)
	}
	noRemains(t, dir)
}

// TestWriteSetStale: a file of an earlier set that somebody changed is kept.
func TestWriteSetStale(t *testing.T) {
	dir := t.TempDir()
	if err := writeSet(dir, set("a", "1", "b", "1"), false); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "b"), "changed")
	if err := writeSet(dir, set("a", "2"), false); err != nil {
		t.Fatal(err)
	}
	if got := read(t, filepath.Join(dir, "b")); got != "changed" {
		t.Errorf("b holds %q", got)
	}
}

// TestWriteSetRepeat: a run that was cut off between two files can be repeated with other content.
func TestWriteSetRepeat(t *testing.T) {
	dir := t.TempDir()
	if err := writeSet(dir, set("a", "old", "b", "old"), false); err != nil {
		t.Fatal(err)
	}
	// What a second run leaves behind if it stops after the first file.
	cutOff := manifest{Format: manifestFormat, Files: []manifestEntry{
		{Name: "a", SHA256: sumOf([]byte("new")), Before: sumOf([]byte("old"))},
		{Name: "b", SHA256: sumOf([]byte("new")), Before: sumOf([]byte("old"))},
	}}
	put(t, filepath.Join(dir, manifestName), string(cutOff.bytes()))
	put(t, filepath.Join(dir, "a"), "new")
	if err := writeSet(dir, set("a", "newest", "b", "newest"), false); err != nil {
		t.Fatal(err)
	}
	if got := read(t, filepath.Join(dir, "a")) + read(t, filepath.Join(dir, "b")); got != "newestnewest" {
		t.Errorf("files hold %q", got)
	}
}

func TestWriteSetFaults(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "file"), "x")
	if err := writeSet(filepath.Join(dir, "file"), set("a", "1"), false); KindOf(err) != Usage {
		t.Errorf("into a file: %v", err)
	}
	put(t, filepath.Join(dir, manifestName), "something else")
	if err := writeSet(dir, set("a", "1"), false); KindOf(err) != Usage || !strings.Contains(err.Error(), manifestName) {
		t.Errorf("foreign manifest: %v", err)
	}
	if got := read(t, filepath.Join(dir, "a")); got != "(none)" {
		t.Errorf("a holds %q", got)
	}
	// A manifest from a stranger cannot make us remove files elsewhere.
	other := filepath.Join(dir, "other")
	if err := os.Mkdir(other, 0o755); err != nil {
		t.Fatal(err)
	}
	evil := manifest{Format: manifestFormat, Files: []manifestEntry{{Name: "../file", SHA256: sumOf([]byte("x"))}}}
	put(t, filepath.Join(other, manifestName), string(evil.bytes()))
	if err := writeSet(other, set("a", "1"), false); err != nil {
		t.Fatal(err)
	}
	if got := read(t, filepath.Join(dir, "file")); got != "x" {
		t.Error("a file outside the folder was removed")
	}
}

// TestOutFiles: the files of a design are the same each time, a tag that begins like a formula is
// guarded, and the workbook reads back to the tables.
func TestOutFiles(t *testing.T) {
	files, err := outFiles(designtest.Sample(), &project.Project{})
	if err != nil {
		t.Fatal(err)
	}
	again, err := outFiles(designtest.Sample(), &project.Project{})
	if err != nil {
		t.Fatal(err)
	}
	byName := map[string][]byte{}
	for i, f := range files {
		byName[f.Name] = f.Data
		if !bytes.Equal(f.Data, again[i].Data) {
			t.Errorf("%s differs from run to run", f.Name)
		}
	}
	channels := string(byName["csv/channels.csv"])
	if !strings.Contains(channels, ",'=A1-LS-2,") {
		t.Errorf("the tag =A1-LS-2 stands unguarded in\n%s", channels)
	}
	book, err := tabular.Read("schedules.xlsx", byName["schedules.xlsx"], tabular.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(book.Sheets) != len(files)-2 {
		t.Errorf("%d sheets for %d schedules", len(book.Sheets), len(files)-2)
	}
	for _, s := range book.Sheets {
		for r := range s.Rows() {
			for c := range s.Cols() {
				if s.Cell(r, c).Formula {
					t.Errorf("sheet %s, cell %s is a formula", s.Name, tabular.Address(r, c))
				}
			}
		}
	}
}
