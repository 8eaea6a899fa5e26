package hardware_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

var lists = cmpopts.IgnoreUnexported(hardware.List{})

func TestBuiltinHasNoFindings(t *testing.T) {
	for _, f := range hardware.BuiltinFindings() {
		t.Error(f)
	}
}

func TestEncodeReadsBack(t *testing.T) {
	l := hardware.Builtin()
	back, found := hardware.Parse("x.toml", hardware.Encode(l))
	for _, f := range found {
		t.Error(f)
	}
	if diff := cmp.Diff(l, back, lists, cmpopts.EquateEmpty()); diff != "" {
		t.Error(diff)
	}
	if a, b := hardware.SHA256(l), hardware.SHA256(back); a != b {
		t.Errorf("hash %s, after reading back %s", a, b)
	}
}

// wanted is one combination of kind, form, sensing element and wires, with the terminal functions
// that docs/plan-rules.md, section 2 names.
type wanted struct {
	kind      project.Kind
	form      string
	loop      string
	sensor    string
	wires     int
	hart      bool
	ex        bool
	safe      bool
	contact   int
	supply    string
	functions string
}

// everySignal lists every kind and electrical form that a works may hold.
func everySignal() []wanted {
	w := []wanted{
		{kind: "DI", form: "contact", functions: "supply+ signal"},
		{kind: "DI", form: "2-wire", functions: "supply+ signal"},
		{kind: "DI", form: "pnp", functions: "supply+ signal supply-"},
		{kind: "DI", form: "npn", functions: "supply+ signal supply-"},
		{kind: "DI", form: "namur", functions: "signal+ signal-"},
		{kind: "DI", form: "namur", ex: true, functions: "signal+ signal-"},
		{kind: "DI", form: "contact", ex: true, functions: "supply+ signal"},
		{kind: "DI", form: "24v", functions: "signal supply-"},
		{kind: "DI", form: "contact", safe: true, functions: "supply+ signal"},
		{kind: "DI", form: "120vac", supply: "120vac", functions: "line signal"},
		{kind: "DI", form: "230vac", supply: "230vac", functions: "line signal"},
		{kind: "DO", form: "24v", functions: "signal supply-"},
		{kind: "DO", form: "24v", safe: true, functions: "signal supply-"},
		{kind: "DO", form: "24v", supply: "48vdc", functions: "signal supply-"},
		{kind: "DO", form: "24v", ex: true, functions: "signal supply-"},
		{kind: "DO", form: "relay", contact: 24, functions: "common no"},
		{kind: "DO", form: "relay", contact: 230, functions: "common no"},
		{kind: "DO", form: "120vac", supply: "120vac", functions: "signal neutral"},
		{kind: "DO", form: "230vac", supply: "230vac", functions: "signal neutral"},
		{kind: "CNT", form: "pulse-24v", functions: "supply+ signal supply-"},
		{kind: "CNT", form: "pulse-namur", functions: "signal+ signal-"},
		{kind: "CNT", form: "pulse-namur", ex: true, functions: "signal+ signal-"},
		{kind: "CNT", form: "encoder-24v", functions: "supply+ supply- a b z"},
		{kind: "CNT", form: "encoder-rs422", functions: "supply+ supply- a a- b b- z z-"},
		{kind: "SER", form: "rs485", functions: "a b common"},
		{kind: "SER", form: "rs232", functions: "tx rx common"},
		{kind: "SER", form: "rs422", functions: "tx tx- rx rx- common"},
		{kind: "AI", form: "0-10v", functions: "signal+ signal-"},
		{kind: "AI", form: "10v-bipolar", functions: "signal+ signal-"},
		{kind: "AI", form: "0-10v", wires: 3, functions: "supply+ signal+ supply-"},
		{kind: "AO", form: "0-10v", functions: "signal+ signal-"},
		{kind: "AO", form: "10v-bipolar", functions: "signal+ signal-"},
	}
	for _, form := range []string{"4-20ma", "0-20ma"} {
		for _, hart := range []bool{false, true} {
			for _, ex := range []bool{false, true} {
				w = append(w,
					wanted{kind: "AI", form: form, loop: "feeds", hart: hart, ex: ex, functions: "supply+ signal+"},
					wanted{kind: "AI", form: form, loop: "feeds", hart: hart, ex: ex, functions: "supply+ signal+ supply-"},
					wanted{kind: "AI", form: form, loop: "takes", hart: hart, ex: ex, functions: "signal+ signal-"},
					wanted{kind: "AO", form: form, hart: hart, ex: ex, functions: "signal+ signal-"})
			}
		}
	}
	for _, ex := range []bool{false, true} {
		for _, s := range project.Sensors[project.RTD] {
			w = append(w,
				wanted{kind: "RTD", form: "resistance", sensor: s, wires: 2, ex: ex, functions: "signal+ signal-"},
				wanted{kind: "RTD", form: "resistance", sensor: s, wires: 3, ex: ex, functions: "signal+ signal- sense+"},
				wanted{kind: "RTD", form: "resistance", sensor: s, wires: 4, ex: ex, functions: "signal+ signal- sense+ sense-"})
		}
		for _, s := range project.Sensors[project.TC] {
			w = append(w, wanted{kind: "TC", form: "millivolt", sensor: s, ex: ex, functions: "signal+ signal-"})
		}
	}
	return w
}

func (w wanted) fits(m *hardware.Module, s *hardware.ChannelSet) bool {
	supply := w.supply
	if supply == "" {
		supply = "24vdc"
	}
	ok := s.Kind == w.kind && slices.Contains(s.Forms, w.form) && m.SupplyKind == supply && (s.ExLevel != "") == w.ex &&
		(w.loop == "" || slices.Contains(s.Loop, w.loop)) && (!w.hart || s.HART) && (w.sensor == "" || slices.Contains(s.Sensors, w.sensor)) &&
		(w.kind != project.RTD || len(s.Wires) == 0 || slices.Contains(s.Wires, w.wires)) && (!w.safe || m.Safe) &&
		(w.contact == 0 || len(s.Voltages) == 0 || slices.Contains(s.Voltages, w.contact))
	for _, f := range strings.Fields(w.functions) {
		if _, has := s.Terminal(f); !has {
			return false
		}
	}
	return ok
}

func TestEverySignalFitsInEveryConstruction(t *testing.T) {
	l := hardware.Builtin()
	if len(l.Constructions) < 3 {
		t.Fatalf("%d constructions, want 3", len(l.Constructions))
	}
	for _, k := range l.Constructions {
		for _, w := range everySignal() {
			found := false
			for _, m := range l.ModulesOf(k.Code) {
				for i := range m.Channels {
					found = found || w.fits(m, &m.Channels[i])
				}
			}
			if !found {
				t.Errorf("construction %s has no module for %+v", k.Code, w)
			}
		}
		for _, n := range l.Networks {
			if got := len(l.CouplersOf(k.Code, n.Code)); got < 2 {
				t.Errorf("construction %s has %d couplers for %s, want a small and a large one", k.Code, got, n.Code)
			}
		}
	}
}

// TestPricesAreReasonable holds the list against what anybody expects of prices: more channels on a
// module cost less each, more capability costs more.
func TestPricesAreReasonable(t *testing.T) {
	l := hardware.Builtin()
	price := func(code string) float64 {
		e, ok := l.Any(code)
		if !ok {
			t.Fatalf("no %s in the list", code)
		}
		return e.Price.Units()
	}
	each := func(code string) float64 {
		m, ok := l.Module(code)
		if !ok {
			t.Fatalf("no module %s", code)
		}
		n := 0
		for _, s := range m.Channels {
			n += s.Count
		}
		return m.Price.Units() / float64(n)
	}
	for _, chain := range [][]string{
		{"di8", "di16", "di32"},
		{"do8", "do16", "do32"},
		{"do4-2a", "do8-2a"},
		{"do4-relay", "do8-relay", "do8-relay-elv"},
		{"ai4-loop", "ai8-loop"},
		{"ai4-hart", "ai8-hart"},
		{"ao4", "ao8"},
		{"rtd4", "rtd8"},
		{"tc4", "tc8"},
		{"cnt2", "cnt4"},
		{"di4-230vac", "di8-230vac"},
		{"do4-230vac", "do8-230vac"},
		{"slice-di4", "slice-di8", "slice-di16"},
		{"slice-ai2-loop", "slice-ai4-loop"},
		{"block-di8", "block-di16", "block-di32"},
	} {
		for i := 1; i < len(chain); i++ {
			if each(chain[i-1]) <= each(chain[i]) {
				t.Errorf("a channel of %s costs %.2f, of %s %.2f", chain[i-1], each(chain[i-1]), chain[i], each(chain[i]))
			}
		}
	}
	for _, rise := range [][]string{
		{"di8", "di8-namur", "di8-namur-exi"},
		{"ai8-loop", "ai8-hart"},
		{"ai4-hart", "ai4-exi-hart"},
		{"base-16", "base-infeed-16"},
		{"supply-24v-2a5", "supply-24v-5a", "supply-24v-10a", "supply-24v-20a", "supply-24v-40a"},
		{"coupler-fibre-small", "coupler-fibre-large"},
		{"signal-2x0.75", "signal-2x0.75-screened"},
		{"signal-2x0.75", "signal-3x0.75", "signal-4x0.75", "signal-2x2.5"},
		{"enclosure-indoor-600x600", "enclosure-outdoor-600x600"},
	} {
		for i := 1; i < len(rise); i++ {
			if price(rise[i-1]) >= price(rise[i]) {
				t.Errorf("%s costs %.2f, not less than %s with %.2f", rise[i-1], price(rise[i-1]), rise[i], price(rise[i]))
			}
		}
	}
}

func TestSourcesAreStated(t *testing.T) {
	l := hardware.Builtin()
	check := func(code, source string) {
		if source == "" {
			t.Errorf("%s states no source", code)
		}
	}
	for _, e := range l.Modules {
		check(e.Code, e.Source)
	}
	for _, e := range l.Cables {
		check(e.Code, e.Source)
	}
	for _, e := range l.Networks {
		check(e.Code, e.Source)
	}
}

func TestLabels(t *testing.T) {
	s := &hardware.ChannelSet{First: 10, Step: 2, Count: 4}
	for _, c := range []struct{ label, want string }{
		{"a{i+1}", "a1 a2 a3 a4"}, {"{2i+1}", "1 3 5 7"}, {"{n}.1", "10.1 12.1 14.1 16.1"}, {"{3i}", "0 3 6 9"}, {"{8-i}", "8 7 6 5"}, {"{9-2i}", "9 7 5 3"}, {"COM", "COM COM COM COM"}, {"{i}{4}", "04 14 24 34"},
	} {
		var got []string
		for i := range s.Count {
			got = append(got, s.Label(hardware.Terminal{Label: c.label}, i))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s prints %v, want %s", c.label, got, c.want)
		}
	}
}

// rules lists "CODE line" of the findings.
func rules(found finding.List) []string {
	out := []string{}
	for _, f := range found {
		line := 0
		if f.Where != nil {
			line = f.Where.Line
		}
		out = append(out, fmt.Sprintf("%s %d", f.Rule, line))
	}
	return out
}
