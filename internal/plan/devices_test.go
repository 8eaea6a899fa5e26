package plan_test

import (
	"slices"
	"strings"
	"testing"

	"railwright/internal/checker"
	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/plan"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/synth"
)

// cheapBreakers is the built-in list with breakers at a quarter of their price, so that the cheapest device
// is never the one that a current-limited supply trips.
func cheapBreakers() *hardware.List {
	l := *hardware.Builtin()
	l.Protections = slices.Clone(l.Protections)
	for i := range l.Protections {
		if d := &l.Protections[i]; d.Type != "electronic" {
			d.Price /= 4
		}
	}
	return &l
}

// smallUnits is the built-in list with one kind of supply unit for 24 V, so that feeds need several.
func smallUnits() *hardware.List {
	l := *hardware.Builtin()
	l.Supplies = slices.DeleteFunc(slices.Clone(l.Supplies), func(u hardware.SupplyUnit) bool { return u.Voltage < 36 && u.Output > 2_500_000 })
	return &l
}

// warm is a small site in the heat, so that conductors carry less.
func warm(seed uint64) *project.Project {
	p := synth.Site(synth.Size{Signals: 60, Places: 3, Candidates: 2}, synth.Balanced, synth.Seed(seed))
	p.Basis.Construction = []string{"rail", "slice", "block"}[seed%3]
	p.Basis.AmbientMax = 45
	p.Basis.Supply.InfeedArea = 0.5
	return p
}

func lawful(t *testing.T, p *project.Project, l *hardware.List) *design.Design {
	t.Helper()
	d, err := plan.Run(p, l, plan.Options{Steps: 500})
	if err != nil {
		t.Fatal(err)
	}
	data, err := design.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range checker.Check(p, l, data, checker.Options{}) {
		t.Error(b)
	}
	return d
}

// The plan takes devices that a short trips and conductors that they protect, though cheaper and smaller
// ones are to be had; the independent checker agrees, and a finding says which and why.
func TestDevicesFollowTheFaultCurrent(t *testing.T) {
	swaps, larger := 0, 0
	for seed := range uint64(4) {
		d := lawful(t, warm(seed), cheapBreakers())
		for _, x := range d.Findings {
			switch {
			case slices.Contains([]string{"PWR-002", "PWR-003", "PWR-004"}, x.Rule) && x.Severity == finding.Error && x.Subject[:6] == "group:":
				t.Error(x)
			case x.Rule == "PWR-012":
				swaps++
			case x.Rule == "PWR-013":
				larger++
			}
		}
	}
	if swaps == 0 || larger == 0 {
		t.Errorf("%d devices and %d conductors chosen beyond the cheapest, none is no proof", swaps, larger)
	}
}

// Where a feed needs several units, each has its entry with the whole feed's figures.
func TestSeveralUnitsOfAFeed(t *testing.T) {
	d := lawful(t, warm(1), smallUnits())
	several := false
	for _, s := range d.Supplies {
		several = several || s.Units > 1
	}
	if !several {
		t.Error("no feed needs two units")
	}
}

// With n+1 each feed has a unit more than it needs, decoupled, and its figures are without that one.
func TestUnitsThatMayFail(t *testing.T) {
	p := warm(1)
	p.Basis.Supply.Spare = 1
	d := lawful(t, p, hardware.Builtin())
	for _, s := range d.Supplies {
		u, _ := hardware.Builtin().Supply(s.Type)
		if s.Units < 2 || !u.Decoupled || s.NeedMA > s.LimitMA || s.LimitMA > float64(s.Units-1)*u.Output.Milliamps() {
			t.Errorf("%+v", s)
		}
	}
	if len(d.Supplies) < 2 {
		t.Error("no second unit")
	}
}

// A device fixed by hand for a group whose slots are free is used where it is rated, and refused with the
// reason where it is not.
func TestDeviceFixedByHand(t *testing.T) {
	p := warm(2)
	d, err := plan.Run(p, hardware.Builtin(), plan.Options{Steps: 500})
	if err != nil {
		t.Fatal(err)
	}
	st := &d.Stations[0]
	g := &st.SupplyGroups[len(st.SupplyGroups)-1]
	fix := func(property, value string) *design.Design {
		next := *p
		next.Choices = append(slices.Clone(p.Choices), project.Decision{Subject: "station:" + st.ID, Property: property, Value: value, Strength: project.Fixed, Origin: project.FromHand})
		return lawful(t, &next, hardware.Builtin())
	}
	slot := "protection." + q.Short(float64(g.FirstSlot))
	got := fix(slot, "electronic-10a")
	if have := got.Stations[0].SupplyGroups[g.Group-1]; have.Protection != "electronic-10a" {
		t.Errorf("group %d is behind %s", g.Group, have.Protection)
	}
	for _, x := range got.Findings {
		if x.Rule == "CHO-005" {
			t.Error(x)
		}
	}
	for value, why := range map[string]string{"breaker-ac-c10": "kind", "nothing-like-it": "hardware list"} {
		if !refusedWith(fix(slot, value), why) {
			t.Errorf("%s is not refused because of its %s", value, why)
		}
	}
	area := fix("infeed_mm2."+q.Short(float64(g.FirstSlot)), "6")
	if have := area.Stations[0].SupplyGroups[g.Group-1].InfeedMM2; have != 6 {
		t.Errorf("the infeed has %v mm2", have)
	}
	if d := fix("protection.61", "electronic-10a"); !refusedWith(d, "no supply group begins") || !refusedWith(d, "slot.N and infeed.N") {
		t.Error("a device for a slot at which no group begins is not refused")
	}
}

func refusedWith(d *design.Design, why string) bool {
	return slices.ContainsFunc(d.Findings, func(x finding.Finding) bool {
		return x.Rule == "CHO-005" && strings.Contains(x.Message+" "+x.Remedy.Text, why)
	})
}

// The plan takes larger conductors where the cheapest leave too few volts or too much lead, and modules that
// break fewest rules; the independent checker agrees, and findings say so.
func TestConductorsAndModulesFollowTheSignals(t *testing.T) {
	larger, modules := 0, 0
	for seed := range uint64(6) {
		p := synth.Site(synth.Size{Signals: 80, Places: 6, Candidates: 3}, synth.Balanced, synth.Seed(100+seed))
		p.Basis.Construction = []string{"rail", "slice", "block"}[seed%3]
		p.Power.SupplyMin = 22
		for kind := range p.Basis.Cable.Area {
			p.Basis.Cable.Area[kind] = 0.5
		}
		for i := range p.Signals {
			s := &p.Signals[i]
			switch n := (i + int(seed)) % 4; {
			case s.Kind == project.DI && s.Form == "contact" && n == 0:
				s.Form, s.Leakage = "2-wire", q.Some(q.Current(0.0012))
			case s.Kind == project.DO && s.Form == "24v" && n < 2:
				s.Current, s.MinVoltage = q.Some(q.Current(0.2)), q.Some(q.Voltage(18))
			case s.Kind == project.DO && s.Form == "24v" && n == 2: // on mains, behind a feeder
				s.Form, s.Voltage, s.Current, s.MinVoltage = "230vac", q.Some(q.Voltage(230)), q.Some(q.Current(0.9)), q.Some(q.Voltage(188))
			case s.Kind == project.TC:
				s.Junction = []string{"earthed", "insulated", "", "earthed"}[n]
			case s.Kind == project.RTD && n < 2:
				s.Wires, s.Sensor = 2+n, "Pt100"
			}
		}
		for _, x := range lawful(t, p, hardware.Builtin()).Findings {
			switch x.Rule {
			case "CAB-002":
				larger++
			case "SIG-003":
				modules++
			case "DIN-001", "DIN-002":
				t.Error(x)
			}
		}
	}
	if larger == 0 || modules == 0 {
		t.Errorf("%d larger conductors and %d modules chosen for their signals, none is no proof", larger, modules)
	}
}
