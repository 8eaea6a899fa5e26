package app

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"railwright/internal/exchange/device"
	"railwright/internal/finding"
	"railwright/internal/hardware"
)

func sampleFigures() []string {
	var out []string
	for _, f := range device.SampleFigures() {
		out = append(out, strings.TrimPrefix(f.Scope+"."+f.Key, ".")+"="+f.Value)
	}
	return out
}

// TestReadDevice: a description with gaps gives a draft and leaves the list alone; with the figures it is added to
// the end of hardware.toml, whose lines stay; the same once more is refused.
func TestReadDevice(t *testing.T) {
	for _, file := range []string{"gsdml/testdata/sample.xml", "eds/testdata/block.eds", "eds/testdata/modular.eds"} {
		dir := yard(t)
		path := filepath.Join("..", "exchange", filepath.FromSlash(file))
		res, err := ReadDevice(DeviceRequest{File: path, Into: dir})
		if err != nil || res.Draft == "" || res.Added != "" || !res.Findings.HasErrors() {
			t.Fatalf("%s: %v %+v", file, err, res)
		}
		if _, err := os.Stat(filepath.Join(dir, "hardware.toml")); err == nil {
			t.Fatal("the list was written although figures are missing")
		}
		before := "format = 1 # mine\n"
		put(t, filepath.Join(dir, "hardware.toml"), before)
		if res, err = ReadDevice(DeviceRequest{File: path, Into: dir, Figures: sampleFigures()}); err != nil || res.Added == "" {
			t.Fatalf("%s: %v %v", file, err, res)
		}
		got, _ := os.ReadFile(res.Added)
		if !strings.HasPrefix(string(got), before) {
			t.Errorf("%s: lines were changed:\n%s", file, got)
		}
		list, found := hardware.Load(hardware.Builtin(), "hardware.toml", got)
		for _, code := range res.Codes {
			if list.Where(code) == nil || found.HasErrors() {
				t.Errorf("%s: %s is not in the list: %v", file, code, found)
			}
		}
		if res, err = ReadDevice(DeviceRequest{File: path, Into: dir, Figures: sampleFigures()}); err != nil || res.Added != "" || !hasRule(res.Findings, "DEV-011") {
			t.Errorf("%s: read twice: %v %v", file, err, res)
		}
	}
}

func hasRule(all finding.List, rule string) bool {
	return slices.ContainsFunc(all, func(f finding.Finding) bool { return f.Rule == rule })
}

// TestPlanWithReadDevice: a station is planned of modules that came out of a description, and exported with the
// scaling that was stated for them.
func TestPlanWithReadDevice(t *testing.T) {
	dir := yard(t)
	put(t, filepath.Join(dir, "project.toml"), strings.Replace(yardProject, "[network]", "[basis]\nconstruction = \"SMP-100-head-station\"\n[network]", 1))
	put(t, filepath.Join(dir, "signals.csv"), strings.Replace(strings.Replace(yardSignals, "device\n", "device,range_low,range_high,unit\n", 1), "FT-101,AI,4-20ma,PUMPS,FT-101", "FT-101,AI,4-20ma,PUMPS,FT-101,0,10,bar", 1))
	if res, err := ReadDevice(DeviceRequest{File: "../exchange/gsdml/testdata/sample.xml", Into: dir, Figures: sampleFigures()}); err != nil || res.Added == "" {
		t.Fatalf("%v %+v", err, res)
	}
	d := plan1(t, PlanRequest{Folder: dir}).Design
	if len(d.Unplaced) > 0 || d.Stations[0].Coupler != "SMP-100-head" {
		t.Fatalf("%+v, coupler %s", d.Unplaced, d.Stations[0].Coupler)
	}
	res := exported(t, ExportRequest{Folder: dir, As: "iec"})
	if !strings.Contains(string(res.Data), "0 to 30000 is 0 to 10 bar") {
		t.Errorf("%s", res.Data)
	}
}

// TestReadDraft: the draft, filled in, is read in its turn.
func TestReadDraft(t *testing.T) {
	dir := yard(t)
	res, err := ReadDevice(DeviceRequest{File: "../exchange/eds/testdata/block.eds", Into: dir})
	if err != nil {
		t.Fatal(err)
	}
	text, _ := os.ReadFile(res.Draft)
	filled := string(text)
	for _, f := range device.SampleFigures() {
		filled = strings.ReplaceAll(filled, "# "+f.Key+" = ", f.Key+" = "+f.Value)
	}
	for kind, sets := range map[string]string{"DI": `["contact"]`, "DO": `["24v"]`, "AI": `["4-20ma"]`} {
		filled = strings.Replace(filled, "kind = \""+kind+"\"\nforms = [\"contact\", \"pnp\"]", "kind = \""+kind+"\"\nforms = "+sets, 1)
	}
	put(t, res.Draft, filled)
	if _, err := ReadDevice(DeviceRequest{File: "../exchange/eds/testdata/block.eds", Into: dir}); KindOf(err) != Usage {
		t.Errorf("a filled draft was overwritten: %v", err)
	}
	if res, err = ReadDevice(DeviceRequest{File: res.Draft, Into: dir}); err != nil {
		t.Fatal(err)
	}
	for _, f := range res.Findings {
		if f.Rule == "HWL-001" || f.Rule == "HWL-003" {
			t.Errorf("%v", f)
		}
	}
}

func TestReadDeviceUsage(t *testing.T) {
	dir := yard(t)
	put(t, filepath.Join(dir, "x.xml"), "<a/>")
	put(t, filepath.Join(dir, "x.eds"), "hello")
	put(t, filepath.Join(dir, "x.toml"), "format = 1")
	for _, r := range []DeviceRequest{
		{File: "none", Into: dir},
		{File: dir, Into: dir},
		{File: filepath.Join(dir, "x.xml"), Into: dir},
		{File: filepath.Join(dir, "x.eds"), Into: dir},
		{File: "../exchange/eds/testdata/block.eds", Into: t.TempDir()},
		{File: "../exchange/eds/testdata/block.eds", Into: dir, Figures: []string{"price"}},
		{File: filepath.Join(dir, "x.toml"), Into: dir, Figures: []string{"price=1"}},
	} {
		if _, err := ReadDevice(r); KindOf(err) != Usage {
			t.Errorf("%+v: %v", r, err)
		}
	}
}
