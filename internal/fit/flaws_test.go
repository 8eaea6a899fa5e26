package fit_test

import (
	"slices"
	"testing"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Source of thresholds and state-0 currents: IEC 61131-2 table 7; of the switch: IEC 60947-5-2. Own arithmetic.
func TestFlawsOf(t *testing.T) {
	b := project.DefaultBasis()
	amp := func(ma float64) q.Opt[q.Current] { return q.Some(q.Current(ma / 1000)) }
	di := func(kind int) hardware.ChannelSet { return hardware.ChannelSet{Input: 3000, InputType: kind} }
	relay := hardware.ChannelSet{MaxEach: 2_000_000, Lamp: 10, Leakage: 0.0003, MinLoad: 0.01}
	loop := hardware.ChannelSet{LoopVoltage: 19, Impedance: 100, WireBreak: true}
	for _, c := range []struct {
		name string
		s    project.Signal
		set  hardware.ChannelSet
		want []string
	}{
		{"1.2 mA on type 1, 22.9 - 8 V < 15 V", project.Signal{Kind: project.DI, Form: "2-wire", Leakage: amp(1.2)}, di(1), []string{"DIN-002", "DIN-001"}},
		{"1.2 mA on type 3", project.Signal{Kind: project.DI, Form: "2-wire", Leakage: amp(1.2)}, di(3), nil},
		{"a switch that needs 4 mA", project.Signal{Kind: project.DI, Form: "2-wire", Leakage: amp(1), Current: amp(4)}, di(3), []string{"DIN-003"}},
		{"a contact", project.Signal{Kind: project.DI, Form: "contact"}, di(1), nil},
		{"a lamp of 8 W: 10 x 333 mA", project.Signal{Kind: project.DO, Form: "24v", Current: amp(333), Inrush: amp(3330)}, relay, nil},
		{"a lamp of 12 W", project.Signal{Kind: project.DO, Form: "24v", Current: amp(500), Inrush: amp(5000)}, relay, []string{"OUT-002"}},
		{"a motor of 3 times", project.Signal{Kind: project.DO, Form: "24v", Current: amp(1000), Inrush: amp(3000)}, relay, []string{"OUT-002"}},
		{"5 mA: 6 % leak, 10 mA wanted", project.Signal{Kind: project.DO, Form: "24v", Current: amp(5)}, relay, []string{"OUT-003", "OUT-004"}},
		{"hold without a substitute", project.Signal{Kind: project.DO, Form: "24v", SafeState: "hold"}, relay, []string{"OUT-007"}},
		{"19 - 0.022 x 400 = 10.2 V, 12 V by the basis", project.Signal{Kind: project.AI, Form: "4-20ma", Load: q.Some(q.Resistance(300))}, loop, []string{"LOP-002"}},
		{"the same for 10 V", project.Signal{Kind: project.AI, Form: "4-20ma", Load: q.Some(q.Resistance(300)), MinVoltage: q.Some(q.Voltage(10))}, loop, nil},
		{"550 ohm on 500", project.Signal{Kind: project.AO, Form: "4-20ma", Load: q.Some(q.Resistance(550))}, hardware.ChannelSet{MaxLoad: 500}, []string{"LOP-006"}},
		{"8 bits", project.Signal{Kind: project.AO, Form: "4-20ma", RangeLow: q.Some(0.0), RangeHigh: q.Some(100.0)}, hardware.ChannelSet{Bit: 8}, []string{"SCL-002"}},
		{"an earthed junction", project.Signal{Kind: project.TC, Junction: "earthed"}, hardware.ChannelSet{}, []string{"TCX-002"}},
	} {
		got := fit.FlawsOf(&c.s, &b, &hardware.Module{Channels: []hardware.ChannelSet{c.set}}, 0, 22.9)
		if !slices.Equal(got.Rules, c.want) || got.Errors+got.Warnings != len(c.want) {
			t.Errorf("%s: %+v, want %v", c.name, got, c.want)
		}
	}
}

// Own arithmetic on one volt figure: 22.9 V at the channels.
func TestLines(t *testing.T) {
	b := project.DefaultBasis()
	b.Circuit.RTDError = 2
	amp := func(ma float64) q.Opt[q.Current] { return q.Some(q.Current(ma / 1000)) }
	volts := func(string) q.Voltage { return 22.9 }
	for _, c := range []struct {
		name string
		s    project.Signal
		set  hardware.ChannelSet
		want []fit.Line
	}{
		{"(22.9 - 0.5 - 21.6) / 0.25 A", project.Signal{Kind: project.DO, Form: "24v", Current: amp(250), MinVoltage: q.Some(q.Voltage(21.6))}, hardware.ChannelSet{Drop: 0.5}, []fit.Line{{MilliOhm: 3200, Supply: true}}},
		{"(22.9 - 8 - 11) / 3 mA", project.Signal{Kind: project.DI, Form: "2-wire"}, hardware.ChannelSet{Input: 3000, InputType: 3}, []fit.Line{{MilliOhm: 1_300_000}}},
		{"PNP of 90 mA: (22.9 - 3.5 - 11) / (2.5 + 45 mA), (22.9 - 20.4) / (90 + 1.25 mA)", project.Signal{Kind: project.DI, Form: "pnp", Current: amp(90)}, hardware.ChannelSet{Input: 2500, InputType: 3}, []fit.Line{{MilliOhm: 176_842}, {MilliOhm: 27_397, Supply: true}}},
		{"three wires: (22.9 - 20.4) / (60 + 11 mA)", project.Signal{Kind: project.AI, Form: "4-20ma", Active: "passive", Wires: 3, Current: amp(60)}, hardware.ChannelSet{Impedance: 100}, []fit.Line{{MilliOhm: 35_211, Supply: true}}},
		{"NAMUR", project.Signal{Kind: project.DI, Form: "namur"}, hardware.ChannelSet{}, []fit.Line{{MilliOhm: 50_000}}},
		{"(19 - 16.8) / 22 mA - 100 = 0: no cable mends it", project.Signal{Kind: project.AI, Form: "4-20ma", MinVoltage: q.Some(q.Voltage(16.8))}, hardware.ChannelSet{LoopVoltage: 19, Impedance: 100}, nil},
		{"2 K x 0.3793 ohm/K at 100 degC", project.Signal{Kind: project.RTD, Sensor: "Pt100", Wires: 2, RangeLow: q.Some(0.0), RangeHigh: q.Some(100.0)}, hardware.ChannelSet{}, []fit.Line{{MilliOhm: 758, Warm: true}}},
		{"10 kohm: 0.1 %", project.Signal{Kind: project.AI, Form: "0-10v"}, hardware.ChannelSet{Impedance: 10_000}, []fit.Line{{MilliOhm: 10_010}}},
		{"750 - 700", project.Signal{Kind: project.AO, Form: "4-20ma", Load: q.Some(q.Resistance(700))}, hardware.ChannelSet{MaxLoad: 750}, []fit.Line{{MilliOhm: 50_000}}},
	} {
		sets := func(int) []*hardware.ChannelSet { return []*hardware.ChannelSet{&c.set} }
		got := fit.CableNeed{}.Ask(fit.Bundle{Signals: []int{0}}, []project.Signal{c.s}, &b, sets, volts).Lines
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
