package demo_test

import (
	"slices"
	"strings"
	"testing"

	"railwright/internal/demo"
	"railwright/internal/folder"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

func read(t *testing.T, files []demo.File) *folder.Folder {
	t.Helper()
	in := folder.Files{}
	for _, f := range files {
		in[f.Name] = f.Data
	}
	return folder.Parse(in)
}

func TestExampleReadsWithoutAFinding(t *testing.T) {
	f := read(t, demo.Files())
	for _, x := range f.Findings {
		t.Error(x)
	}
	if len(f.LeftOut) > 0 {
		t.Errorf("left out: %v", f.LeftOut)
	}
}

// TestExampleHoldsEverything holds the example against what it is meant to show.
func TestExampleHoldsEverything(t *testing.T) {
	f := read(t, demo.Files())
	p := f.Project
	if n := len(p.Signals); n < 400 || n > 500 {
		t.Errorf("%d signals, want 400 to 500", n)
	}
	seen := map[string]int{}
	for _, s := range p.Signals {
		seen[string(s.Kind)+" "+s.Form]++
		seen[string(s.Kind)+" sensor "+s.Sensor]++
		seen["class "+s.SupplyClass]++
		if s.Kind == project.RTD {
			seen["wires "+string(rune('0'+s.Wires))]++
		}
		for key, yes := range map[string]bool{
			"hold": s.Hold != "", "exi " + string(s.Kind): s.ExLevel != "", "redundant": len(s.RedundantWith) > 0, "hart": s.HART, "segregated": s.Segregate != "",
			"active": s.Active == "active", "passive": s.Active == "passive", "3-wire transmitter": s.Kind == project.AI && s.Wires == 3,
			"48 V": s.Kind == project.DO && s.Voltage.Value == 48, "mains relay": s.Form == "relay" && s.Voltage.Value == 230, "low relay": s.Form == "relay" && s.Voltage.Value == 24,
			"NC": s.Contact == "NC", "NO": s.Contact == "NO", "alarm": s.AlarmHigh.Set, "safe state 0": s.SafeState == "0", "safe state 1": s.SafeState == "1", "hold state": s.SafeState == "hold",
		} {
			if yes {
				seen[key]++
			}
		}
	}
	want := []string{
		"wires 2", "wires 3", "wires 4", "class ups", "class safety:DOSING", "class safety:RAKE", "hold", "redundant", "hart", "segregated", "active", "passive",
		"3-wire transmitter", "48 V", "mains relay", "low relay", "NC", "NO", "alarm", "safe state 0", "safe state 1", "hold state",
		"exi DI", "exi DO", "exi AI", "exi AO", "exi RTD", "exi CNT",
	}
	for kind, forms := range project.Forms {
		for _, form := range forms {
			want = append(want, string(kind)+" "+form)
		}
	}
	for kind, sensors := range project.Sensors {
		for _, sensor := range sensors {
			want = append(want, string(kind)+" sensor "+sensor)
		}
	}
	slices.Sort(want)
	for _, w := range want {
		if seen[w] == 0 {
			t.Errorf("the example has no signal with %s", w)
		}
	}
	candidates, forbidden := 0, 0
	for _, pl := range p.Places {
		if pl.Candidate {
			candidates++
		}
		if pl.Forbidden && pl.Reason != "" {
			forbidden++
		}
	}
	if candidates < 8 || forbidden == 0 || len(p.Choices) == 0 {
		t.Errorf("%d candidate places, %d forbidden with a reason, %d choices", candidates, forbidden, len(p.Choices))
	}
}

// TestCodesAreKnown holds the codes that project.toml names against the built-in list.
func TestCodesAreKnown(t *testing.T) {
	l := hardware.Builtin()
	p := read(t, demo.Files()).Project
	if _, ok := l.Construction(p.Basis.Construction); !ok {
		t.Errorf("no construction %s", p.Basis.Construction)
	}
	if n, ok := l.Network(p.Network.Profile); !ok || !slices.Contains(n.Topologies, p.Network.Topology) {
		t.Errorf("no network %s as %s", p.Network.Profile, p.Network.Topology)
	}
	for _, f := range demo.Files() {
		if strings.Contains(string(f.Data), "\r") || !strings.HasSuffix(string(f.Data), "\n") {
			t.Errorf("%s: lines do not end with one line feed", f.Name)
		}
	}
}

// TestMendedReadsWithoutAFinding and the next one prove that Weak differs from a sound project by its
// weak spots only.
func TestMendedReadsWithoutAFinding(t *testing.T) {
	f := read(t, demo.Mended())
	for _, x := range f.Findings {
		t.Error(x)
	}
}

func TestWeakIsReadAndFoundWhereTheListShowsIt(t *testing.T) {
	f := read(t, demo.Weak())
	for _, x := range f.Findings {
		if x.Rule != "LST-010" || x.Subject != "signal:OUT-AT-6" {
			t.Error(x)
		}
	}
	if len(f.LeftOut) != 1 || f.LeftOut[0].Tag != "OUT-AT-6" {
		t.Errorf("left out %v, want the loop with two supplies", f.LeftOut)
	}
	if a, b := len(f.Project.Signals), len(read(t, demo.Mended()).Project.Signals); a != b-1 {
		t.Errorf("%d signals, mended %d", a, b)
	}
	if string(f.Project.Basis.Earthing) != "earthed" || len(f.Project.Choices) < 4 {
		t.Errorf("edits are missing: earthing %s, %d choices", f.Project.Basis.Earthing, len(f.Project.Choices))
	}
	known := map[string]bool{}
	for _, s := range f.Project.Signals {
		known["signal:"+s.ID] = true
	}
	for _, s := range demo.Spots {
		if strings.HasPrefix(s.Subject, "signal:") && !known[s.Subject] && s.Subject != "signal:OUT-AT-6" {
			t.Errorf("spot %q names %s, which is not in the list", s.Name, s.Subject)
		}
	}
}
