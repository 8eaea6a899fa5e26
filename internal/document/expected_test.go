package document

import (
	"testing"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/paper"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

func opt(x float64) q.Opt[float64] { return q.Opt[float64]{Value: x, Set: true} }

// TestExpectedPoints holds the printed test points against tables that others published.
func TestExpectedPoints(t *testing.T) {
	v := look(Input{Design: &design.Design{}, Project: &project.Project{}, Hardware: hardware.Builtin(), Setting: paper.Setting{}})
	analogue := &hardware.ChannelSet{RawHigh: 30000}
	for _, c := range []struct {
		source               string
		signal               project.Signal
		set                  *hardware.ChannelSet
		x                    float64
		value, shows, second string
		raw                  string
	}{
		{"IEC 60381-1: 4 mA at 0 %, 20 mA at 100 %; own arithmetic", project.Signal{Kind: "AI", Form: "4-20ma", RangeLow: opt(0), RangeHigh: opt(10), Unit: "bar"}, analogue, 2.5, "2.5 bar", "8.00 mA", "", "7500"},
		{"as before, range that falls", project.Signal{Kind: "AI", Form: "4-20ma", RangeLow: opt(100), RangeHigh: opt(0), Unit: "%"}, analogue, 75, "75 %", "8.00 mA", "", "7500"},
		{"own arithmetic: the middle of -10 to 10 V", project.Signal{Kind: "AI", Form: "10v-bipolar", RangeLow: opt(-50), RangeHigh: opt(50), Unit: "mm"}, analogue, 0, "0 mm", "0.00 V", "", "0"},
		{"own arithmetic: the low end of -10 to 10 V", project.Signal{Kind: "AI", Form: "10v-bipolar", RangeLow: opt(-50), RangeHigh: opt(50), Unit: "mm"}, analogue, -50, "-50 mm", "-10.00 V", "", "-30000"},
		{"IEC 60381-2: 0 to 10 V; own arithmetic", project.Signal{Kind: "AO", Form: "0-10v", RangeLow: opt(0), RangeHigh: opt(1500), Unit: "rpm"}, nil, 375, "375 rpm", "2.50 V", "", ""},
		{"IEC 60751, table of Pt100: 138.51 ohm at 100 degC", project.Signal{Kind: "RTD", Sensor: "Pt100", RangeLow: opt(0), RangeHigh: opt(200), Unit: "degC"}, &hardware.ChannelSet{RawStep: 0.1}, 100, "100 °C", "138.51 Ω", "", "1000"},
		{"IEC 60751: 92.16 ohm at -20 degC", project.Signal{Kind: "RTD", Sensor: "Pt100", RangeLow: opt(-20), RangeHigh: opt(60), Unit: "degC"}, &hardware.ChannelSet{RawStep: 0.1}, -20, "-20 °C", "92.16 Ω", "", "-200"},
		{"the same in degF: 212 degF is 100 degC", project.Signal{Kind: "RTD", Sensor: "Pt100", RangeLow: opt(32), RangeHigh: opt(392), Unit: "degF"}, nil, 212, "212 °F", "138.51 Ω", "", ""},
		{"NIST ITS-90 table, type K: 16.397 mV at 400 degC, 0.798 at 20", project.Signal{Kind: "TC", Sensor: "K", RangeLow: opt(0), RangeHigh: opt(800), Unit: "degC"}, &hardware.ChannelSet{RawStep: 0.1}, 400, "400 °C", "16.397 mV", "15.599 mV", "4000"},
		{"NIST ITS-90 table, type J: 10.779 mV at 200 degC, 1.019 at 20", project.Signal{Kind: "TC", Sensor: "J", RangeLow: opt(0), RangeHigh: opt(200), Unit: "degC"}, nil, 200, "200 °C", "10.779 mV", "9.760 mV", ""},
		{"outside the sensor's range nothing is printed", project.Signal{Kind: "RTD", Sensor: "Pt100", RangeLow: opt(0), RangeHigh: opt(2000), Unit: "degC"}, nil, 1000, "1000 °C", "", "", ""},
	} {
		s := v.scaleOf(&c.signal, c.set)
		got := s.at("", c.x)
		if got.value != c.value || got.signal != c.shows || got.second != c.second || got.raw != c.raw {
			t.Errorf("%s: got %+v, want %q %q %q %q", c.source, got, c.value, c.shows, c.second, c.raw)
		}
	}
}

// TestArea: metric as stated; the gauge is the thinnest usual one that is not thinner.
func TestArea(t *testing.T) {
	awg := paper.Setting{Wire: paper.AWG}
	for mm2, want := range map[float64]string{ // areas of gauges: ASTM B258
		0.14: "AWG 24 (0.14 mm²)", 0.5: "AWG 20 (0.5 mm²)", 0.75: "AWG 18 (0.75 mm²)", 1: "AWG 16 (1 mm²)", 1.5: "AWG 14 (1.5 mm²)", 2.5: "AWG 12 (2.5 mm²)",
		4: "AWG 10 (4 mm²)", 6: "AWG 8 (6 mm²)", 10: "AWG 6 (10 mm²)", 35: "AWG 1/0 (35 mm²)", 0: "",
	} {
		if got := area(awg, mm2); got != want {
			t.Errorf("%v mm2: %q, want %q", mm2, got, want)
		}
	}
	if got := area(paper.Setting{}, 1.5); got != "1.5 mm²" {
		t.Errorf("metric: %q", got)
	}
}
