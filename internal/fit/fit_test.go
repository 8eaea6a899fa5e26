package fit_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"

	"github.com/google/go-cmp/cmp"
)

// The functions of each kind and form; source: docs/plan-rules.md section 2, row by row.
func TestConductors(t *testing.T) {
	for _, c := range []struct {
		s    project.Signal
		want string
	}{
		{project.Signal{Kind: project.DI, Form: "contact"}, "supply+ signal"},
		{project.Signal{Kind: project.DI, Form: "npn"}, "supply+ signal supply-"},
		{project.Signal{Kind: project.DI, Form: "namur"}, "signal+ signal-"},
		{project.Signal{Kind: project.DI, Form: "24v"}, "signal supply-"},
		{project.Signal{Kind: project.DI, Form: "230vac"}, "line signal"},
		{project.Signal{Kind: project.DO, Form: "24v"}, "signal supply-"},
		{project.Signal{Kind: project.DO, Form: "relay"}, "common no"},
		{project.Signal{Kind: project.DO, Form: "120vac"}, "signal neutral"},
		{project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive"}, "supply+ signal+"},
		{project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive", Wires: 3}, "supply+ signal+ supply-"},
		{project.Signal{Kind: project.AI, Form: "4-20ma", Active: "active"}, "signal+ signal-"},
		{project.Signal{Kind: project.AI, Form: "0-20ma"}, "supply+ signal+"},
		{project.Signal{Kind: project.AI, Form: "4-20ma", Wires: 4}, "signal+ signal-"},
		{project.Signal{Kind: project.AI, Form: "0-10v"}, "signal+ signal-"},
		{project.Signal{Kind: project.AI, Form: "0-10v", Wires: 3}, "supply+ signal+ supply-"},
		{project.Signal{Kind: project.AO, Form: "4-20ma"}, "signal+ signal-"},
		{project.Signal{Kind: project.RTD, Form: "resistance"}, "signal+ signal- sense+"},
		{project.Signal{Kind: project.RTD, Form: "resistance", Wires: 2}, "signal+ signal-"},
		{project.Signal{Kind: project.RTD, Form: "resistance", Wires: 4}, "signal+ signal- sense+ sense-"},
		{project.Signal{Kind: project.TC, Form: "millivolt"}, "signal+ signal-"},
		{project.Signal{Kind: project.CNT, Form: "pulse-24v"}, "supply+ signal supply-"},
		{project.Signal{Kind: project.CNT, Form: "pulse-24v", Wires: 2}, "supply+ signal"},
		{project.Signal{Kind: project.CNT, Form: "encoder-24v"}, "supply+ supply- a b z"},
		{project.Signal{Kind: project.CNT, Form: "encoder-rs422"}, "supply+ supply- a a- b b- z z-"},
		{project.Signal{Kind: project.SER, Form: "rs485"}, "a b common"},
		{project.Signal{Kind: project.SER, Form: "rs422"}, "tx tx- rx rx- common"},
	} {
		if got := strings.Join(fit.Conductors(&c.s), " "); got != c.want {
			t.Errorf("%s %s %s wires %d: %s, want %s", c.s.Kind, c.s.Form, c.s.Active, c.s.Wires, got, c.want)
		}
	}
}

// Loads with a set that draws 3 mA an input; source: docs/plan-rules.md section 4, own arithmetic.
func TestLoads(t *testing.T) {
	b := project.DefaultBasis()
	set := &hardware.ChannelSet{Input: 3000}
	amps := q.Some(q.Current(0.02))
	for _, c := range []struct {
		s             project.Signal
		load, channel q.Microamps
	}{
		{project.Signal{Kind: project.DI, Form: "contact", Current: amps}, 3000, 3000},
		{project.Signal{Kind: project.DI, Form: "pnp", Current: amps}, 23_000, 23_000},
		{project.Signal{Kind: project.DI, Form: "pnp"}, 18_000, 18_000}, // the basis's 15 mA
		{project.Signal{Kind: project.DI, Form: "24v", Current: amps}, 0, 0},
		{project.Signal{Kind: project.DO, Form: "24v", Current: amps}, 20_000, 20_000},
		{project.Signal{Kind: project.DO, Form: "24v"}, 250_000, 250_000},
		{project.Signal{Kind: project.DO, Form: "relay", Current: amps}, 0, 20_000},
		{project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive", Current: amps}, 3000, 3000},
		{project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive", Wires: 3, Current: amps}, 23_000, 23_000},
		{project.Signal{Kind: project.AI, Form: "4-20ma", Active: "active", Current: amps}, 0, 0},
		{project.Signal{Kind: project.AI, Form: "0-10v", Wires: 3, Current: amps}, 20_000, 20_000},
		{project.Signal{Kind: project.AO, Form: "4-20ma", Current: amps}, 3000, 3000},
		{project.Signal{Kind: project.RTD, Form: "resistance", Current: amps}, 0, 0},
		{project.Signal{Kind: project.CNT, Form: "pulse-24v", Current: amps}, 23_000, 23_000},
		{project.Signal{Kind: project.CNT, Form: "pulse-namur", Current: amps}, 3000, 3000},
		{project.Signal{Kind: project.SER, Form: "rs485", Current: amps}, 20_000, 20_000},
	} {
		if l, ch := fit.Load(&c.s, &b, set), fit.ChannelCurrent(&c.s, &b, set); l != c.load || ch != c.channel {
			t.Errorf("%s %s: load %s, channel %s, want %s and %s", c.s.Kind, c.s.Form, l, ch, c.load, c.channel)
		}
	}
}

func TestKeys(t *testing.T) {
	b := project.DefaultBasis()
	b.Segregation = map[string]project.Level{"m": project.LevelModule, "s": project.LevelStation, "n": project.LevelNone}
	for _, c := range []struct {
		s     project.Signal
		group string
		same  string // module key differs from the group key by
	}{
		{project.Signal{Kind: project.DI, Form: "pnp"}, "24vdc normal in", ""},
		{project.Signal{Kind: project.CNT, Form: "pulse-24v"}, "24vdc normal in", ""},
		{project.Signal{Kind: project.DO, Form: "24v", SupplyClass: "safety:gate"}, "24vdc safety:gate out", ""},
		{project.Signal{Kind: project.DO, Form: "24v", Voltage: q.Some(q.Voltage(48))}, "48vdc normal out", ""},
		{project.Signal{Kind: project.AO, Form: "4-20ma", SupplyClass: "ups"}, "24vdc ups analogue", ""},
		{project.Signal{Kind: project.DI, Form: "230vac"}, "230vac normal in", ""},
		{project.Signal{Kind: project.DI, Form: "namur", ExLevel: "ia"}, "24vdc normal in exi", ""},
		{project.Signal{Kind: project.DI, Form: "pnp", Segregate: "x"}, "24vdc normal in seg:x", ""}, // no level stated: group
		{project.Signal{Kind: project.DI, Form: "pnp", Segregate: "s"}, "24vdc normal in seg:s", ""},
		{project.Signal{Kind: project.DI, Form: "pnp", Segregate: "m"}, "24vdc normal in", " module-seg:m"},
		{project.Signal{Kind: project.DI, Form: "pnp", Segregate: "n"}, "24vdc normal in", ""},
		{project.Signal{Kind: project.DO, Form: "relay", Voltage: q.Some(q.Voltage(230))}, "24vdc normal out", " high-contact"},
		{project.Signal{Kind: project.DO, Form: "relay", Voltage: q.Some(q.Voltage(24))}, "24vdc normal out", ""},
	} {
		if got := fit.GroupKeyOf(&c.s, &b).String(); got != c.group {
			t.Errorf("group key %s, want %s", got, c.group)
		}
		if got := fit.ModuleKeyOf(&c.s, &b).String(); got != c.group+c.same {
			t.Errorf("module key %s, want %s", got, c.group+c.same)
		}
	}
	b.Group = project.GroupBasis{SplitByPart: true}
	s := project.Signal{Kind: project.AO, Form: "4-20ma", Equipment: "pump"}
	if got := fit.GroupKeyOf(&s, &b).String(); got != "24vdc normal any part:pump" {
		t.Errorf("split by part only: %s", got)
	}
}

// module is one module of construction c with a set that takes everything that the case names.
func module(change func(*hardware.Module, *hardware.ChannelSet)) *hardware.Module {
	set := hardware.ChannelSet{
		Kind: project.AI, Forms: []string{"4-20ma"}, Loop: []string{"feeds"}, Count: 4, First: 1, Step: 1, HART: true, Input: 22_000,
		Terminals: []hardware.Terminal{{Function: "supply+"}, {Function: "signal+"}, {Function: "supply-"}},
	}
	m := &hardware.Module{Code: "m", Constructions: []string{"c"}, SupplyKind: "24vdc", AmbientMax: 55}
	if change != nil {
		change(m, &set)
	}
	m.Channels = []hardware.ChannelSet{set}
	return m
}

// Each bar of docs/plan-rules.md section 3 stops the same loop when that alone is wrong.
func TestEachBarStopsAlone(t *testing.T) {
	b := project.DefaultBasis()
	here := fit.Where{Construction: "c", Ambient: 40}
	loop := func() *project.Signal {
		return &project.Signal{ID: "L", Kind: project.AI, Form: "4-20ma", Active: "passive", HART: true, Wires: 2}
	}
	if bar, ok := fit.MayUse(loop(), &b, module(nil), 0, here, ""); !ok {
		t.Fatalf("a plain loop is barred: %d", bar)
	}
	for _, c := range []struct {
		want   fit.Bar
		mod    func(*hardware.Module, *hardware.ChannelSet)
		signal func(*project.Signal)
		where  fit.Where
		chosen string
	}{
		{want: fit.BarModule, where: fit.Where{Construction: "other"}},
		{want: fit.BarModule, mod: func(m *hardware.Module, _ *hardware.ChannelSet) { m.Infeed = true }},
		{want: fit.BarKind, signal: func(s *project.Signal) { s.Kind = project.AO }},
		{want: fit.BarForm, signal: func(s *project.Signal) { s.Form = "0-10v" }},
		{want: fit.BarLoop, signal: func(s *project.Signal) { s.Active = "active" }},
		{want: fit.BarEx, signal: func(s *project.Signal) { s.ExLevel = "ib" }},
		{want: fit.BarEx, mod: func(_ *hardware.Module, c *hardware.ChannelSet) { c.ExLevel = "ia" }},
		{want: fit.BarVoltage, mod: func(m *hardware.Module, _ *hardware.ChannelSet) { m.SupplyKind = "48vdc" }},
		{want: fit.BarContact, mod: func(_ *hardware.Module, c *hardware.ChannelSet) { c.Voltages = []int{24} }, signal: func(s *project.Signal) { s.Voltage = q.Some(q.Voltage(230)) }},
		{want: fit.BarTerminals, mod: func(_ *hardware.Module, c *hardware.ChannelSet) { c.Terminals = c.Terminals[:1] }},
		{want: fit.BarHART, mod: func(_ *hardware.Module, c *hardware.ChannelSet) { c.HART = false }},
		{want: fit.BarCurrent, mod: func(_ *hardware.Module, c *hardware.ChannelSet) { c.MaxEach = 20_000 }},
		{want: fit.BarFrequency, mod: func(_ *hardware.Module, c *hardware.ChannelSet) { c.MaxFreq = 10 }, signal: func(s *project.Signal) { s.Frequency = q.Some(q.Frequency(11)) }},
		{want: fit.BarSafe, signal: func(s *project.Signal) { s.SupplyClass = "safety:x" }},
		{want: fit.BarAmbient, where: fit.Where{Construction: "c", Ambient: 56}},
		{want: fit.BarOff, where: fit.Where{Construction: "c", Off: map[string]bool{"m": true}}},
		{want: fit.BarChosen, chosen: "other"},
	} {
		s, w := loop(), here
		if c.signal != nil {
			c.signal(s)
		}
		if c.where.Construction != "" {
			w = c.where
		}
		m := module(c.mod)
		if got, ok := fit.MayUse(s, &b, m, 0, w, c.chosen); ok || got != c.want {
			t.Errorf("bar %d (%v), want %d", got, ok, c.want)
		}
		why := fit.Why(s, &b, &hardware.List{Modules: []hardware.Module{*m}}, w, c.chosen)
		if !strings.Contains(why, "no module of construction "+w.Construction+" takes "+string(s.Kind)) || !strings.Contains(why, "; ") {
			t.Errorf("bar %d gives no reason with a remedy: %q", c.want, why)
		}
	}
}

func TestHigherExLevelServesLower(t *testing.T) {
	b := project.DefaultBasis()
	levels := []string{"ic", "ib", "ia"}
	for i, need := range levels {
		for k, has := range levels {
			s := &project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive", ExLevel: need}
			_, ok := fit.MayUse(s, &b, module(func(_ *hardware.Module, c *hardware.ChannelSet) { c.ExLevel = has }), 0, fit.Where{Construction: "c"}, "")
			if ok != (k >= i) {
				t.Errorf("signal %s on channel %s: %v", need, has, ok)
			}
		}
	}
}

func TestBundles(t *testing.T) {
	b := project.DefaultBasis()
	di := func(id, device, place string) project.Signal {
		return project.Signal{ID: id, Tag: id, Kind: project.DI, Form: "contact", Device: device, Place: place}
	}
	signals := []project.Signal{
		di("S1", "pump", "P"), di("S2", "pump", "P"),
		{ID: "S3", Kind: project.AI, Form: "4-20ma", Device: "pump", Place: "P"},
		{ID: "S4", Kind: project.DO, Form: "relay", Voltage: q.Some(q.Voltage(230)), Device: "pump", Place: "P"},
		di("S5", "", "P"),
		di("S6", "valve", "P"), di("S7", "valve", "Q"),
		{ID: "S8", Kind: project.TC, Form: "millivolt", Sensor: "K", Device: "oven", Place: "P"},
		{ID: "S9", Kind: project.DI, Form: "contact", Device: "pump", Place: "P", RedundantWith: []string{"S1"}},
		{ID: "T1", Kind: project.DI, Form: "contact", Device: "pump", Place: "P", Segregate: "x"},
		di("T2", "S5", "P"), // a device that is named as a signal is
	}
	want := []string{
		"S5/plain: S5", "S5/plain: T2", "oven/tc-K: S8", "pump/mains: S4", "pump/plain: S1 S2", "pump/plain seg:x: T1", "pump/plain~2: S9",
		"pump/screened: S3", "valve@P/plain: S6", "valve@Q/plain: S7",
	}
	rnd := rand.New(rand.NewPCG(1, 1))
	for range 5 {
		var got []string
		for _, bundle := range fit.Bundles(signals, &b) {
			ids := ""
			for _, i := range bundle.Signals {
				ids += " " + signals[i].ID
			}
			got = append(got, bundle.ID+":"+ids)
		}
		slices.Sort(got)
		slices.Sort(want)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatal(diff)
		}
		rnd.Shuffle(len(signals), func(i, j int) { signals[i], signals[j] = signals[j], signals[i] })
	}
}

func TestPartnersAreClosed(t *testing.T) {
	signals := []project.Signal{{ID: "a", Tag: "A", RedundantWith: []string{"C"}}, {ID: "b", Tag: "B"}, {ID: "c", Tag: "C", RedundantWith: []string{"b", "b", "gone"}}}
	want := [][]int{{2}, {2}, {0, 1}}
	if diff := cmp.Diff(want, fit.Partners(signals)); diff != "" {
		t.Error(diff)
	}
}

func TestCableFor(t *testing.T) {
	b := project.DefaultBasis()
	l := &hardware.List{Cables: []hardware.Cable{
		{Code: "a", Use: "field", Family: "signal", Cores: 2, Area: 0.75, Price: 10},
		{Code: "b", Use: "field", Family: "signal", Cores: 4, Area: 0.75, Price: 9, MaxLength: 50_000},
		{Code: "c", Use: "field", Family: "signal", Cores: 4, Area: 1.5, Price: 30},
		{Code: "d", Use: "field", Family: "signal", Cores: 4, Area: 2.5, Price: 20},
		{Code: "e", Use: "field", Family: "signal", Cores: 2, Area: 0.75, Price: 15, Screened: true},
		{Code: "f", Use: "network", Family: "signal", Cores: 8, Area: 2.5, Price: 1},
	}}
	signals := []project.Signal{{ID: "S", Kind: project.DI, Form: "contact", MinVoltage: q.Some(q.Voltage(20)), Current: q.Some(q.Current(0.5))}}
	bundle := fit.Bundles(signals, &b)[0]
	need := fit.Need(bundle, signals, &b, "")
	code := func(n fit.CableNeed, laid q.Millimetres, at fit.AtLoad) string {
		c, why := fit.CableFor(l, n, laid, at, nil)
		if c == nil {
			return string(why)
		}
		return c.Code
	}
	small := func(c *hardware.Cable, _ q.Millimetres, _ q.Microamps) q.Voltage {
		return q.Voltage(18 + 2*float64(c.Area))
	}
	screened := need
	screened.Screened = true
	for _, c := range []struct{ name, got, want string }{
		{"cheapest per metre", code(need, 10_000, nil), "b"},
		{"its length is limited", code(need, 60_000, nil), "a"},
		{"screened", code(screened, 10_000, nil), "e"},
		{"the smallest larger conductor that keeps 20 V, not the cheapest", code(need, 10_000, small), "c"},
		{"beyond the basis's longest", code(need, 500_100, nil), string(fit.TooLong)},
		{"no conductor keeps it", code(need, 10_000, func(*hardware.Cable, q.Millimetres, q.Microamps) q.Voltage { return 1 }), string(fit.VoltageTooLow)},
		{"fixed by hand", code(fit.Need(bundle, signals, &b, "d"), 10_000, nil), "d"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.name, c.got, c.want)
		}
	}
}

func TestProtectionFor(t *testing.T) {
	l := &hardware.List{Protections: []hardware.Protection{
		{Code: "ac", AC: true, Rating: 6_000_000, Price: 1},
		{Code: "big", DC: true, Rating: 8_000_000, Price: 20},
		{Code: "mid", DC: true, Rating: 4_000_000, Price: 10},
		{Code: "small", DC: true, Rating: 2_000_000, Price: 10},
	}}
	for _, c := range []struct {
		load, bus q.Microamps
		want      string
	}{{1_000_000, 10_000_000, "small"}, {2_000_001, 10_000_000, "mid"}, {5_000_000, 10_000_000, "big"}, {5_000_000, 6_000_000, ""}, {9_000_000, 10_000_000, ""}} {
		got := ""
		if p, ok := fit.ProtectionFor(l, fit.V24, c.load, c.bus, nil); ok {
			got = p.Code
		}
		if got != c.want {
			t.Errorf("load %s, bus %s: %q, want %q", c.load, c.bus, got, c.want)
		}
	}
	if p, ok := fit.ProtectionFor(l, fit.V230, 1, 0, nil); !ok || p.Code != "ac" {
		t.Error("no device for mains")
	}
}
