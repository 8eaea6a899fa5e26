package checker

import (
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// The fixture: a small site with two stations of two constructions, whose design (testdata) was
// worked out by hand from docs/plan-rules.md. All parts and prices are invented.

func eur(v float64) q.Money { return q.ToMoney(v) }

func terminal(function, label string) hardware.Terminal {
	return hardware.Terminal{Function: function, Label: label, MinArea: 0.25, MaxArea: 2.5}
}

func fixtureModules() []hardware.Module {
	both := []string{"rail-a", "rail-m"}
	return []hardware.Module{
		{
			Code: "ai2", Constructions: both, Width: 12, Rank: "ana", Logic: 30_000, Supply: 10_000, SupplyKind: "24vdc", In: 4,
			Pattern: "p2", Heat: 900, AmbientMax: 60, Price: eur(90),
			Channels: []hardware.ChannelSet{{
				Kind: project.AI, Forms: []string{"4-20ma", "0-20ma"}, Loop: []string{"feeds", "takes"}, Count: 2, First: 1, Step: 1,
				Bits: 16, Image: "in", Input: 22_000,
				Terminals: []hardware.Terminal{terminal("supply+", "{n}S"), terminal("signal+", "{n}P"), terminal("signal-", "{n}N")},
			}},
		},
		{
			Code: "di4", Constructions: both, Width: 12, Rank: "dig", Logic: 20_000, SupplyKind: "24vdc", In: 1,
			Pattern: "p4", Heat: 800, AmbientMax: 60, Price: eur(40),
			Channels: []hardware.ChannelSet{{
				Kind: project.DI, Forms: []string{"contact", "pnp", "24v"}, Count: 4, First: 1, Step: 1, Bits: 1, Image: "in", Input: 3_000,
				Terminals: []hardware.Terminal{terminal("signal", "{n}"), terminal("supply+", "a{2i+1}"), terminal("supply-", "M{n}")},
			}},
		},
		{
			Code: "do4", Constructions: both, Width: 15, Rank: "dig", Logic: 25_000, Supply: 5_000, SupplyKind: "24vdc", Out: 1, Safe: true,
			Pattern: "p4", Heat: 700, AmbientMax: 60, Price: eur(45), MaxTotal: 1_500_000,
			Channels: []hardware.ChannelSet{{
				Kind: project.DO, Forms: []string{"24v"}, Count: 4, First: 1, Step: 1, Bits: 1, Image: "out", MaxEach: 500_000,
				Terminals: []hardware.Terminal{terminal("signal", "{n}"), terminal("supply-", "M{n}")},
			}},
		},
		{
			Code: "inf24", Constructions: []string{"rail-m"}, Width: 10, Logic: 5_000, SupplyKind: "24vdc", Infeed: true,
			BusLimit: 8_000_000, Heat: 300, AmbientMax: 60, Price: eur(15),
		},
	}
}

func fixtureHardware() *hardware.List {
	cable := func(code, use, family string, cores int, area float64, screened bool, price float64) hardware.Cable {
		return hardware.Cable{Code: code, Use: use, Family: family, Cores: cores, Area: q.CrossSection(area), Class: 5, Screened: screened, Price: eur(price)}
	}
	order := []string{"dig", "ana"}
	return &hardware.List{
		Constructions: []hardware.Construction{
			{Code: "rail-a", Opening: hardware.ByBase, HasBases: true, EndPiece: "end-a", FirstSlot: "infeed", Order: order, MaxSlots: 8, MaxGroups: 4, MaxRail: 600},
			{Code: "rail-m", Opening: hardware.ByModule, CouplerFeeds: true, CouplerLimit: 2_000_000, Order: order, MaxSlots: 8, MaxGroups: 4, MaxRail: 600, InfeedModules: []string{"inf24"}},
		},
		Couplers: []hardware.Coupler{
			{Code: "cpl-a", Construction: "rail-a", Network: "net-cu", Width: 50, LogicLimit: 1_000_000, Supply: 60_000, LogicFactor: 250, MaxSlots: 8, MaxIn: 64, MaxOut: 64, HeaderIn: 2, Heat: 1500, AmbientMax: 60, Price: eur(150)},
			{Code: "cpl-a-large", Construction: "rail-a", Network: "net-cu", Width: 60, LogicLimit: 2_000_000, Supply: 60_000, LogicFactor: 250, MaxSlots: 8, MaxIn: 128, MaxOut: 128, HeaderIn: 2, Heat: 1500, AmbientMax: 60, Price: eur(190)},
			{Code: "cpl-m", Construction: "rail-m", Network: "net-cu", Width: 45, LogicLimit: 800_000, Supply: 50_000, LogicFactor: 300, MaxSlots: 8, MaxIn: 64, MaxOut: 64, Heat: 1400, AmbientMax: 60, Price: eur(120)},
		},
		Modules: fixtureModules(),
		Bases: []hardware.Base{
			{Code: "base-in", Constructions: []string{"rail-a"}, Patterns: []string{"p2", "p4"}, Infeed: true, BusLimit: 8_000_000, Price: eur(12)},
			{Code: "base-th", Constructions: []string{"rail-a"}, Patterns: []string{"p2", "p4"}, Price: eur(8)},
		},
		Supplies: []hardware.SupplyUnit{
			{Code: "ps-2", Output: 2_000_000, Voltage: 24, DerateFrom: 35, DeratePerK: 20, AmbientMax: 60, Width: 40, Price: eur(50)},
			{Code: "ps-5", Output: 5_000_000, Voltage: 24, DerateFrom: 35, DeratePerK: 20, AmbientMax: 60, Width: 60, Price: eur(85)},
		},
		Protections: []hardware.Protection{
			{Code: "fuse-1", DC: true, Rating: 1_000_000, Width: 6, Heat: 200, Price: eur(5)},
			{Code: "fuse-4", DC: true, Rating: 4_000_000, Width: 6, Heat: 300, Price: eur(6)},
			{Code: "mcb-6", AC: true, Rating: 6_000_000, Width: 18, Heat: 400, Price: eur(9)},
		},
		Cables: []hardware.Cable{
			cable("f12", "field", "signal", 12, 1.5, false, 2.2), cable("f4", "field", "signal", 4, 1.5, false, 0.8),
			cable("f4-25", "field", "signal", 4, 2.5, false, 1.305), cable("f4-40", "field", "signal", 4, 4, false, 1.9), cable("f4s", "field", "signal", 4, 0.75, true, 1.1),
			cable("net", "network", "copper-ethernet", 8, 0.25, true, 0.6), cable("sup3", "supply", "power", 3, 2.5, false, 1.5),
		},
		Enclosures: []hardware.Enclosure{
			{Code: "enc-l", Rail: 800, Row: 400, Price: eur(160)}, {Code: "enc-s", Rail: 330, Row: 330, Price: eur(100)}, {Code: "enc-t", Rail: 120, Row: 100, Price: eur(60)},
		},
		Networks: []hardware.NetworkProfile{
			{Code: "net-cu", Medium: "copper-ethernet", Cable: "net", MaxSegment: 90_000, MaxStations: 16, Topologies: []string{"star", "line"}, EndPart: "plug", SwitchPart: "sw8", SwitchPorts: 8},
		},
		Parts: []hardware.Part{
			{Code: "end-a", Width: 6, Price: eur(3)}, {Code: "plug", Price: eur(4)}, {Code: "sw8", Price: eur(80)},
		},
	}
}

func fixtureProject() *project.Project {
	b := project.DefaultBasis()
	b.Construction = "rail-a"
	b.Segregation = map[string]project.Level{"A": project.LevelStation, "B": project.LevelModule}
	pl := func(id string, x project.Place) project.Place {
		x.ID = id
		return x
	}
	sig := func(id, place, device string, kind project.Kind, form string, x project.Signal) project.Signal {
		x.ID, x.Tag, x.Place, x.Device, x.Kind, x.Form = id, "T-"+id, place, device, kind, form
		return x
	}
	amp := func(v float64) q.Opt[q.Current] { return q.Some(q.Current(v)) }
	return &project.Project{
		Format: 1, Name: "fixture", Basis: b,
		Places: []project.Place{
			pl("CR", project.Place{Controller: true, PowerSource: true}),
			pl("P1", project.Place{Candidate: true, MaxStations: 1, Local: 6_000, FixedCost: eur(25)}),
			pl("P2", project.Place{Candidate: true, MaxStations: 1, Construction: "rail-m"}),
			pl("P3", project.Place{}),
		},
		Routes: []project.Route{
			{ID: "R1", From: "CR", To: "P1", Length: 40_000},
			{ID: "R2", From: "P2", To: "P1", Length: 30_050},
			{ID: "R3", From: "P2", To: "P3", Length: 20_000},
			{ID: "R4", From: "CR", To: "P2", Length: 80_000},
		},
		Network: project.Network{Profile: "net-cu", Topology: "star"},
		Power:   project.Power{FeederVoltage: 230, SupplyVoltage: 24, SupplyMin: 23.5},
		Signals: []project.Signal{
			sig("S01", "P1", "PUMP-1", project.DI, "contact", project.Signal{}),
			sig("S02", "P1", "PUMP-1", project.DI, "contact", project.Signal{}),
			sig("S03", "P1", "PUMP-1", project.DO, "24v", project.Signal{Current: amp(0.2)}),
			sig("S04", "P1", "LT-1", project.AI, "4-20ma", project.Signal{}),
			sig("S05", "P3", "VALVE-1", project.DI, "contact", project.Signal{}),
			sig("S06", "P3", "VALVE-1", project.DO, "24v", project.Signal{Current: amp(0.4), MinVoltage: q.Some(q.Voltage(18))}),
			sig("S07", "P3", "FT-1", project.AI, "4-20ma", project.Signal{Active: "active"}),
			sig("S08", "P3", "LS-1", project.DI, "contact", project.Signal{RedundantWith: []string{"T-S09"}}),
			sig("S09", "P3", "LS-1", project.DI, "contact", project.Signal{}),
			sig("S10", "P1", "", project.DO, "24v", project.Signal{SupplyClass: "ups"}),
			sig("S11", "P3", "BRAKE", project.DO, "24v", project.Signal{SupplyClass: "safety:ESTOP", Current: amp(0.45), MinVoltage: q.Some(q.Voltage(22.68))}),
		},
	}
}
