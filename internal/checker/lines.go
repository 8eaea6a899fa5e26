package checker

import (
	"cmp"
	"math"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// line is the most that the two cores of a signal may have, in whole milliohms; warm: at the place's highest
// ambient temperature, else at 70 degC (section 10).
type line struct {
	milliohm int64
	warm     bool
	supply   bool // of a load or sensor that is fed over the cable
}

// sets are the channel sets that a signal may use in the environment.
func (r *run) sets(x *signal, env environment) []*hardware.ChannelSet {
	var out []*hardware.ChannelSet
	for _, f := range r.fits(x, env) {
		out = append(out, &r.hw.Modules[f.module].Channels[f.set])
	}
	return out
}

// lines are the lines of a bundle's signals.
func (r *run) lines(list []*signal, env environment) []line {
	var out []line
	for _, x := range list {
		own, supply := math.Inf(1), math.Inf(1)
		for _, c := range r.sets(x, env) {
			if ohm := r.ownOhm(x, c); ohm > 0 {
				own = min(own, ohm)
			}
			if ohm := r.supplyOhm(x, c); ohm > 0 {
				supply = min(supply, ohm)
			}
		}
		if !math.IsInf(own, 1) {
			out = append(out, line{int64(math.Floor(1000*own + 1e-6)), x.Kind == project.RTD, false})
		}
		if !math.IsInf(supply, 1) {
			out = append(out, line{int64(math.Floor(1000*supply + 1e-6)), x.Kind == project.RTD, true})
		}
	}
	return out
}

// atChannel is the lowest voltage at the channels of a group of the voltage kind at the basis's most current.
func (r *run) atChannel(volt string) float64 {
	low := float64(1000-r.p.Basis.Circuit.MainsLow) / 1000
	switch volt {
	case "120vac":
		return 120 * low
	case "230vac":
		return 230 * low
	}
	return r.infeedVoltage(volt, float64(r.p.Basis.Supply.InfeedArea), int64(r.p.Basis.Group.MaxCurrent))
}

// ownOhm is section 10's table: the most that both cores may have for the signal's own sake on a channel.
func (r *run) ownOhm(x *signal, c *hardware.ChannelSet) float64 {
	switch {
	case x.form == "namur" || x.form == "pulse-namur":
		return 50
	case x.Kind == project.DI:
		return r.switchOhm(x, c)
	case x.Kind == project.AI && x.loop == "" && c.Impedance > 0:
		return float64(c.Impedance) * 0.1 / 99.9
	case x.Kind == project.AI && x.loop == "feeds" && x.wires != 3:
		u, least := r.atChannel("24vdc"), float64(r.p.Basis.Circuit.TransmitterMin)
		if c.LoopVoltage > 0 {
			u = float64(c.LoopVoltage)
		}
		if x.MinVoltage.Set {
			least = float64(x.MinVoltage.Value)
		}
		return (u-least)/0.022 - float64(c.Impedance) - float64(x.Load.Value)
	case x.Kind == project.AO && (x.form == "4-20ma" || x.form == "0-20ma") && x.Load.Set && c.MaxLoad > 0:
		return float64(c.MaxLoad) - float64(x.Load.Value)
	case x.Kind == project.AO && x.form != "4-20ma" && x.form != "0-20ma" && x.Load.Value > 0:
		return float64(x.Load.Value) * 0.1 / 99.9
	case x.Kind == project.RTD:
		return r.leadOhm(x)
	}
	return math.Inf(1)
}

// supplyOhm is the same for the supply of a load, or of a sensor that is fed over the cable: its own least
// voltage, or 24 V (48 V) - 15 %.
func (r *run) supplyOhm(x *signal, c *hardware.ChannelSet) float64 {
	fed, drop := false, 0.0
	switch x.Kind {
	case project.DI:
		fed = x.form == "pnp" || x.form == "npn"
	case project.CNT:
		fed = x.form != "pulse-namur"
	case project.AI:
		fed = x.wires == 3 && x.loop != "takes"
	case project.DO:
		fed, drop = x.form != "relay", float64(c.Drop)
	}
	least := map[string]float64{"24vdc": 20.4, "48vdc": 40.8}[x.volt]
	switch {
	case x.MinVoltage.Set:
		least = float64(x.MinVoltage.Value)
	case x.exi() || least == 0:
		return math.Inf(1)
	}
	if !fed || x.current <= 0 {
		return math.Inf(1)
	}
	room := r.atChannel(x.volt) - drop - least
	if feeder := map[string]float64{"120vac": 120, "230vac": 230}[x.volt] * float64(r.p.Basis.Feeder.Drop) / 1000; room > feeder {
		room -= feeder
	}
	return room / (float64(x.current)/1e6 + x.back(c)/2)
}

// back is what returns over the signal core of a three-wire sensor and so burdens one core of its supply, in A.
func (x *signal) back(c *hardware.ChannelSet) float64 {
	switch {
	case x.Kind == project.DI && (x.form == "pnp" || x.form == "npn"), x.form == "encoder-24v", x.form == "pulse-24v" && x.wires != 2:
		return float64(c.Input) / 1e6
	case x.Kind == project.AI && x.loop == "feeds" && x.wires == 3:
		return 0.022
	}
	return 0
}

func (r *run) switchOhm(x *signal, c *hardware.ChannelSet) float64 {
	drop, dc := switchDrop[x.form]
	if !dc || c.Input == 0 || c.ThresholdOn == 0 && c.InputType == 0 {
		return math.Inf(1)
	}
	on := inputTypes[max(1, c.InputType)][0]
	if c.ThresholdOn > 0 {
		on = float64(c.ThresholdOn)
	}
	i := float64(c.Input) / 1e6
	if x.form == "pnp" || x.form == "npn" {
		i += float64(x.current) / 1e6 / 2
	}
	return (r.atChannel("24vdc") - drop - on) / i
}

// leadOhm is the lead resistance that the basis's error allows at the weaker end of the range: of two wires, or
// by the mismatch of three.
func (r *run) leadOhm(x *signal) float64 {
	if x.wires == 4 {
		return math.Inf(1)
	}
	low, high := 0.0, 0.0
	if x.RangeLow.Set && x.RangeHigh.Set {
		low, high = x.RangeLow.Value, x.RangeHigh.Value
	}
	slope := min(ohmPerKelvin(x.Sensor, low), ohmPerKelvin(x.Sensor, high))
	if slope == 0 {
		return math.Inf(1)
	}
	ohm := float64(r.p.Basis.Circuit.RTDError) * slope
	if rtdWires(x) == 3 {
		if r.p.Basis.Circuit.LeadMismatch <= 0 {
			return math.Inf(1)
		}
		ohm *= 2000 / float64(r.p.Basis.Circuit.LeadMismatch)
	}
	return ohm
}

// ohmPerKelvin is the slope of a resistance thermometer, at the nearest temperature that it is defined for; 0
// for one that the rules do not know.
//
// Source: IEC 60751 (platinum, -200 to 850 degC), DIN 43760 from memory (nickel, -60 to 250 degC): derivatives of
// their functions.
func ohmPerKelvin(sensor string, t float64) float64 {
	switch sensor {
	case "Pt100", "Pt1000":
		t = min(max(t, -200), 850)
		slope := 3.9083e-3 - 2*5.775e-7*t
		if t < 0 {
			slope += -4.183e-12 * (4*t*t*t - 300*t*t)
		}
		return slope * map[string]float64{"Pt100": 100, "Pt1000": 1000}[sensor]
	case "Ni100":
		t = min(max(t, -60), 250)
		return 100 * (5.485e-3 + 2*6.650e-6*t + 4*2.805e-11*t*t*t - 6*2.000e-17*math.Pow(t, 5))
	}
	return 0
}

// keepsLines reports whether a cable keeps every line.
func keepsLines(lines []line, c *hardware.Cable, laid int64, ambient float64) bool {
	for _, l := range lines {
		hot := hotOhmPerMetre(float64(c.Area), c.Class)
		if l.warm {
			hot *= (1 + 0.00393*(ambient-20)) / (1 + 0.00393*50)
		}
		if int64(math.Ceil(1000*2*float64(laid)/1000*hot-1e-6)) > l.milliohm {
			return false
		}
	}
	return true
}

// cableFor is the bundle's type at a laid length: the cheapest, or the smallest larger area that keeps the
// loads' voltages and every line that some cable keeps; the largest area where a supply's line is kept by
// none; nil if the list has none, and the bundle may not go there.
func (r *run) cableFor(b *bundle, list []*signal, laid int64, env environment) *hardware.Cable {
	first := r.fieldType(b, list, r.areaFor(b, list))
	if first == nil || r.cableFixed(list) {
		return first
	}
	wanted := r.lines(list, env)
	if r.keeps(list, first, laid) && keepsLines(wanted, first, laid, env.ambient) {
		return first
	}
	var suited []*hardware.Cable
	area := r.areaFor(b, list)
	for i := range r.hw.Cables {
		c := &r.hw.Cables[i]
		if float64(c.Area) >= area && !r.unused[c.Code] && (c.MaxLength == 0 || laid <= int64(c.MaxLength)) && r.takes(b, list, c) {
			suited = append(suited, c)
		}
	}
	var lines []line
	short := false
	for _, l := range wanted {
		kept := false
		for _, c := range suited {
			kept = kept || keepsLines([]line{l}, c, laid, env.ambient)
		}
		if kept {
			lines = append(lines, l)
		}
		short = short || !kept && l.supply
	}
	var best *hardware.Cable
	for _, c := range append(suited, first) {
		if c != first && c.Area <= first.Area || !r.keeps(list, c, laid) || !keepsLines(lines, c, laid, env.ambient) {
			continue
		}
		area := float64(c.Area)
		if short {
			area = -area
		}
		have := math.Inf(1)
		if best != nil {
			if have = float64(best.Area); short {
				have = -have
			}
		}
		if best == nil || cmp.Or(cmp.Compare(area, have), cmp.Compare(c.Price, best.Price), cmp.Compare(c.Code, best.Code)) < 0 {
			best = c
		}
	}
	return best
}
