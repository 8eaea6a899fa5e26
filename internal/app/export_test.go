package app

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func exported(t *testing.T, r ExportRequest) *ExportResult {
	t.Helper()
	res, err := Export(context.Background(), r)
	if err != nil {
		t.Fatalf("%s: %v", r.As, err)
	}
	return res
}

// TestExportEveryFormat: each format makes a file, twice the same, from a plan and from the accepted design
// alike.
func TestExportEveryFormat(t *testing.T) {
	dir := yard(t)
	for _, f := range ExportFormats() {
		a := exported(t, ExportRequest{Folder: dir, As: f.Name})
		b := exported(t, ExportRequest{Folder: dir, As: f.Name})
		if len(a.Data) == 0 || !bytes.Equal(a.Data, b.Data) || a.From != "plan" {
			t.Errorf("%s: %d and %d bytes", f.Name, len(a.Data), len(b.Data))
		}
	}
	before := exported(t, ExportRequest{Folder: dir, As: "iec"})
	plan1(t, PlanRequest{Folder: dir, Accept: true})
	after := exported(t, ExportRequest{Folder: dir, As: "iec"})
	if after.From != "accepted" || !bytes.Equal(before.Data, after.Data) {
		t.Errorf("%s: the accepted design gives another source", after.From)
	}
}

func TestExportUsage(t *testing.T) {
	dir := yard(t)
	for _, r := range []ExportRequest{
		{As: "iec"},
		{Folder: dir, As: "iec2"},
		{Folder: dir, As: "iec", Station: "X"},
		{Folder: dir, As: "json", Station: "PUMPS-S1"},
		{Folder: dir, As: "iec", Template: "x"},
		{Folder: dir, As: "csv", Template: filepath.Join(dir, "none.toml")},
		{Folder: dir, As: "plcopen", Created: "yesterday"},
	} {
		if _, err := Export(context.Background(), r); KindOf(err) != Usage {
			t.Errorf("%+v: %v", r, err)
		}
	}
}

// TestExportFaultyAddress: an accepted design whose addresses overlap is not exported.
func TestExportFaultyAddress(t *testing.T) {
	dir := yard(t)
	plan1(t, PlanRequest{Folder: dir, Accept: true})
	path := filepath.Join(dir, "accepted.json")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(data, []byte(`"address": "%IX`))
	end := at + 12 + bytes.IndexByte(data[at+12:], '"')
	old := string(data[at:end])
	put(t, path, strings.Replace(string(data), old, old[:len(old)-1]+"9", 1))
	res := exported(t, ExportRequest{Folder: dir, As: "iec"})
	if res.Data != nil || !res.Findings.HasErrors() || res.Findings[0].Rule != "EXC-003" {
		t.Errorf("%v", res.Findings)
	}
}

func TestWriteExport(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.st")
	if err := WriteExport(path, []byte("a"), false); err != nil {
		t.Fatal(err)
	}
	if err := WriteExport(path, []byte("b"), false); KindOf(err) != Usage {
		t.Errorf("overwritten: %v", err)
	}
	if err := WriteExport(path, []byte("c"), true); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); string(got) != "c" {
		t.Errorf("%q", got)
	}
	if err := WriteExport(filepath.Join(t.TempDir(), "none", "a"), nil, false); err == nil {
		t.Error("written into a folder that is not there")
	}
}
