package exchange

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Law: an address that is printed reads back to the same bits, in both conventions.
func TestAddressRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		convention := rapid.SampledFrom([]string{"byte", "word"}).Draw(t, "convention")
		bits := rapid.SampledFrom([]int{1, 8, 16, 32}).Draw(t, "bits")
		s := Span{From: rapid.IntRange(0, 1<<20).Draw(t, "unit") * bits, Bits: bits}
		if convention == "byte" && bits > 8 {
			s.From = s.From / bits * 8
		}
		area := rapid.SampledFrom([]byte("IQ")).Draw(t, "area")
		a, got, err := ParseAddress(Print(area, s, convention), convention)
		if err != nil || a != area || got != s {
			t.Fatalf("%s: %c %+v %v, want %+v", Print(area, s, convention), a, got, err, s)
		}
	})
}

func TestAddressesThatAreNone(t *testing.T) {
	for _, a := range []string{"", "%", "IX0.0", "%IX0", "%IX0.8", "%IW0.0", "%IX-1.0", "%IX0.0.0", "%MX0.0", "%IL0", "%IW04", "%IW99999999", "%IW 4", "%iw4", "%IW4 "} {
		if _, _, err := ParseAddress(a, "byte"); err == nil {
			t.Errorf("%q was read", a)
		}
	}
	if _, _, err := ParseAddress("%IX0.15", "word"); err != nil {
		t.Error(err)
	}
}

func TestCheck(t *testing.T) {
	at := func(id, address, kind string, from, bits int) Point {
		return Point{ID: id, Tag: id, Area: address[1], Address: address, Type: kind, Span: Span{from, bits}}
	}
	for _, c := range []struct {
		name   string
		points []Point
		want   string // ids of the faulty, in order
	}{
		{"good", []Point{at("a", "%IX0.0", "BOOL", 0, 1), at("b", "%IX0.1", "BOOL", 1, 1), at("c", "%QX0.0", "BOOL", 0, 1), at("d", "%IW2", "INT", 16, 16)}, ""},
		{"same bit", []Point{at("a", "%IX0.0", "BOOL", 0, 1), at("b", "%IX0.0", "BOOL", 0, 1)}, "b"},
		{"bit in a word", []Point{at("a", "%IW2", "INT", 16, 16), at("b", "%IX3.7", "BOOL", 31, 1), at("c", "%IX4.0", "BOOL", 32, 1)}, "b"},
		{"word reaches over two", []Point{at("a", "%ID0", "DINT", 0, 32), at("b", "%IX0.1", "BOOL", 1, 1), at("c", "%IW2", "INT", 16, 16)}, "b c"},
		{"size of the type", []Point{at("a", "%IW2", "BOOL", 16, 16)}, "a"},
		{"elsewhere", []Point{at("a", "%IW2", "INT", 32, 16)}, "a"},
		{"no address", []Point{at("a", "%IX0.9", "BOOL", 9, 1)}, "a"},
	} {
		var got []string
		for _, f := range Check(c.points, "byte") {
			if f.Rule != "EXC-003" {
				t.Errorf("%s: %v", c.name, f)
			}
			got = append(got, strings.TrimPrefix(f.Subject, "signal:"))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Scaling worked by hand. 4-20 mA on 0 to 30000 counts: 7500 counts are 8 mA, a quarter of the range. A
// bipolar voltage on -30000 to 30000: 0 counts are its middle. 0.1 K a count: 251 counts are 25.1 degC,
// 298.25 K, 77.18 degF.
func TestScaleOf(t *testing.T) {
	ranged := project.Signal{Form: "4-20ma", RangeLow: q.Some(-20.0), RangeHigh: q.Some(60.0)}
	bipolar := ranged
	bipolar.Form = "10v-bipolar"
	analogue := hardware.ChannelSet{Kind: project.AI, Bits: 16, RawHigh: 30000}
	thermo := hardware.ChannelSet{Kind: project.RTD, Bits: 16, RawStep: 0.1}
	for _, c := range []struct {
		name string
		set  hardware.ChannelSet
		sig  project.Signal
		raw  int64
		want float64
		why  Missing
	}{
		{"current", analogue, ranged, 7500, 0, NotAnalogue},
		{"bipolar", analogue, bipolar, 0, 20, NotAnalogue},
		{"celsius", thermo, project.Signal{Unit: "°C"}, 251, 25.1, NotAnalogue},
		{"kelvin", thermo, project.Signal{Unit: "K"}, 251, 298.25, NotAnalogue},
		{"fahrenheit", thermo, project.Signal{Unit: "degF"}, 251, 77.18, NotAnalogue},
		{"furlong", thermo, project.Signal{Unit: "furlong"}, 0, 0, NoUnit},
		{"no range", analogue, project.Signal{Form: "4-20ma"}, 0, 0, NoRange},
		{"no raw", hardware.ChannelSet{Kind: project.AI, Bits: 16}, ranged, 0, 0, NoRaw},
		{"raw beyond its bits", hardware.ChannelSet{Kind: project.AI, Bits: 16, RawHigh: 40000}, ranged, 0, 0, NoRaw},
	} {
		s := scaleOf(&c.set, &c.sig)
		if s.Why != c.why || s.Known != (c.why == NotAnalogue) {
			t.Errorf("%s: %+v", c.name, s)
		}
		if s.Known {
			if got := s.At(c.raw); got < c.want-1e-9 || got > c.want+1e-9 {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
			}
		}
	}
}

func FuzzParseAddress(f *testing.F) {
	f.Add("%IX0.7", true)
	f.Add("%QD12", false)
	f.Fuzz(func(t *testing.T, text string, word bool) {
		convention := "byte"
		if word {
			convention = "word"
		}
		area, s, err := ParseAddress(text, convention)
		if err == nil && Print(area, s, convention) != text {
			t.Fatalf("%q reads as %q", text, Print(area, s, convention))
		}
	})
}
