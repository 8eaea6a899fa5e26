package plan_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/checker"
	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/modification"
	"railwright/internal/plan"
	"railwright/internal/project"
)

// Law: what is frozen is the same after any sequence of additions and removals.
func TestFrozenStaysThroughAdditions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := site(t)
		installed, _ := mustPlan(t, p, plan.Options{Steps: 1000})
		now := *p
		now.Signals = slices.Clone(p.Signals)
		previous := installed
		for round := range rapid.IntRange(1, 3).Draw(t, "rounds") {
			change(t, &now, round)
			p2 := now
			p2.Choices = append(slices.Clone(p.Choices), modification.Frozen(installed, nil, listedIn(&now))...)
			p2.Choices = append(p2.Choices, noLongerMade(t, installed)...)
			d, data := mustPlan(t, &p2, plan.Options{Steps: 1000, Previous: previous})
			for _, f := range d.Findings {
				if f.Rule == "CHO-005" || f.Rule == "CHO-001" {
					for _, g := range d.Findings {
						if g.Severity != "info" {
							t.Logf("%s %s: %s", g.Rule, g.Subject, g.Message)
						}
					}
					t.Fatalf("%s %s", f.Subject, f.Message)
				}
			}
			sameInstalled(t, installed, d, listedIn(&now))
			if bad := checker.Check(&p2, hardware.Builtin(), data, checker.Options{}); len(bad) > 0 {
				t.Fatalf("%d violations: %v", len(bad), bad[0])
			}
			previous = d
		}
	})
}

// noLongerMade forbids a module that is installed.
func noLongerMade(t *rapid.T, d *design.Design) []project.Decision {
	if len(d.Stations) == 0 || !rapid.Bool().Draw(t, "one module is no longer made") {
		return nil
	}
	slots := d.Stations[0].Slots
	code := slots[rapid.IntRange(0, len(slots)-1).Draw(t, "which")].Module
	return []project.Decision{{Subject: "part:" + code, Property: "use", Value: "no", Strength: project.Fixed, Origin: project.FromHand}}
}

func listedIn(p *project.Project) func(string) bool {
	ids := map[string]bool{}
	for _, s := range p.Signals {
		ids[s.ID] = true
	}
	return func(id string) bool { return ids[id] }
}

// change adds some signals like others, and removes one.
func change(t *rapid.T, p *project.Project, round int) {
	for n := range rapid.IntRange(1, 4).Draw(t, "added") {
		s := p.Signals[rapid.IntRange(0, len(p.Signals)-1).Draw(t, "like")]
		s.ID = fmt.Sprintf("%s-R%dN%d", s.ID, round, n)
		s.Tag, s.Device, s.RedundantWith = s.ID, s.ID, nil
		p.Signals = append(p.Signals, s)
	}
	if i := rapid.IntRange(0, len(p.Signals)-1).Draw(t, "removed"); len(p.Signals[i].RedundantWith) == 0 && rapid.Bool().Draw(t, "remove") {
		p.Signals = slices.Delete(p.Signals, i, i+1)
	}
}

// sameInstalled: every installed slot, channel, address and cable type is in the new design as it was.
func sameInstalled(t *rapid.T, old, new *design.Design, listed func(string) bool) {
	was, is := facts(old), facts(new)
	for _, st := range old.Stations {
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				if c.SignalID != "" && !listed(c.SignalID) {
					delete(was, "signal "+c.SignalID)
				}
			}
		}
	}
	for k, v := range was {
		if is[k] != v {
			t.Fatalf("%s was %s, is %s", k, v, is[k])
		}
	}
}

func facts(d *design.Design) map[string]string {
	out := map[string]string{}
	for _, st := range d.Stations {
		out["station "+st.ID] = st.Place + " " + st.Coupler
		for _, sl := range st.Slots {
			out[fmt.Sprintf("slot %s/%d", st.ID, sl.Slot)] = fmt.Sprint(sl.Module, sl.Base, sl.Infeed, sl.SupplyGroup, sl.InputByte, sl.OutputByte)
			for _, c := range sl.Channels {
				if c.SignalID != "" {
					out["signal "+c.SignalID] = fmt.Sprintf("%s/%d/%d %s", st.ID, sl.Slot, c.Channel, c.Address)
				}
			}
		}
	}
	return out
}
