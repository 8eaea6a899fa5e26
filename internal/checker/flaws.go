package checker

import (
	"math"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// milli is a value in whole thousandths.
func milli(v float64) int64 { return int64(math.Round(v * 1000)) }

// micro is a value in whole millionths.
func micro(v float64) int64 { return int64(math.Round(v * 1e6)) }

// inputTypes are the voltage for a 1 (V) and the state-0 current (A) of 24 V inputs.
//
// Source: IEC 61131-2 table 7; type 2 and the state-0 current of type 3 from memory. Typed in again.
var inputTypes = map[int][2]float64{1: {15, 0.0005}, 2: {11, 0.002}, 3: {11, 0.0015}}

// switchDrop is what a closed switch keeps. Source: IEC 60947-5-2, 3-wire switches from memory. Typed in again.
var switchDrop = map[string]float64{"contact": 0, "2-wire": 8, "pnp": 3.5, "npn": 3.5}

// flaws counts the rules of section 3's second part that a signal breaks on a channel: errors, warnings.
func (r *run) flaws(x *signal, m *hardware.Module, c *hardware.ChannelSet) (errs, warns int) {
	rule := func(n *int, broken bool) {
		if broken {
			*n++
		}
	}
	volts := r.infeedVoltage("24vdc", float64(r.p.Basis.Supply.InfeedArea), int64(r.p.Basis.Group.MaxCurrent))
	load := float64(x.Load.Value)
	switch x.Kind {
	case project.DI:
		drop, dc := switchDrop[x.form]
		if !dc || c.Input == 0 || c.ThresholdOn == 0 && c.InputType == 0 {
			break
		}
		t := inputTypes[max(1, c.InputType)]
		on, off := t[0], micro(t[1])
		if c.ThresholdOn > 0 {
			on = float64(c.ThresholdOn)
		}
		if c.OffCurrent > 0 {
			off = micro(float64(c.OffCurrent))
		}
		rule(&errs, x.Leakage.Set && micro(float64(x.Leakage.Value)) > off)
		rule(&errs, milli(volts-drop) < milli(on))
		if x.form == "2-wire" {
			rule(&warns, !x.Leakage.Set && 1500 > off)
			rule(&warns, x.Current.Set && x.current > int64(c.Input))
		}
	case project.DO:
		steady := int64(0)
		if x.Current.Set {
			steady = x.current
		}
		if in := micro(float64(x.Inrush.Value)); x.Inrush.Set && c.MaxEach > 0 && in > int64(c.MaxEach) {
			lamp := steady > 0 && c.Lamp > 0 && 10*in >= 80*steady
			v := 24.0
			if x.Voltage.Set {
				v = float64(x.Voltage.Value)
			}
			rule(&warns, !lamp || milli(v)*steady > int64(math.Round(float64(c.Lamp)*1e9)))
		}
		release := int64(50)
		if x.mains() || x.highRelay() {
			release = 150
		}
		rule(&warns, steady > 0 && 1000*micro(float64(c.Leakage)) > release*steady)
		rule(&warns, steady > 0 && steady < micro(float64(c.MinLoad)))
	case project.AI:
		rule(&warns, x.form == "4-20ma" && !c.WireBreak)
		if x.loop != "feeds" || x.wires == 3 {
			break
		}
		if c.LoopVoltage > 0 {
			volts = float64(c.LoopVoltage)
		}
		left, least := milli(volts-0.022*(float64(c.Impedance)+load)), float64(r.p.Basis.Circuit.TransmitterMin)
		if x.MinVoltage.Set {
			rule(&errs, left < milli(float64(x.MinVoltage.Value)))
		} else {
			rule(&warns, left < milli(least))
		}
	case project.TC:
		rule(&warns, x.Junction == "earthed" && !m.Isolated)
	case project.AO:
		if voltage := x.form == "0-10v" || x.form == "10v-bipolar"; x.Load.Set && voltage {
			rule(&errs, load > 0 && load < float64(c.MinLoadOhm))
		} else if x.Load.Set {
			rule(&errs, c.MaxLoad > 0 && load > float64(c.MaxLoad))
		}
	}
	rule(&errs, (x.Kind == project.DO || x.Kind == project.AO) && x.SafeState != "" && x.SafeState != "0" && !c.Substitute)
	ranged := x.RangeLow.Set && x.RangeHigh.Set && x.RangeLow.Value < x.RangeHigh.Value
	rule(&warns, (x.Kind == project.AI || x.Kind == project.AO) && ranged && c.Bit > 0 && c.Bit < 10)
	return errs, warns
}

// channelTold reports a fixed decision on the signal's channel, which outranks the flaws.
func (r *run) channelTold(x *signal) bool {
	for _, d := range r.decisions("signal:"+x.ID, "channel") {
		if d.Strength == project.Fixed {
			return true
		}
	}
	return false
}

// better reports whether the signal has a channel set with fewer flaws than c in the environment.
func (r *run) better(x *signal, m *hardware.Module, c *hardware.ChannelSet, env environment) bool {
	if r.channelTold(x) {
		return false
	}
	errs, warns := r.flaws(x, m, c)
	for _, f := range r.fits(x, env) {
		e, w := r.flaws(x, &r.hw.Modules[f.module], &r.hw.Modules[f.module].Channels[f.set])
		if e < errs || e == errs && w < warns {
			return true
		}
	}
	return false
}
