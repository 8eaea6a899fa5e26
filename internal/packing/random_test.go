package packing_test

import (
	"fmt"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"

	"pgregory.net/rapid"
)

// draw is a small world for enumeration: a hardware list of a few parts, a basis and a few signals.
type draw struct{ t *rapid.T }

func (d draw) n(lo, hi int) int         { return rapid.IntRange(lo, hi).Draw(d.t, "n") }
func (d draw) of(list ...int) int       { return list[d.n(0, len(list)-1)] }
func (d draw) yes(percent int) bool     { return d.n(0, 99) < percent }
func (d draw) money(lo, hi int) q.Money { return q.Money(d.n(lo, hi)) * q.MoneyUnit }

func (d draw) list(opening hardware.Opening) *hardware.List {
	l := &hardware.List{}
	c := hardware.Construction{Code: "c", Opening: opening, MaxSlots: d.of(4, 7, 12), MaxGroups: d.of(3, 6, 9), MaxRail: 2000}
	if opening != hardware.ByEach {
		c.CouplerFeeds = d.yes(40)
		c.CouplerLimit = q.Microamps(d.of(600, 1500, 8000)) * 1000
		c.HasBases = opening == hardware.ByBase || d.yes(20)
	}
	if d.yes(40) {
		c.Order = []string{"left", "right"}
	}
	if d.yes(50) {
		c.EndPiece = "end"
		l.Parts = append(l.Parts, hardware.Part{Code: "end", Width: 5, Price: 7 * q.MoneyUnit})
	}
	kinds := []project.Kind{project.DI, project.DO}
	for i := range d.n(2, 4) {
		m := hardware.Module{
			Code: fmt.Sprintf("m%d", i), Constructions: []string{"c"}, Width: q.Millimetres(d.of(10, 20, 30)),
			Logic: q.Microamps(d.of(10, 30)) * 1000, Supply: q.Microamps(d.of(0, 20)) * 1000, SupplyKind: "24vdc", In: d.of(0, 1, 2), Out: d.of(0, 1, 2),
			Pattern: []string{"p", "q"}[d.of(0, 0, 1)], AmbientMax: 60, Price: d.money(20, 90), BusLimit: q.Microamps(d.of(700, 2500)) * 1000, OwnInfeed: true,
		}
		if len(c.Order) > 0 {
			m.Rank = c.Order[d.n(0, 1)]
		}
		if d.yes(40) {
			m.MaxTotal = q.Microamps(d.of(500, 900)) * 1000
		}
		sets := kinds
		if !d.yes(25) {
			sets = kinds[d.n(0, 1):][:1]
		}
		for _, k := range sets {
			m.Channels = append(m.Channels, d.set(k))
		}
		l.Modules = append(l.Modules, m)
	}
	for i := range d.n(0, 2) {
		l.Modules = append(l.Modules, hardware.Module{
			Code: fmt.Sprintf("x%d", i), Constructions: []string{"c"}, Infeed: true, Width: q.Millimetres(d.of(5, 15)),
			Logic: 5000, Supply: q.Microamps(d.of(0, 30)) * 1000, SupplyKind: "24vdc", Pattern: "p", AmbientMax: 60, Price: d.money(5, 40), BusLimit: q.Microamps(d.of(600, 1200, 6000)) * 1000,
		})
		c.InfeedModules = append(c.InfeedModules, fmt.Sprintf("x%d", i))
	}
	for i := range d.n(2, 5) {
		b := hardware.Base{
			Code: fmt.Sprintf("b%d", i), Constructions: []string{"c"}, Patterns: []string{"p", "q"}[:d.of(1, 2)], Infeed: i%2 == 1,
			BusLimit: q.Microamps(d.of(600, 1200, 6000)) * 1000, Width: q.Millimetres(d.of(0, 0, 25)), Price: d.money(3, 20),
		}
		l.Bases = append(l.Bases, b)
	}
	l.Constructions = []hardware.Construction{c}
	d.frame(l)
	l.Sort()
	return l
}

func (d draw) set(k project.Kind) hardware.ChannelSet {
	s := hardware.ChannelSet{Kind: k, Count: d.of(1, 2, 3, 4), First: 1, Step: 1, Bits: 1, Image: "in"}
	if k == project.DI {
		s.Forms, s.Input = []string{"contact", "pnp"}[:d.of(1, 2, 2)], q.Microamps(d.of(3, 3, 9))*1000
		s.Terminals = terminals("supply+", "signal", "supply-")
	} else {
		s.Forms, s.Image, s.First = []string{"24v"}, "out", 11
		s.Terminals = terminals("signal", "supply-")
		if d.yes(30) {
			s.MaxEach = 400_000
		}
	}
	return s
}

func terminals(functions ...string) (out []hardware.Terminal) {
	for _, f := range functions {
		out = append(out, hardware.Terminal{Function: f})
	}
	return out
}

// frame adds what stands round the modules. All protections are equally wide: only then is fewer
// groups never wider.
func (d draw) frame(l *hardware.List) {
	for i, rating := range []int{500, 1000, 2000, 4000}[:d.n(2, 4)] {
		l.Protections = append(l.Protections, hardware.Protection{
			Code: fmt.Sprintf("f%d", i), DC: true, Rating: q.Microamps(rating) * 1000, Width: 12,
			Price: q.Money(10+i*d.of(0, 5, 11)) * q.MoneyUnit,
		})
	}
	for i := range d.n(1, 2) {
		l.Couplers = append(l.Couplers, hardware.Coupler{
			Code: fmt.Sprintf("k%d", i), Construction: "c", Network: "net", Width: 40, LogicLimit: q.Microamps(d.of(100, 300, 900)) * 1000,
			Supply: 50_000, LogicFactor: 300, MaxSlots: d.of(5, 9, 12), MaxIn: d.of(5, 20, 30), MaxOut: d.of(5, 20, 30), HeaderIn: 1, AmbientMax: 60, Price: d.money(80, 130),
		})
	}
	for i, rail := range []int{150, 220, 400, 3000} {
		l.Enclosures = append(l.Enclosures, hardware.Enclosure{Code: fmt.Sprintf("e%d", i), Rail: q.Millimetres(rail), Row: q.Millimetres(rail), Price: q.Money(60+i*d.of(0, 20, 35)) * q.MoneyUnit})
	}
	for i, amps := range []int{1, 2, 20} {
		l.Supplies = append(l.Supplies, hardware.SupplyUnit{
			Code: fmt.Sprintf("u%d", i), Output: q.Microamps(amps) * 1_000_000, Voltage: 24, DerateFrom: 50, AmbientMax: 60,
			Width: 30, Price: q.Money(50+i*d.of(10, 30)) * q.MoneyUnit,
		})
	}
}

func (d draw) signals(n int) []project.Signal {
	out := make([]project.Signal, n)
	for i := range out {
		s := project.Signal{ID: fmt.Sprintf("S%d", i), Tag: fmt.Sprintf("T%d", i), Kind: project.DI, Form: "contact", Equipment: fmt.Sprintf("E%d", d.n(0, 2))}
		switch d.n(0, 3) {
		case 0:
			s.Form = "pnp"
		case 1, 2:
			s.Kind, s.Form = project.DO, "24v"
			s.Current = q.Some(q.Current([]float64{0.1, 0.3, 0.5}[d.n(0, 2)]))
		}
		if d.yes(15) {
			s.SupplyClass = "ups"
		}
		if i > 0 && d.yes(15) {
			s.RedundantWith = []string{fmt.Sprintf("S%d", d.n(0, i-1))}
		}
		out[i] = s
	}
	return out
}

func (d draw) basis() project.Basis {
	b := project.DefaultBasis()
	b.Group.SplitInOut = d.yes(60)
	b.Group.MaxCurrent = q.Microamps(d.of(800, 1500, 8000)) * 1000
	b.Spare = map[project.Kind]int64{project.DI: int64(d.of(0, 100, 500)), project.DO: int64(d.of(0, 0, 200))}
	b.FreeSlots = d.of(0, 0, 1)
	b.Redundancy = []project.Level{project.LevelModule, project.LevelGroup}[d.of(0, 0, 1)]
	return b
}

func (d draw) place(opening hardware.Opening, n int) (*tariff.Place, error) {
	list := d.list(opening)
	p := &project.Project{Basis: d.basis(), Signals: d.signals(n)}
	return tariff.NewBook(p.Normalised(), list).At(tariff.Site{
		Place: "P", Construction: "c", Network: "net", Ambient: 40,
		Feeder: 100 * q.MoneyUnit, UPSFeeder: 150 * q.MoneyUnit, FixedCost: 11 * q.MoneyUnit,
	})
}
