package bus_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"railwright/internal/calc"
	"railwright/internal/calc/bus"
	"railwright/internal/calc/calctest"
	"railwright/internal/quantity"
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func second[T any](_ T, err error) error { return err }

func TestWorkedExamples(t *testing.T) {
	ex := func(id string) map[string]string { return calctest.Example(t, "testdata/worked_examples.csv", id) }
	us := func(d quantity.Duration) float64 { return float64(d) * 1e6 }
	calctest.Published(t, ex("NET-01"), us(must(bus.PolledCycle(20, 80, 1.5e6))))
	calctest.Published(t, ex("NET-02"), bus.FormulaPolledRate.Eval([]float64{4, 46, 1000}))
	calctest.Published(t, ex("NET-04"), bus.FormulaMessage.Eval([]float64{33 + 2*99 + 32 + 37, 0}))
	// NET-05, -07, -08: rules of one device manual, fixed part and microseconds per byte; at 12 Mbit/s
	// 11 bits are 0.92 us, at 1.5 Mbit/s 7.3 us, so the rules are 336 bit times and 11 per byte, rounded.
	calctest.Near(t, "NET-05", bus.FormulaMessage.Eval([]float64{336, 16})/12, calctest.Float(t, ex("NET-05")["published"]), 1.5)
	calctest.Near(t, "NET-07", bus.FormulaMessage.Eval([]float64{336, 16})/1.5, calctest.Float(t, ex("NET-07")["published"]), 6)
	calctest.Near(t, "NET-08", 10*bus.FormulaMessage.Eval([]float64{336, 16})/1.5/1000, calctest.Float(t, ex("NET-08")["published"]), 0.06)
	calctest.Published(t, ex("NET-10"), bus.FormulaMessage.Eval([]float64{336, 3072}))
	calctest.Published(t, ex("NET-11"), bus.FormulaMessage.Eval([]float64{336, 3072})/12e6*1e3)
	// NET-13: the guide counts 44 bytes round the data and 80 on the wire at least (we: 84, IEEE 802.3).
	calctest.Published(t, ex("NET-13"), us(must(bus.FrameTime(21, 44, 80, 100e6))))
	// NET-14 calls 213 the process data, but its time is that of 213 bytes on the wire.
	calctest.Published(t, ex("NET-14"), us(must(bus.FrameTime(213, 0, 84, 100e6))))
	calctest.Published(t, ex("NET-16"), math.Floor(1000/(2*us(must(bus.FrameTime(21, 44, 80, 100e6))))))
	for _, ms := range []float64{1, 4, 8} {
		load := must(bus.LinkLoad([]bus.Stream{{Bytes: 60, Update: quantity.Duration(ms / 1000)}}, 100e6))
		calctest.Published(t, ex(fmt.Sprintf("NET-17-%gms", ms)), 100*load)
		calctest.Near(t, "declared", bus.FormulaLinkLoad.Eval([]float64{60, 48, 100, ms}), 100*load, 1e-9)
	}
	calctest.Published(t, ex("NET-19"), bus.FormulaUsableBytes.Eval([]float64{1518, 18, 2, 12 + 36 + 14 + 12}))
	calctest.Published(t, ex("NET-20"), bus.FormulaUsableBytes.Eval([]float64{1518, 18, 2, 12 + 36 + 14 + 24}))
	calctest.Published(t, ex("NET-22"), must(bus.SerialFrame(5, 11, 115200))*1000)
	calctest.Published(t, ex("NET-23"), must(bus.SerialFrame(1, 10, 19200))*1000)
	calctest.Near(t, "NET-22 note: with the silence 2.2 ms", must(bus.SerialFrame(5, 11, 115200))+must(bus.Silence(115200)), 0.0022, 0.00005)
}

// Source: RFC 5180 appendix A.
func TestFrameRates(t *testing.T) {
	for _, row := range calctest.Rows(t, "testdata/ethernet_frame_rates_100M.csv") {
		frame := calctest.Float(t, row["frame_bytes"])
		calctest.Near(t, row["frame_bytes"], bus.FormulaFrameRate.Eval([]float64{100, frame}), calctest.Float(t, row["fps_100M"]), 0.5)
		one := must(bus.FrameTime(int(frame), bus.WireOverhead, bus.SmallestOnWire, 100e6))
		calctest.Near(t, row["frame_bytes"]+" by time", 1/float64(one), calctest.Float(t, row["fps_100M"]), 1.001)
	}
}

// Source: rows of the limits file for RS-485 (cables A and B) and CAN.
func TestProfilesAreThePublishedLimits(t *testing.T) {
	seen := 0
	for _, row := range calctest.Rows(t, "testdata/network_limits.csv") {
		var kbit float64
		var cable string
		p := row["parameter"]
		if n, _ := fmt.Sscanf(p, "segment length at %f kbit/s, cable type %s", &kbit, &cable); n == 2 {
			profile := must(bus.ProfileNamed("rs485-type-3-cable-" + strings.ToLower(cable)))
			calctest.Near(t, p, must(profile.At(kbit*1000)).MaxLength, calctest.Float(t, row["value"]), 1e-9)
			seen++
		}
		if name, ok := strings.CutSuffix(p, ": bus length / stub / accumulated stub"); ok {
			var unit string
			if _, err := fmt.Sscanf(name, "%f %s", &kbit, &unit); err != nil {
				t.Fatal(err)
			}
			if unit == "Mbit/s" {
				kbit *= 1000
			}
			r := must(must(bus.ProfileNamed("can")).At(kbit * 1000))
			want := strings.Split(row["value"], "/")
			calctest.Near(t, p, r.MaxLength, calctest.Float(t, want[0]), 1e-9)
			calctest.Near(t, p, r.MaxStub, calctest.Float(t, want[1]), 1e-9)
			calctest.Near(t, p, r.MaxStubs, calctest.Float(t, want[2]), 1e-9)
			seen++
		}
	}
	if seen != 15+8 {
		t.Errorf("%d rows were held against the profiles", seen)
	}
	for name, want := range map[string]float64{"ethernet-copper-100": 100, "ethernet-copper-1000": 100, "ethernet-fibre-100-multimode": 2000, "ethernet-fibre-1000-short": 550, "ethernet-fibre-1000-long": 5000} {
		calctest.Near(t, name, must(bus.ProfileNamed(name)).Rates[0].MaxLength, want, 1e-9) // IEEE 802.3, seen
	}
	// Source: TIA-485 practice, 1200 m up to 100 kbit/s, 1e8 over the bit rate above, 12 m at 10 Mbit/s.
	for _, r := range must(bus.ProfileNamed("rs485-serial")).Rates {
		if limit := math.Min(1200, math.Max(12, 1e8/r.BitsPerSecond)); float64(r.MaxLength) > limit+0.5 {
			t.Errorf("%v bit/s: %v m, practice %v m", r.BitsPerSecond, r.MaxLength, limit)
		}
	}
}

func TestProfilesAreSound(t *testing.T) {
	for _, p := range bus.Profiles() {
		if back := must(bus.ProfileNamed(p.Name)); back.Name != p.Name || len(p.Rates) == 0 {
			t.Errorf("%s: %+v", p.Name, back)
		}
		for i := 1; i < len(p.Rates); i++ {
			a, b := p.Rates[i-1], p.Rates[i]
			if b.BitsPerSecond <= a.BitsPerSecond || b.MaxLength > a.MaxLength {
				t.Errorf("%s: row %d is not faster and shorter", p.Name, i)
			}
		}
	}
}

func TestCheck(t *testing.T) {
	copper := must(bus.ProfileNamed("ethernet-copper-100"))
	if v := must(copper.Check(100e6, bus.Segment{Length: 100})); !v.OK() {
		t.Errorf("100 m: %v", v.Why)
	}
	v := must(copper.Check(100e6, bus.Segment{Length: 101, Earths: true}))
	if v.LengthFits || v.EarthsFit || len(v.Why) != 2 {
		t.Errorf("101 m between earths: %+v", v)
	}
	fieldbus := must(bus.ProfileNamed("rs485-type-3-cable-a"))
	v = must(fieldbus.Check(1.5e6, bus.Segment{Length: 150, Nodes: 33, Terminators: 1, Stubs: []quantity.Length{1}}))
	if v.NodesFit || v.LoadsFit || v.TerminationFits || v.StubsFit || !v.LengthFits {
		t.Errorf("%+v", v)
	}
	can := must(bus.ProfileNamed("can"))
	if v := must(can.Check(250e3, bus.Segment{Length: 240, Stubs: []quantity.Length{10, 11}, Nodes: 20, Terminators: 2})); !v.OK() {
		t.Errorf("CAN: %v", v.Why)
	}
}

// Source: 31 devices and the controller on one segment; 31 nodes beside one repeater, 30 between two
// (the file's row).
func TestSegments(t *testing.T) {
	p := must(bus.ProfileNamed("rs485-type-3-cable-a"))
	for _, c := range []struct {
		l       quantity.Length
		devices int
		want    int
	}{{100, 31, 1}, {100, 32, 2}, {100, 61, 2}, {100, 62, 3}, {100, 91, 3}, {401, 10, 2}, {1200, 10, 3}} {
		if s := must(p.Segments(500e3, c.l, c.devices)); s.Segments != c.want || !s.OK {
			t.Errorf("%v m, %d devices: %+v, want %d", c.l, c.devices, s, c.want)
		}
	}
	if s := must(p.Segments(12e6, 5000, 10)); s.OK {
		t.Errorf("5 km at 12 Mbit/s: %+v", s)
	}
	if s := must(p.Segments(12e6, 100, 126)); s.OK {
		t.Errorf("126 devices: %+v", s)
	}
}

// Own arithmetic: 3 + 0.5 + 2*1 + 2*4 + 2*10 + 1 = 34.5 ms.
func TestReactionTime(t *testing.T) {
	got := must(bus.ReactionTime(bus.Path{InputFilter: 0.003, InputModule: 0.0005, StationCycle: 0.001, Update: 0.004, Scan: 0.010, OutputDelay: 0.001}))
	calctest.Near(t, "reaction", got, 0.0345, 1e-12)
	calctest.Near(t, "declared", bus.FormulaReactionTime.Eval([]float64{3, 0.5, 1, 4, 10, 1}), 34.5, 1e-12)
	// Source: CAN, 8 bytes: 47 + 64 + floor(97/4) = 135 bits at worst stuffing (common literature, from memory).
	calctest.Near(t, "CAN frame", bus.FormulaCANFrame.Eval([]float64{8}), 135, 1e-12)
	calctest.Near(t, "CAN load", must(bus.CANLoad([]bus.Frame{{8, 0.01}, {8, 0.01}}, 250e3)), 2*135/250e3/0.01, 1e-12)
	// Own arithmetic: 8 + 5 bytes of 11 bits at 19200, twice 2.0052 ms of silence, 5 ms turnaround.
	calctest.Near(t, "serial", must(bus.SerialCycle([]bus.SerialPoll{{8, 5, 0.005}}, 11, 19200)), 13*11/19200.0+2*3.5*11/19200+0.005, 1e-9)
	calctest.Near(t, "line", must(bus.LineDelay(10, 108, 100e6, 10e-6, 900)), 10*(8.64e-6+10e-6)+4.5e-6, 1e-9)
}

func TestMoreIsNeverFaster(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, b := rapid.IntRange(0, 120).Draw(t, "n"), rapid.IntRange(0, 5000).Draw(t, "b")
		rate := rapid.SampledFrom([]float64{9.6e3, 500e3, 1.5e6, 12e6}).Draw(t, "rate")
		if must(bus.PolledCycle(n, b, rate)) > must(bus.PolledCycle(n+1, b, rate)) || must(bus.PolledCycle(n, b, rate)) > must(bus.PolledCycle(n, b+1, rate)) {
			t.Fatal("more stations or bytes are faster")
		}
		p := must(bus.ProfileNamed("rs485-type-3-cable-a"))
		l := quantity.Length(rapid.Float64Range(0, 5000).Draw(t, "l"))
		if must(p.Segments(rate, l, n)).Segments > must(p.Segments(rate, l+50, n+1)).Segments {
			t.Fatal("more line needs fewer segments")
		}
		if r, ok := p.FastestFor(l); ok && !(must(p.At(r.BitsPerSecond)).MaxLength >= l) {
			t.Fatal("the fastest rate is too fast")
		}
	})
}

func TestAbsurdNetworksAreRefused(t *testing.T) {
	p := must(bus.ProfileNamed("can"))
	for _, x := range calctest.Absurd() {
		for name, err := range map[string]error{
			"rate": second(p.At(x)), "length": second(p.Check(250e3, bus.Segment{Length: quantity.Length(x)})), "stub": second(p.Check(250e3, bus.Segment{Stubs: []quantity.Length{quantity.Length(x)}})),
			"segments": second(p.Segments(250e3, quantity.Length(x), 1)), "cycle": second(bus.PolledCycle(1, 1, x)), "frame": second(bus.FrameTime(1, 1, 84, x)),
			"serial": second(bus.SerialFrame(1, 11, x)), "silence": second(bus.Silence(x)), "load": second(bus.LinkLoad([]bus.Stream{{1, quantity.Duration(x)}}, 100e6)),
			"can": second(bus.CANLoad([]bus.Frame{{1, 1}}, x)), "reaction": second(bus.ReactionTime(bus.Path{Scan: quantity.Duration(x)})), "line": second(bus.LineDelay(1, 64, 100e6, quantity.Duration(x), 1)),
			"poll": second(bus.SerialCycle([]bus.SerialPoll{{1, 1, quantity.Duration(x)}}, 11, 9600)),
		} {
			if !errors.Is(err, calc.ErrRange) {
				t.Errorf("%s %v: %v, want a refusal", name, x, err)
			}
		}
	}
	for name, err := range map[string]error{
		"stations": second(bus.PolledCycle(-1, 1, 1e6)), "profile": second(bus.ProfileNamed("x")), "empty": second((bus.Profile{}).At(1)), "bytes": second(bus.CANLoad([]bus.Frame{{9, 1}}, 1e6)),
	} {
		if !errors.Is(err, calc.ErrRange) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
