package packing_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// mixed makes a list of signals as they are met on a plant, by a seed.
func mixed(seed uint64, n int) []project.Signal {
	rnd := rand.New(rand.NewPCG(seed, 7))
	kinds := []struct {
		kind   project.Kind
		form   string
		sensor string
		active string
		weight int
	}{
		{project.DI, "contact", "", "", 22},
		{project.DI, "pnp", "", "", 16},
		{project.DI, "namur", "", "", 4},
		{project.DO, "24v", "", "", 16},
		{project.DO, "relay", "", "", 4},
		{project.AI, "4-20ma", "", "passive", 16},
		{project.AI, "4-20ma", "", "active", 4},
		{project.AO, "4-20ma", "", "", 6},
		{project.RTD, "resistance", "Pt100", "", 6},
		{project.TC, "millivolt", "K", "", 3},
		{project.CNT, "pulse-24v", "", "", 3},
	}
	total := 0
	for _, k := range kinds {
		total += k.weight
	}
	out := make([]project.Signal, n)
	for i := range out {
		r := rnd.IntN(total)
		k := kinds[0]
		for _, c := range kinds {
			if r < c.weight {
				k = c
				break
			}
			r -= c.weight
		}
		s := project.Signal{
			ID: fmt.Sprintf("S%04d", i), Tag: fmt.Sprintf("T%04d", i), Kind: k.kind, Form: k.form, Sensor: k.sensor, Active: k.active,
			Place: "P", Device: fmt.Sprintf("D%d", i), Equipment: fmt.Sprintf("E%d", rnd.IntN(n/8+1)),
		}
		if k.kind == project.DO && k.form == "24v" && rnd.IntN(3) == 0 {
			s.Current = q.Some(q.Current([]float64{0.05, 0.4, 0.5, 1.2}[rnd.IntN(4)]))
		}
		if k.kind == project.DO && k.form == "24v" && rnd.IntN(6) == 0 {
			s.SupplyClass = "safety:stop"
		}
		if rnd.IntN(25) == 0 {
			s.SupplyClass = "ups"
		}
		if i > 0 && rnd.IntN(12) == 0 {
			s.RedundantWith = []string{fmt.Sprintf("S%04d", rnd.IntN(i))}
		}
		out[i] = s
	}
	return out
}

func builtinPlace(t testing.TB, construction string, signals []project.Signal, change func(*project.Basis)) *tariff.Place {
	t.Helper()
	list := hardware.Builtin()
	p := &project.Project{Basis: project.DefaultBasis(), Signals: signals}
	if change != nil {
		change(&p.Basis)
	}
	network := ""
	for _, c := range list.Couplers {
		if c.Construction == construction && (network == "" || c.Network == "ethernet-copper") {
			network = c.Network
		}
	}
	place, err := tariff.NewBook(p.Normalised(), list).At(tariff.Site{
		Place: "P", Construction: construction, Network: network, Ambient: 40,
		Feeder: 400 * q.MoneyUnit, UPSFeeder: 500 * q.MoneyUnit,
	})
	if err != nil {
		t.Fatal(err)
	}
	return place
}

func all(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
