package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railwright/internal/folder"
	"railwright/internal/modification"
)

const frozenProject = `format = 1
[project]
name = "yard"
controller = "C1"
[network]
profile = "ethernet-fibre"
topology = "star"
[basis]
construction = "rail"
[[place]]
id = "CTRL"
controller = true
power_source = true
[[place]]
id = "PUMPS"
candidate = true
[[route]]
from = "CTRL"
to = "PUMPS"
length_m = 80
`

// frozenYard is a small folder, planned, accepted and frozen.
func frozenYard(t *testing.T, list string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"project.toml": frozenProject, "signals.csv": list} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := Plan(t.Context(), PlanRequest{Folder: dir, Accept: true}); err != nil {
		t.Fatal(err)
	}
	if _, err := Freeze(t.Context(), FreezeRequest{Folder: dir, By: "a tester"}); err != nil {
		t.Fatal(err)
	}
	return dir
}

const yardList = "tag,kind,form,place,current_ma\nLS-101,DI,contact,PUMPS,\nLS-102,DI,contact,PUMPS,\nXY-101,DO,24v,PUMPS,300\n"

// A later version of the tool may know another price, width or limit of a module: what is installed keeps the
// data of its day, and its design stays.
func TestInstalledKeepsItsHardware(t *testing.T) {
	dir := frozenYard(t, yardList)
	path := filepath.Join(dir, folder.BuiltFile)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	before, err := open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	code := before.built.Stations[0].Slots[0].Module
	now, _ := before.hardware.Module(code)
	// The same file as a tool of other days would have written it: the module had another title.
	aged := strings.Replace(string(data), now.Title, "as sold thirty years ago", 1)
	if aged == string(data) {
		t.Fatalf("the module's title %q is not in built.json", now.Title)
	}
	if err := os.WriteFile(path, []byte(aged), 0o644); err != nil {
		t.Fatal(err)
	}
	after, err := open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	if m, _ := after.hardware.Module(code); m.Title != "as sold thirty years ago" {
		t.Errorf("module %s reads %q: the data of its day are lost", code, m.Title)
	}
	d, err := after.plan(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if diff := modification.StateOf(before.built).Differences(modification.StateOf(d)); len(diff) > 0 {
		t.Errorf("the design changed: %v", diff)
	}
}

// A damaged built.json is refused and left as it is; nothing is planned over it.
func TestDamagedBuiltIsRefused(t *testing.T) {
	dir := frozenYard(t, yardList)
	path := filepath.Join(dir, folder.BuiltFile)
	for _, text := range []string{"", "{", `{"format":"railwright-built/9","design":{}}`, `{"format":"railwright-built/1","stations":[],"design":{"format":"x"}}`} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		_, err := Plan(t.Context(), PlanRequest{Folder: dir, Accept: true})
		if err == nil || !strings.Contains(err.Error(), "built.json") {
			t.Errorf("%q: %v", text, err)
		}
		if now, _ := os.ReadFile(path); string(now) != text {
			t.Errorf("%q was changed", text)
		}
	}
}

// Freezing twice changes nothing, and neither does planning in between.
func TestFreezeIsStable(t *testing.T) {
	dir := frozenYard(t, yardList)
	if _, err := Plan(t.Context(), PlanRequest{Folder: dir, Accept: true}); err != nil {
		t.Fatal(err)
	}
	first, err := open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Freeze(t.Context(), FreezeRequest{Folder: dir, By: "a tester"}); err != nil {
		t.Fatal(err)
	}
	second, err := open(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	if diff := modification.StateOf(first.built).Differences(modification.StateOf(second.built)); len(diff) > 0 {
		t.Errorf("changed: %v", diff)
	}
}
