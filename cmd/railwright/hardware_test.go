package main

import (
	"os"
	"strings"
	"testing"
)

const smallSheet = "[FileInfo]\nEDSVersion=4.0\n[DeviceInfo]\nProductName=Sample block\nOrderCode=SMP-BLOCK\nNrOfTXPDO=1\nNrOfRXPDO=1\n[6000]\nCompactSubObj=1\n"

// TestHardwareAsks: where somebody is there, every needed figure is asked for; the answers go into the list, and an
// empty answer leaves a gap in a draft.
func TestHardwareAsks(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{"block.eds": smallSheet, "site/project.toml": "format = 1\n[project]\nname = \"site\"\n"} {
		if err := os.MkdirAll("site", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	answers := map[string]string{
		"max_rail_mm": "300", "width_mm": "60", "logic_limit_ma": "500", "logic_factor": "0.3", "ambient_max_c": "55", "price": "42.5", "supply_kind": "24vdc",
		"forms": `["contact"]`, "terminals": `{ "supply+" = "{n}.1", signal = "{n}.2" }`,
	}
	code, out, asked := typed(t, "", "hardware", "read", "block.eds", "--into", "site")
	if code != exitFindings || !strings.Contains(out, "Fill in site/imports/block.hardware.toml") {
		t.Fatalf("exit %d\n%s", code, out)
	}
	if err := os.Remove("site/imports/block.hardware.toml"); err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, q := range strings.Split(asked, "? ") {
		key, _, ok := strings.Cut(q, " of ")
		if ok && answers[key] == "" {
			t.Errorf("asked for %q", q)
		}
		if ok {
			lines = append(lines, answers[key])
		}
	}
	code, out, _ = typed(t, strings.Join(lines, "\n")+"\n", "hardware", "read", "block.eds", "--into", "site", "--figure", "bus_limit_ma=4000")
	if code != exitDone || !strings.Contains(out, "Added to site/hardware.toml") {
		t.Fatalf("exit %d\n%s", code, out)
	}
	data, err := os.ReadFile("site/hardware.toml")
	if err != nil || strings.Count(string(data), "price = 42.5") != 2 {
		t.Errorf("%v\n%s", err, data)
	}
}
