package fit

import (
	"math"

	"railwright/internal/calc/loop"
	"railwright/internal/calc/sensor"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Line is the most resistance that the two cores of a signal may have before a rule of the handbook is
// broken, in milliohms rounded down.
type Line struct {
	Signal   int
	MilliOhm int64
	Warm     bool // at the highest ambient temperature; else at 70 degC
	Supply   bool // of a load or sensor that is fed over the cable
}

// LowestMean is the lowest mean supply voltage of equipment for 24 V DC: -15 % (IEC 61131-2).
const LowestMean q.Voltage = 20.4

// MostLost is the share of a voltage signal that may be lost on its way, in per cent: the error of an
// ordinary input module (common practice).
const MostLost = 0.1

// fed reports whether the signal's device takes its supply over the cable from the supply group.
func fed(s *project.Signal) bool { return s.Kind != project.AI || s.Wires == 3 }

// Ask adds to a bundle's need what depends on the channel sets that its signals may use at a place: the
// lines (docs/plan-rules.md, section 10). sets lists those of signal number i; volts is the lowest voltage
// at the channels of a group of a voltage kind.
func (n CableNeed) Ask(bundle Bundle, signals []project.Signal, b *project.Basis, sets func(i int) []*hardware.ChannelSet, volts func(kind string) q.Voltage) CableNeed {
	n.Lines = nil
	for _, i := range bundle.Signals {
		for _, supply := range []bool{false, true} {
			least := math.Inf(1)
			for _, c := range sets(i) {
				ohm := signalOhm(&signals[i], b, c, volts)
				if supply {
					ohm = supplyOhm(&signals[i], b, c, volts)
				}
				if ohm > 0 {
					least = min(least, ohm)
				}
			}
			if !math.IsInf(least, 1) {
				n.Lines = append(n.Lines, Line{i, int64(math.Floor(1000*least + 1e-6)), signals[i].Kind == project.RTD, supply})
			}
		}
	}
	return n
}

// signalOhm is the most that both cores may have for a signal's own sake on channel set c; infinite where
// no rule limits it, not positive where no cable could keep it.
func signalOhm(s *project.Signal, b *project.Basis, c *hardware.ChannelSet, volts func(kind string) q.Voltage) float64 {
	switch {
	case s.Form == "namur" || s.Form == "pulse-namur":
		return float64(loop.NAMURMaxLine)
	case s.Kind == project.DI:
		return switchOhm(s, b, c, volts)
	case s.Kind == project.AI:
		return analogueOhm(s, b, c, volts)
	case s.Kind == project.AO && currentForm(s.Form) && s.Load.Set && c.MaxLoad > 0:
		return float64(c.MaxLoad - s.Load.Value)
	case VoltageOut(s) && s.Load.Value > 0:
		return float64(s.Load.Value) * MostLost / (100 - MostLost)
	case s.Kind == project.RTD:
		return leadOhm(s, b)
	}
	return math.Inf(1)
}

// OverPlus is the current that a three-wire sensor's plus core carries beyond the sensor's own: what goes
// back over its signal core, at an input of channel set c; 22 mA of a transmitter.
func OverPlus(s *project.Signal, c *hardware.ChannelSet) q.Microamps {
	switch {
	case s.Form == "pnp" || s.Form == "npn":
		return c.Input
	case s.Kind == project.CNT && (s.Form == "encoder-24v" || s.Form == "pulse-24v" && s.Wires != 2):
		return c.Input
	case s.Kind == project.AI && s.Wires == 3 && CurrentLoop(s) && Passive(s):
		return q.ToMicroamps(loop.FaultCurrent)
	}
	return 0
}

// VoltageOut reports whether a signal is an analogue output of a voltage.
func VoltageOut(s *project.Signal) bool { return s.Kind == project.AO && !currentForm(s.Form) }

// supplyOhm is the most that both cores may have for the supply of a load, or of a sensor that is fed over
// them; what states no least voltage gets that of equipment for 24 or 48 V.
func supplyOhm(s *project.Signal, b *project.Basis, c *hardware.ChannelSet, volts func(kind string) q.Voltage) float64 {
	i, kind := SignalCurrent(s, b), VoltageKind(s)
	sensor := s.Form == "pnp" || s.Form == "npn" || s.Kind == project.CNT && s.Form != "pulse-namur" || s.Kind == project.AI && s.Wires == 3 && (!CurrentLoop(s) || Passive(s))
	load := s.Kind == project.DO && s.Form != "relay"
	if i <= 0 || !sensor && !load {
		return math.Inf(1)
	}
	least := s.MinVoltage.Value
	switch {
	case s.MinVoltage.Set:
	case s.ExLevel != "" || !DC(kind):
		return math.Inf(1)
	case kind == V48:
		least = 2 * LowestMean
	default:
		least = LowestMean
	}
	drop := q.Voltage(0)
	if load {
		drop = c.Drop
	}
	if sensor {
		return float64(volts(kind)-least) / (float64(i.Current()) + float64(OverPlus(s, c).Current())/2)
	}
	room := volts(kind) - drop - least
	if left := room - feederDrop(kind, b); left > 0 {
		room = left
	}
	return float64(room) / float64(i.Current())
}

// feederDrop is what the basis lets a feeder lose before a mains group; 0 for DC.
func feederDrop(kind string, b *project.Basis) q.Voltage {
	nominal := q.Voltage(230)
	switch {
	case DC(kind):
		return 0
	case kind == V120:
		nominal = 120
	}
	return nominal * q.Voltage(b.Feeder.Drop) / 1000
}

// switchOhm: behind a closed switch the input must have its voltage for a 1. One of the two cores carries a
// three-wire sensor's own current as well.
func switchOhm(s *project.Signal, b *project.Basis, c *hardware.ChannelSet, volts func(kind string) q.Voltage) float64 {
	drop, dc := SwitchDrop[s.Form]
	if !dc || c.Input == 0 || c.ThresholdOn == 0 && c.InputType == 0 {
		return math.Inf(1)
	}
	t, _ := loop.ByType(max(1, c.InputType))
	on := t.OnVoltage
	if c.ThresholdOn > 0 {
		on = c.ThresholdOn
	}
	through := float64(c.Input.Current())
	if s.Form == "pnp" || s.Form == "npn" {
		through += float64(SignalCurrent(s, b).Current()) / 2
	}
	return float64(volts(V24)-drop-on) / through
}

// analogueOhm: volts for a two-wire transmitter at 22 mA; a voltage signal's loss.
func analogueOhm(s *project.Signal, b *project.Basis, c *hardware.ChannelSet, volts func(kind string) q.Voltage) float64 {
	switch {
	case !CurrentLoop(s):
		return lossOhm(c)
	case !Passive(s) || s.Wires == 3:
		return math.Inf(1)
	}
	u, least := volts(V24), b.Circuit.TransmitterMin
	if c.LoopVoltage > 0 {
		u = c.LoopVoltage
	}
	if s.MinVoltage.Set {
		least = s.MinVoltage.Value
	}
	return float64(u-least)/float64(loop.FaultCurrent) - float64(c.Impedance) - float64(s.Load.Value)
}

func lossOhm(c *hardware.ChannelSet) float64 {
	if c.Impedance <= 0 {
		return math.Inf(1)
	}
	return float64(c.Impedance) * MostLost / (100 - MostLost)
}

// TemperatureRange is the range of a temperature in degC, lower end first; 0 to 0 where it has none.
func TemperatureRange(s *project.Signal) (low, high q.Temperature) {
	if !s.RangeLow.Set || !s.RangeHigh.Set {
		return 0, 0
	}
	a, b := q.Temperature(s.RangeLow.Value), q.Temperature(s.RangeHigh.Value)
	return min(a, b), max(a, b)
}

// leadOhm: the error of a resistance thermometer's leads that the basis allows, where its range is
// weakest: of both cores with two wires, of what two cores differ by with three.
func leadOhm(s *project.Signal, b *project.Basis) float64 {
	rtd, err := sensor.ParseRTD(s.Sensor)
	if err != nil || Wires(s) == 4 {
		return math.Inf(1)
	}
	low, high := TemperatureRange(s)
	_, slope, err := rtd.Weakest(low, high)
	if err != nil {
		return math.Inf(1)
	}
	ohm := float64(b.Circuit.RTDError) * slope
	if Wires(s) == 3 {
		if b.Circuit.LeadMismatch <= 0 {
			return math.Inf(1)
		}
		ohm = 2 * ohm / (float64(b.Circuit.LeadMismatch) / 1000)
	}
	return ohm
}
