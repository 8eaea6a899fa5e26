package app

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"railwright/internal/design"
	"railwright/internal/hardware"
)

const yardProject = `format = 1
[project]
name = "Small yard"
[network]
profile = "ethernet-copper"
topology = "star"
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

const yardSignals = `tag,kind,form,place,device
LS-101,DI,contact,PUMPS,LS-101
LS-102,DI,contact,PUMPS,LS-102
FT-101,AI,4-20ma,PUMPS,FT-101
XY-101,DO,24v,PUMPS,XY-101
`

func yard(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	put(t, filepath.Join(dir, "project.toml"), yardProject)
	put(t, filepath.Join(dir, "signals.csv"), yardSignals)
	return dir
}

func plan1(t *testing.T, r PlanRequest) *PlanResult {
	t.Helper()
	res, err := Plan(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// TestAccept: the accepted design holds the hardware it uses by value, is the plan in all else, and
// does not change when the same design is accepted again.
func TestAccept(t *testing.T) {
	dir := yard(t)
	first := plan1(t, PlanRequest{Folder: dir, Accept: true})
	path := filepath.Join(dir, "accepted.json")
	kept := read(t, path)
	d, err := design.Decode([]byte(kept))
	if err != nil {
		t.Fatal(err)
	}
	list, found := hardware.Load(&hardware.List{}, "accepted.json", []byte(d.Hardware))
	if found.HasErrors() {
		t.Error(found)
	}
	for _, s := range d.Stations {
		if _, ok := list.Coupler(s.Coupler); !ok {
			t.Errorf("coupler %s is not kept", s.Coupler)
		}
		if _, ok := list.Construction(s.Construction); !ok {
			t.Errorf("construction %s is not kept", s.Construction)
		}
		for _, sl := range s.Slots {
			if _, ok := list.Module(sl.Module); !ok {
				t.Errorf("module %s is not kept", sl.Module)
			}
		}
	}
	d.Hardware = ""
	data, err := design.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, first.JSON) {
		t.Error("the accepted design is not the plan")
	}

	again := plan1(t, PlanRequest{Folder: dir, Accept: true})
	if read(t, path) != kept {
		t.Error("accepting the same design again changed the file")
	}
	if ids := func(d *design.Design) (all []string) {
		for _, s := range d.Stations {
			all = append(all, s.ID)
		}
		for _, c := range d.Cables {
			all = append(all, c.ID+" "+c.Name)
		}
		return all
	}; !slices.Equal(ids(first.Design), ids(again.Design)) {
		t.Errorf("ids changed: %v, then %v", ids(first.Design), ids(again.Design))
	}

	res, err := Check(context.Background(), CheckRequest{Folder: dir})
	if err != nil || res.Of != "accepted" {
		t.Errorf("check: %+v, %v", res, err)
	}
}

// TestPlanLeavesFolder: without --accept and --out, nothing in the folder changes.
func TestPlanLeavesFolder(t *testing.T) {
	dir := yard(t)
	plan1(t, PlanRequest{Folder: dir})
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != 2 {
		t.Errorf("the folder holds %v", entries)
	}
	if read(t, filepath.Join(dir, "project.toml")) != yardProject || read(t, filepath.Join(dir, "signals.csv")) != yardSignals {
		t.Error("a file was changed")
	}
}

// TestCancelled: a run that was cancelled ends, and never passes for a complete one.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	res, err := Plan(ctx, PlanRequest{Folder: yard(t)})
	if err == nil && res.Design.Input.Complete {
		t.Error("a cancelled plan says that it is complete")
	}
	if _, err := Plan(ctx, PlanRequest{Folder: yard(t), Accept: true}); err == nil {
		t.Error("a cancelled plan was accepted")
	}
}

func TestRequests(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		r    PlanRequest
		says string
	}{
		{PlanRequest{}, "no project folder"},
		{PlanRequest{Folder: "a", Example: true}, "both"},
		{PlanRequest{Example: true, Accept: true}, "cannot be accepted"},
		{PlanRequest{Folder: filepath.Join(dir, "none")}, "there is no folder"},
		{PlanRequest{Folder: dir}, "no project.toml"},
	} {
		_, err := Plan(context.Background(), c.r)
		if KindOf(err) != Usage || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v, want %q", c.r, err, c.says)
		}
	}
}
