package all_test

import (
	"testing"

	"railwright/internal/calc/all"
	"railwright/internal/calc/bus"
	"railwright/internal/calc/conductor"
	"railwright/internal/calc/heat"
	"railwright/internal/calc/loop"
	"railwright/internal/calc/protect"
	"railwright/internal/cite"
	"railwright/internal/formula/formulatest"
)

// The text of each formula, evaluated by a general expression library, and its Go func agree.
func TestTextsSayWhatTheFuncsCompute(t *testing.T) {
	formulatest.Check(t, all.Formulas(), map[string]formulatest.Range{
		"awg": {Min: -3, Max: 40}, "cos_phi": {Min: 0, Max: 1}, "x": {Min: 0, Max: 0.2},
		"loop.rise_time.supply": {Min: 20, Max: 30}, "loop.rise_time.on": {Min: 5, Max: 15},
		"loop.bleeder.leakage": {Min: 1, Max: 5}, "loop.bleeder.allowed": {Min: 0, Max: 0.9},
		"loop.hart_length.devices": {Min: 0, Max: 50000},
		"t":                        {Min: -30, Max: 50}, "outside": {Min: -30, Max: 50}, "inside": {Min: -30, Max: 50},
		"hours": {Min: 1, Max: 20}, "peukert": {Min: 1, Max: 1.4}, "usable": {Min: 0.3, Max: 1}, "supply.start_time.limit": {Min: 20, Max: 40}, "supply.start_time.load": {Min: 0, Max: 19},
		"voltdrop.at_constant_power.source": {Min: 20, Max: 60}, "voltdrop.at_constant_power.power": {Min: 0, Max: 50},
		"voltdrop.at_constant_power.r_loop": {Min: 0, Max: 2},
	})
}

func TestNamed(t *testing.T) {
	for _, f := range all.Formulas() {
		if got, ok := all.Named(f.Name); !ok || got != f {
			t.Errorf("%s is not found under its name", f.Name)
		}
	}
	if f, ok := all.Named("no.such"); ok {
		t.Errorf("found %v", f)
	}
}

// Every table row names a source that exists.
func TestRowsCiteSources(t *testing.T) {
	var refs []string
	for _, class := range []conductor.Class{conductor.Class1, conductor.Class2, conductor.Class2Tinned, conductor.Class5, conductor.Class5Tinned, conductor.Class6} {
		for _, row := range conductor.Table(class) {
			refs = append(refs, row.Source)
			if row.Area < 0.2 {
				continue
			}
			r, err := conductor.Rate(row.Area, conductor.Laying{Method: conductor.MethodC, Ambient: 40})
			if err != nil {
				t.Fatal(err)
			}
			refs = append(refs, r.BaseSource, r.GroupSource)
		}
	}
	for _, c := range []protect.Curve{"B", "C", "D", "K", "Z"} {
		for _, dc := range []bool{false, true} {
			b, err := protect.Band(c, dc)
			if err != nil {
				t.Fatal(err)
			}
			refs = append(refs, b.Source)
		}
	}
	for _, k := range []protect.Kind{protect.FuseGG, protect.FuseQuick, protect.FuseTimeLag, protect.Electronic, protect.CurrentLimit} {
		trip, err := protect.Device{Kind: k, Rated: 2}.Trip()
		if err != nil {
			t.Fatal(err)
		}
		refs = append(refs, trip.Source)
	}
	for _, k := range []protect.CircuitKind{protect.ExtraLow, protect.MachinePower, protect.Up500, protect.Above500} {
		i, err := protect.InsulationLimit(k)
		if err != nil {
			t.Fatal(err)
		}
		refs = append(refs, i.Source)
	}
	for n := 1; n <= 3; n++ {
		in, err := loop.ByType(n)
		if err != nil {
			t.Fatal(err)
		}
		refs = append(refs, in.Source)
	}
	for _, m := range heat.Materials() {
		refs = append(refs, m.Source)
	}
	for _, p := range bus.Profiles() {
		refs = append(refs, p.Source)
	}
	refs = append(refs, protect.PVC.Source, protect.XLPE.Source)
	for _, ref := range refs {
		if _, err := cite.Lookup(ref); err != nil {
			t.Error(err)
		}
	}
}
