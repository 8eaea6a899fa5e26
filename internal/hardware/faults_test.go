package hardware_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railwright/internal/hardware"
)

// own is a small construction that holds together.
const own = `format = 1
drop = ["rail"]
[[construction]]
code = "rail"
title = "two modules on one base"
opening = "base"
bases = true
first_slot = "infeed"
order = ["low", "high"]
max_slots = 8
max_groups = 4
max_rail_mm = 500
[[coupler]]
code = "head"
construction = "rail"
network = "ethernet-fibre"
width_mm = 40
logic_limit_ma = 500
logic_factor = 0.25
max_slots = 8
max_in_bytes = 64
max_out_bytes = 64
ambient_max_c = 55
price = 99.99
[[base]]
code = "base-a"
constructions = ["rail"]
patterns = ["p"]
infeed = true
bus_limit_ma = 8000
price = 10
[[module]]
code = "di2"
constructions = ["rail"]
width_mm = 20.0
rank = "low"
supply_kind = "24vdc"
in_bytes = 1
pattern = "p"
ambient_max_c = 55
price = 20
[[module.channels]]
kind = "DI"
forms = ["contact"]
count = 2
first = 1
bits = 1
image = "in"
terminals = { "supply+" = "{2i+1}", signal = "{2i+2}" }
`

func TestOwnConstructionReplacesTheBuiltIn(t *testing.T) {
	l, found := hardware.Load(hardware.Builtin(), "hardware.toml", []byte(own))
	for _, f := range found {
		t.Error(f)
	}
	if n := len(l.ModulesOf("rail")); n != 1 {
		t.Errorf("%d modules in the construction, want 1", n)
	}
	if _, ok := l.Module("slice-di4"); !ok {
		t.Error("other constructions are gone")
	}
	m, _ := l.Module("di2")
	if m.Channels[0].Step != 1 || !m.Channels[0].Feeds || m.Price != 200_000 {
		t.Errorf("defaults not filled in: %+v", m)
	}
	if len(hardware.Builtin().ModulesOf("rail")) < 20 {
		t.Error("the built-in list was changed")
	}
}

// coloured is the head of a list with a cable of three cores whose colours are given.
func coloured(codes string) string {
	return "format = 1\ncable = [{ code = \"c3\", use = \"field\", family = \"signal\", cores = 3, area_mm2 = 1, class = 5, price = 1, core_colours = [" + codes + "] }]"
}

// counting turns the channels into counters for 24 V with the given figures besides.
func counting(figures string) string {
	return "kind = \"CNT\"\nforms = [\"pulse-24v\"]\n" + figures
}

// TestFaults changes one line of a good list and expects the findings, each with its line.
func TestFaults(t *testing.T) {
	tests := []struct {
		name, old, new string
		want           []string
		say            string // part of a message or remedy
	}{
		{"nothing", "", "", []string{}, ""},
		{"unknown construction", `constructions = ["rail"]` + "\nwidth", `constructions = ["rial"]` + "\nwidth", []string{"HWL-013 34", "HWL-015 28", "HWL-021 3"}, "Did you mean rail?"},
		{"price finer than a cent", "price = 99.99", "price = 99.995", []string{"HWL-012 24"}, "0.01"},
		{"width outside", "width_mm = 40", "width_mm = 0", []string{"HWL-005 17"}, "1 to 10000"},
		{"unit in the value", "width_mm = 40", `width_mm = "40 mm"`, []string{"HWL-004 17"}, "Write width_mm = 40."},
		{"mistyped key", "logic_limit_ma", "logic_limt_ma", []string{"HWL-002 18", "HWL-003 13"}, "did you mean"},
		{"rank not in the order", `rank = "low"`, `rank = "middle"`, []string{"HWL-019 36"}, "low, high"},
		{"no infeed base", "infeed = true\n", "", []string{"HWL-014 6", "HWL-014 38"}, "no infeed is possible"},
		{"infeed base without limit", "bus_limit_ma = 8000\n", "", []string{"HWL-020 29"}, "bus_limit_ma"},
		{"base offers nothing", `patterns = ["p"]`, `patterns = ["q"]`, []string{"HWL-015 28", "HWL-015 39"}, "offers no pattern"},
		{"bytes too small", "count = 2", "count = 9", []string{"HWL-017 45"}, "in_bytes = 2"},
		{"numbers twice", "first = 1", "first = 1\nstep = 0", []string{"HWL-005 47"}, "1 to 100"},
		{"labels collide over channels", `signal = "{2i+2}"`, `signal = "{2i+3}"`, []string{"HWL-016 49"}, "is printed at channel 1 and at channel 2"},
		{"labels collide in a channel", `signal = "{2i+2}"`, `signal = "{2i+1}"`, []string{"HWL-016 49"}, "share terminal"},
		{"label is no expression", `"{2i+1}"`, `"{i*2}"`, []string{"HWL-016 49"}, "no expression"},
		{"form without terminals", `forms = ["contact"]`, `forms = ["contact", "pnp"]`, []string{"HWL-016 49"}, "supply-"},
		{"form of another kind", `forms = ["contact"]`, `forms = ["contact", "4-20ma"]`, []string{"HWL-006 44"}, "has no form"},
		{"code twice", `code = "di2"`, `code = "base-a"`, []string{"HWL-011 26"}, "given twice"},
		{"unknown network", `network = "ethernet-fibre"`, `network = "ethernet-fiber"`, []string{"HWL-013 16"}, "Did you mean ethernet-fibre?"},
		{"drop of nothing", `drop = ["rail"]`, `drop = ["rail", "di64"]`, []string{"HWL-013 2"}, "not in the list"},
		{"colours for another number of cores", "format = 1", coloured(`"BN", "BU"`), []string{"HWL-020 2"}, "2 colours for 3 cores"},
		{"colours", "format = 1", coloured(`"BN", "BU", "GNYE"`), []string{}, ""},
		{"no colour code", "format = 1", coloured(`"BN", "blue", "GNYE"`), []string{"HWL-020 2"}, `"blue" is no colour code`},
		{"counter without thresholds", "kind = \"DI\"\nforms = [\"contact\"]", counting("impedance_ohm = 3000"), []string{"HWL-020 45"}, "thresholds"},
		{"counter with a type", "kind = \"DI\"\nforms = [\"contact\"]", counting("impedance_ohm = 3000\ninput_type = 3"), []string{}, ""},
		{"no format", "format = 1", "", []string{"HWL-003 1"}, "format"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			src := strings.Replace(own, tt.old, tt.new, 1)
			_, found := hardware.Load(hardware.Builtin(), "hardware.toml", []byte(src))
			if diff := cmp.Diff(tt.want, rules(found)); diff != "" {
				t.Errorf("%s\n%v", diff, found)
			}
			said := ""
			for _, f := range found {
				said += f.Message + " " + f.Remedy.Text + "\n"
				if f.Where == nil || f.Where.File == "" {
					t.Errorf("no spot: %v", f)
				}
			}
			if !strings.Contains(said, tt.say) {
				t.Errorf("nothing says %q:\n%s", tt.say, said)
			}
		})
	}
}

func TestOnlyKeepsWhatIsNamed(t *testing.T) {
	l := hardware.Builtin().Only([]string{"di16", "coupler-fibre-small", "base-infeed-16"})
	for _, code := range []string{"di16", "rail", "end-piece", "ethernet-fibre", "fibre-4", "fibre-termination", "switch-fibre-8"} {
		_, a := l.Any(code)
		_, b := l.Construction(code)
		_, c := l.Network(code)
		if !a && !b && !c {
			t.Errorf("%s is missing", code)
		}
	}
	if len(l.Modules) != 1 || len(l.Supplies) != 0 {
		t.Errorf("too much is kept: %d modules", len(l.Modules))
	}
	back, found := hardware.Parse("accepted", hardware.Encode(l))
	if len(found) > 0 || hardware.SHA256(back) != hardware.SHA256(l) {
		t.Errorf("does not read back: %v", found)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(own))
	f.Add([]byte("format = 1\n[[module]]\ncode = \"x\"\n[[module.channels]]\nkind = \"DI\"\nterminals = { signal = \"{i+1\" }\n"))
	f.Add([]byte("[[cable]]\ncode = 3\nprice = 1e309\ncores = -1"))
	f.Fuzz(func(t *testing.T, src []byte) {
		own, found := hardware.Parse("hardware.toml", src)
		_ = hardware.Check(own)
		if found.HasErrors() {
			return
		}
		back, again := hardware.Parse("again.toml", hardware.Encode(own))
		if again.HasErrors() || hardware.SHA256(back) != hardware.SHA256(own) {
			t.Errorf("does not read back: %v\n%s", again, hardware.Encode(own))
		}
	})
}
