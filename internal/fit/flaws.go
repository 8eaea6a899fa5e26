package fit

import (
	"cmp"
	"math"

	"railwright/internal/calc/loop"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Flaws are the rules of the handbook that a signal would break on a channel set whatever its cable: those
// whose findings are errors, and those whose findings are warnings (docs/plan-rules.md section 3).
type Flaws struct {
	Errors, Warnings int
	Rules            []string // their codes
}

// Compare orders flaws: fewer errors first, then fewer warnings.
func (f Flaws) Compare(o Flaws) int {
	return cmp.Or(cmp.Compare(f.Errors, o.Errors), cmp.Compare(f.Warnings, o.Warnings))
}

func (f *Flaws) err(rule string, broken bool) {
	if broken {
		f.Errors++
		f.Rules = append(f.Rules, rule)
	}
}

func (f *Flaws) warn(rule string, broken bool) {
	if broken {
		f.Warnings++
		f.Rules = append(f.Rules, rule)
	}
}

// SwitchDrop is the largest voltage that a closed switch keeps, by form of a digital input.
//
// Source: IEC 60947-5-2; 3-wire switches from memory.
var SwitchDrop = map[string]q.Voltage{"contact": 0, "2-wire": loop.TwoWireSwitch.Drop, "pnp": 3.5, "npn": 3.5}

// FlawsOf counts the flaws of a signal on channel set number set of a module; volts is the lowest voltage at the channels of a
// 24 V group that carries the most that the basis allows.
func FlawsOf(s *project.Signal, b *project.Basis, m *hardware.Module, set int, volts q.Voltage) Flaws {
	var f Flaws
	c := &m.Channels[set]
	switch s.Kind {
	case project.DI:
		f.input(s, c, volts)
	case project.DO:
		f.output(s, c)
	case project.AI:
		f.analogue(s, b, c, volts)
	case project.AO:
		f.driven(s, c)
	case project.TC:
		f.warn("TCX-002", s.Junction == "earthed" && !m.Isolated)
	}
	f.err("OUT-007", s.Kind.Output() && s.SafeState != "" && s.SafeState != "0" && !c.Substitute)
	f.warn("SCL-002", s.RangeLow.Set && s.RangeHigh.Set && s.RangeLow.Value < s.RangeHigh.Value && c.Bit > 0 && c.Bit < fewestBits && (s.Kind == project.AI || s.Kind == project.AO))
	return f
}

// fewestBits make steps of 0.1 % of a range (common practice).
const fewestBits = 10

// input: leakage of an open switch, voltage behind a closed one, least current through a 2-wire one.
func (f *Flaws) input(s *project.Signal, c *hardware.ChannelSet, volts q.Voltage) {
	drop, dc := SwitchDrop[s.Form]
	if !dc || c.Input == 0 || c.ThresholdOn == 0 && c.InputType == 0 {
		return
	}
	t, _ := loop.ByType(max(1, c.InputType))
	off, on := t.OffCurrent, t.OnVoltage
	if c.OffCurrent > 0 {
		off = c.OffCurrent
	}
	if c.ThresholdOn > 0 {
		on = c.ThresholdOn
	}
	f.err("DIN-002", s.Leakage.Set && q.ToMicroamps(s.Leakage.Value) > q.ToMicroamps(off))
	f.err("DIN-001", millivolts(volts-drop) < millivolts(on))
	if s.Form == "2-wire" {
		f.warn("DIN-002", !s.Leakage.Set && q.ToMicroamps(loop.TwoWireSwitch.Leakage) > q.ToMicroamps(off))
		f.warn("DIN-003", s.Current.Set && q.ToMicroamps(s.Current.Value) > c.Input)
	}
}

// output: inrush, leakage when off, least load.
func (f *Flaws) output(s *project.Signal, c *hardware.ChannelSet) {
	steady := q.ToMicroamps(s.Current.Value)
	if s.Inrush.Set && c.MaxEach > 0 {
		inrush := q.ToMicroamps(s.Inrush.Value)
		f.warn("OUT-002", inrush > c.MaxEach && !lampSuits(s, c, inrush, steady))
	}
	if !s.Current.Set || steady <= 0 {
		return
	}
	release := int64(50) // per mille of the current below which a load surely drops out
	if Mains(s) {
		release = 150
	}
	f.warn("OUT-003", 1000*int64(q.ToMicroamps(c.Leakage)) > release*int64(steady))
	f.warn("OUT-004", steady < q.ToMicroamps(c.MinLoad))
}

// lampSuits reports whether an inrush is that of a lamp no larger than the output's largest.
func lampSuits(s *project.Signal, c *hardware.ChannelSet, inrush, steady q.Microamps) bool {
	if steady <= 0 || c.Lamp == 0 || 10*int64(inrush) < 8*loop.LampInrush*int64(steady) {
		return false
	}
	return int64(s.Voltage.Or(24)*1000+0.5)*int64(steady) <= int64(math.Round(float64(c.Lamp)*1e9))
}

// analogue: failure currents seen, volts left for a two-wire transmitter at 22 mA without its cable.
func (f *Flaws) analogue(s *project.Signal, b *project.Basis, c *hardware.ChannelSet, volts q.Voltage) {
	f.warn("LOP-005", s.Form == "4-20ma" && !c.WireBreak)
	if !CurrentLoop(s) || !Passive(s) || s.Wires == 3 {
		return
	}
	if c.LoopVoltage > 0 {
		volts = c.LoopVoltage
	}
	left := millivolts(volts - loop.FaultCurrent.Through(c.Impedance+s.Load.Value))
	f.err("LOP-002", s.MinVoltage.Set && left < millivolts(s.MinVoltage.Value))
	f.warn("LOP-002", !s.MinVoltage.Set && left < millivolts(b.Circuit.TransmitterMin))
}

// driven: the load of an analogue output without its cable.
func (f *Flaws) driven(s *project.Signal, c *hardware.ChannelSet) {
	if !s.Load.Set {
		return
	}
	if s.Form == "0-10v" || s.Form == "10v-bipolar" {
		f.err("LOP-006", s.Load.Value > 0 && s.Load.Value < c.MinLoadOhm)
		return
	}
	f.err("LOP-006", c.MaxLoad > 0 && s.Load.Value > c.MaxLoad)
}

func millivolts(u q.Voltage) int64 { return int64(math.Round(float64(u) * 1000)) }
