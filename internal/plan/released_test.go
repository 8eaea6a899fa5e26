package plan_test

import (
	"fmt"
	"slices"
	"testing"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/modification"
	"railwright/internal/plan"
	"railwright/internal/synth"
)

// A station that is full and may have no neighbour refuses further signals, and says what releasing gives.
func TestFullStationSaysWhatReleasingGives(t *testing.T) {
	p := synth.Site(synth.Size{Signals: 12, Places: 2, Candidates: 1, Stations: 1, Plain: true}, synth.Balanced, synth.Seed(3))
	p.Basis.Construction = "rail"
	installed, _ := mustPlan(t, p, plan.Options{Steps: 1000})
	for i := range p.Places {
		p.Places[i].MaxSlots = len(installed.Stations[0].Slots)
		p.Places[i].MaxStations = 1
	}
	like := p.Signals[0]
	for n := range 90 {
		s := like
		s.ID = fmt.Sprintf("ADDED-%02d", n)
		s.Tag, s.Device, s.RedundantWith = s.ID, s.ID, nil
		p.Signals = append(p.Signals, s)
	}
	p.Choices = modification.Frozen(installed, nil, func(string) bool { return true })
	d, _ := mustPlan(t, p, plan.Options{Steps: 1000, Previous: installed})
	if len(d.Unplaced) == 0 {
		t.Fatal("everything was placed: the case tests nothing")
	}
	if !slices.ContainsFunc(d.Findings, func(f finding.Finding) bool { return f.Rule == "FRZ-001" }) {
		t.Errorf("no FRZ-001 among the findings; %d unplaced", len(d.Unplaced))
	}
	placedOn(t, d, installed)
}

// placedOn: whatever was refused, what is installed is still there.
func placedOn(t *testing.T, d, installed *design.Design) {
	t.Helper()
	was, is := facts(installed), facts(d)
	for k, v := range was {
		if is[k] != v {
			t.Errorf("%s was %s, is %s", k, v, is[k])
		}
	}
}
