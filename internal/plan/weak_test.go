package plan_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"railwright/internal/demo"
	"railwright/internal/explain"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/project"
)

// Each weak spot of the weak example is found by its rule, with its figures, a remedy and, where it has
// one, a calculation that can be followed; nothing else is an error but what follows from the spots.
func TestWeakSpotsAreFound(t *testing.T) {
	d, _ := planned(demo.Weak())
	spotted := map[string]bool{}
	for _, spot := range demo.Spots {
		spotted[spot.Subject] = true
		if spot.Rule == "" {
			continue
		}
		i := slices.IndexFunc(d.Findings, func(x finding.Finding) bool { return x.Rule == spot.Rule && x.Subject == spot.Subject })
		if i < 0 {
			t.Errorf("%s: no finding %s on %s", spot.Name, spot.Rule, spot.Subject)
			continue
		}
		x := d.Findings[i]
		if x.Severity != finding.Error || x.Remedy.Text == "" {
			t.Errorf("%s: %s", spot.Name, x)
		}
		if strings.HasPrefix(spot.Rule, "SAF") && len(x.Remedy.Change) > 0 {
			t.Errorf("%s: a safety finding offers to mend itself", spot.Name)
		}
		if x.Calculation == "" {
			continue
		}
		sheet, _, ok := explain.Of(d, x.Subject)
		if !ok || !slices.ContainsFunc(sheet.Working, func(w explain.Working) bool { return w.ID == x.Calculation }) {
			t.Errorf("%s: the sheet of %s does not show %s", spot.Name, x.Subject, x.Calculation)
		}
	}
	for _, x := range d.Findings {
		// the second sensor of the NPN kind, and what is left out because of a spot
		if x.Severity == finding.Error && !spotted[x.Subject] && x.Subject != "signal:INT-GS-122" {
			t.Errorf("an error besides the spots: %s", x)
		}
	}
}

// Each weak spot is explained: the sheet of what it is about shows its finding.
func TestWeakSpotsAreExplained(t *testing.T) {
	d, _ := planned(demo.Weak())
	for _, spot := range demo.Spots {
		sheet, _, ok := explain.Of(d, spot.Subject)
		if !ok {
			t.Errorf("%s: nothing explains %s", spot.Name, spot.Subject)
			continue
		}
		if spot.Rule != "" && !slices.ContainsFunc(sheet.Findings, func(x finding.Finding) bool { return x.Rule == spot.Rule }) {
			t.Errorf("%s: the sheet of %s does not show %s", spot.Name, spot.Subject, spot.Rule)
		}
	}
}

// Without the hand choices that make weak spots, the plan makes the sound choice by itself: none of their
// findings is left, and the modules and devices are what Spots says.
func TestPlanChoosesUnlessTold(t *testing.T) {
	_, f := planned(demo.Weak())
	p := *f.Project
	p.Choices = nil
	d, err := plan.Run(&p, hardware.Builtin(), plan.Options{Steps: 1500})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range d.Findings {
		if slices.Contains([]string{"LOP-001", "DIN-002", "DIN-001", "PWR-003"}, x.Rule) && x.Severity == finding.Error {
			t.Error(x)
		}
	}
	module := map[string]string{}
	for _, st := range d.Stations {
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				module[c.SignalID] = sl.Module
			}
		}
	}
	for id, holds := range map[string]func(*hardware.ChannelSet) bool{
		"OUT-LS-7": func(c *hardware.ChannelSet) bool { return c.InputType == 3 },
		"OUT-FT-5": func(c *hardware.ChannelSet) bool { return slices.Contains(c.Loop, "takes") },
	} {
		m, ok := hardware.Builtin().Module(module[id])
		if !ok || !slices.ContainsFunc(m.Channels, func(c hardware.ChannelSet) bool { return holds(&c) }) {
			t.Errorf("%s sits on %q", id, module[id])
		}
	}
}

// The valve that a larger conductor reaches gets it from the plan.
func TestPlanTakesTheLargerConductor(t *testing.T) {
	d, f := planned(demo.Weak())
	for _, c := range d.Cables {
		if slices.Contains(c.Signals, "OUT-XY-8") {
			if least := float64(f.Project.Basis.Cable.Area[project.DO]); c.AreaMM2 <= least {
				t.Errorf("OUT-XY-8 is on %v mm2, the basis's least is %v", c.AreaMM2, least)
			}
			return
		}
	}
	t.Error("OUT-XY-8 has no cable")
}

// The same project with the spots mended by hand shows no error and leaves nothing out.
func TestMendedShowsNoError(t *testing.T) {
	d, _ := planned(demo.Mended())
	for _, x := range d.Findings {
		if x.Severity == finding.Error {
			t.Error(x)
		}
	}
	for _, u := range d.Unplaced {
		t.Errorf("%s is left out: %s", u.Tag, u.Why)
	}
}

// The changes that the findings of the weak example offer mend them: applied together and planned
// again, none of them is found any more.
func TestOfferedChangesMend(t *testing.T) {
	d, f := planned(demo.Weak())
	p := *f.Project
	p.Signals, p.Choices = slices.Clone(p.Signals), slices.Clone(p.Choices)
	mended := map[string]string{}
	for _, x := range d.Findings {
		if x.Severity == finding.Error && len(x.Remedy.Change) > 0 && x.Where == nil {
			for _, c := range x.Remedy.Change {
				if !apply(&p, c) {
					t.Errorf("%s offers a change that nobody can make: %+v", x.Rule, c)
				}
			}
			mended[x.Rule+" "+x.Subject] = x.Message
		}
	}
	if len(mended) < 6 {
		t.Errorf("only %d findings offer changes: %v", len(mended), mended)
	}
	again, err := plan.Run(&p, hardware.Builtin(), plan.Options{Steps: 1500})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range again.Findings {
		if old, was := mended[x.Rule+" "+x.Subject]; was {
			t.Errorf("still there: %s\nit was: %s", x, old)
		}
	}
}

// apply makes a change as the workspace would: columns of the list in the list, everything else as a
// choice in the place of the one that stands.
func apply(p *project.Project, c finding.Change) bool {
	id, signal := strings.CutPrefix(c.Subject, "signal:")
	if signal && slices.Contains([]string{"form", "wires", "screen"}, c.Property) {
		for i := range p.Signals {
			s := &p.Signals[i]
			if s.ID != id {
				continue
			}
			switch c.Property {
			case "form":
				s.Form = c.Value
				s.Voltage.Set = false // the form names it
			case "wires":
				s.Wires, _ = strconv.Atoi(c.Value)
			case "screen":
				s.Screen = c.Value
			}
			return true
		}
		return false
	}
	p.Choices = slices.DeleteFunc(p.Choices, func(d project.Decision) bool { return d.Subject == c.Subject && d.Property == c.Property })
	p.Choices = append(p.Choices, project.Decision{Subject: c.Subject, Property: c.Property, Value: c.Value, Strength: project.Fixed, Origin: project.FromHand})
	return true
}
