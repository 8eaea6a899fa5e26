package synth

import (
	"fmt"
	"math/rand/v2"

	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Source is where chance comes from: a seeded generator, or a property test that can shrink.
type Source interface {
	// Intn returns a number from 0 to n-1.
	Intn(n int) int
}

// Seed returns the source of a seed.
func Seed(seed uint64) Source { return seeded{rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))} }

type seeded struct{ r *rand.Rand }

func (s seeded) Intn(n int) int { return s.r.IntN(n) }

// Size says how large a site is and what is in it.
type Size struct {
	Signals    int
	Places     int  // at least 1
	Candidates int  // at most Places
	Stations   int  // most stations at one place; 0 = 2
	Plain      bool // only the kinds and forms that every construction has, no classes, no partners
}

// Regime is a set of prices under which a site is planned; the answer depends on it.
type Regime string

// The regimes of the benchmarks.
const (
	Balanced      Regime = "balanced"
	CableDear     Regime = "cable-dear"     // cable labour four times the usual
	StationsCheap Regime = "stations-cheap" // a quarter of the labour for a station
)

// Regimes are all regimes in the order in which benchmarks report them.
var Regimes = []Regime{CableDear, Balanced, StationsCheap}

// Site makes up a project. The same source gives the same project.
func Site(size Size, regime Regime, from Source) *project.Project {
	b := &builder{from: from, size: size, p: &project.Project{
		Format: project.Format, Name: "made-up site", Controller: "C1", Revision: "0", Basis: project.DefaultBasis(),
		Network: project.Network{Profile: "ethernet-fibre", Topology: "star"},
		Power:   project.Power{FeederVoltage: 230, SupplyVoltage: 24, SupplyMin: 23.5},
	}}
	b.prices(regime)
	b.places()
	for len(b.p.Signals) < size.Signals {
		b.device()
	}
	b.p.Signals = b.p.Signals[:size.Signals]
	b.dropLonePartners()
	return b.p
}

type builder struct {
	from    Source
	size    Size
	p       *project.Project
	devices int
}

func (b *builder) prices(regime Regime) {
	pr := &b.p.Basis.Prices
	switch regime {
	case CableDear:
		pr.PullPerMetre *= 4
	case StationsCheap:
		pr.StationMount /= 4
	}
	for _, k := range project.Kinds {
		b.p.Basis.MaxCable[k] = 2_000_000
	}
	b.p.Basis.Segregation = map[string]project.Level{"FIRE": project.LevelGroup, "TRAIN-B": project.LevelModule}
}

// places lays a tree of routes with some more across it.
func (b *builder) places() {
	n := max(b.size.Places, 1)
	candidates := min(max(b.size.Candidates, 1), n)
	stations := b.size.Stations
	if stations == 0 {
		stations = 2
	}
	for i := range n {
		b.p.Places = append(b.p.Places, project.Place{
			ID: fmt.Sprintf("P%03d", i), Name: fmt.Sprintf("Place %d", i), MaxStations: stations,
			Candidate: i*candidates/n != (i-1)*candidates/n || i == 0, Controller: i == 0, PowerSource: i == 0,
		})
		if i > 0 {
			b.route(i, b.from.Intn(i))
		}
		if i > 4 && b.from.Intn(3) == 0 {
			b.route(i, b.from.Intn(i))
		}
	}
}

func (b *builder) route(i, j int) {
	b.p.Routes = append(b.p.Routes, project.Route{
		ID: fmt.Sprintf("R%04d", len(b.p.Routes)), From: b.p.Places[i].ID, To: b.p.Places[j].ID,
		Length: q.Millimetres(20_000 + 1000*b.from.Intn(100)),
	})
}

func (b *builder) add(place, device, suffix string, s project.Signal) *project.Signal {
	s.Tag = device + "." + suffix
	s.ID, s.Place, s.Device, s.Equipment = s.Tag, place, device, fmt.Sprintf("U%d", b.devices/12)
	b.p.Signals = append(b.p.Signals, s)
	return &b.p.Signals[len(b.p.Signals)-1]
}

// device adds one device of a kind drawn by weight.
func (b *builder) device() {
	total := 0
	for _, t := range templates {
		if !b.size.Plain || t.plain {
			total += t.weight
		}
	}
	draw := b.from.Intn(total)
	for _, t := range templates {
		if b.size.Plain && !t.plain {
			continue
		}
		if draw -= t.weight; draw < 0 {
			b.devices++
			place := b.p.Places[b.from.Intn(len(b.p.Places))].ID
			t.make(b, place, fmt.Sprintf("%s%05d", t.letters, b.devices))
			return
		}
	}
}

// dropLonePartners removes the names of partners that were cut off with the last signals.
func (b *builder) dropLonePartners() {
	known := map[string]bool{}
	for _, s := range b.p.Signals {
		known[s.ID] = true
	}
	for i := range b.p.Signals {
		s := &b.p.Signals[i]
		var kept []string
		for _, r := range s.RedundantWith {
			if known[r] {
				kept = append(kept, r)
			}
		}
		s.RedundantWith = kept
	}
}
