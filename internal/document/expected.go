package document

import (
	"cmp"
	"math"
	"strings"

	"railwright/internal/calc/loop"
	"railwright/internal/calc/sensor"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// point is one value that a test is expected to show.
type point struct {
	name   string // "25 %", "1", "alarm high"
	value  string // engineering value with unit, or what the state means
	signal string // at the terminals: "8.00 mA", "119.40 Ω"
	second string // thermocouples: with the cold junction at 20 degC
	raw    string // count in the controller
}

// steps are the shares of the range at which an analogue loop is tested, per cent.
var steps = []float64{0, 25, 50, 75, 100}

// coldJunction is the terminal temperature for which expected millivolts are printed besides those of a
// reference junction at 0 degC.
const coldJunction q.Temperature = 20

// scale turns an engineering value of a signal into what its terminals and the controller show.
type scale struct {
	s         *project.Signal
	set       *hardware.ChannelSet // may be nil
	low, high float64
	unit      string
	ranged    bool // the list gives the range
}

func (v *view) scaleOf(s *project.Signal, set *hardware.ChannelSet) scale {
	c := scale{s: s, set: set, low: 0, high: 100, unit: "%"}
	if s.Kind == project.RTD || s.Kind == project.TC {
		c.unit = "°C"
	}
	if s.RangeLow.Set && s.RangeHigh.Set && s.RangeLow.Value != s.RangeHigh.Value {
		c.low, c.high, c.ranged = s.RangeLow.Value, s.RangeHigh.Value, true
		c.unit = degree(s.Unit)
	}
	return c
}

// degree prints a unit with its signs: "degC" as "°C", "m3/h" as "m³/h".
func degree(unit string) string {
	return strings.NewReplacer("degC", "°C", "degF", "°F", "degK", "K", "mm2", "mm²", "m3", "m³", "m2", "m²", "ohm", "Ω").Replace(unit)
}

// at gives the test point at an engineering value.
func (c *scale) at(name string, x float64) point {
	p := point{name: name, value: rounded(x, 6) + " " + c.unit}
	switch c.s.Kind {
	case project.RTD:
		p.signal = c.ohms(x)
		p.raw = c.kelvins(x)
	case project.TC:
		p.signal, p.second = c.millivolts(x)
		p.raw = c.kelvins(x)
	default:
		span, unit := c.span()
		y, err := sensor.Linear(x, sensor.Span{Low: c.low, High: c.high}, span)
		if err == nil {
			p.signal = fixed(y, 2) + " " + unit
		}
		p.raw = c.count(x)
	}
	return p
}

// span is the electrical range of the signal's form with its unit.
func (c *scale) span() (sensor.Span, string) {
	switch c.s.Form {
	case "0-20ma":
		return sensor.MilliAmps0To20, "mA"
	case "0-10v":
		return sensor.Volts0To10, "V"
	case "10v-bipolar":
		return sensor.VoltsPlusMinus, "V"
	}
	return sensor.MilliAmps4To20, "mA"
}

// count is the raw value of a linear channel; "" where the hardware list does not state it.
func (c *scale) count(x float64) string {
	if c.set == nil || c.set.RawHigh == 0 {
		return ""
	}
	raw := sensor.Span{Low: float64(c.set.RawLow), High: float64(c.set.RawHigh)}
	if c.s.Form == "10v-bipolar" {
		raw.Low = -raw.High
	}
	y, err := sensor.Linear(x, sensor.Span{Low: c.low, High: c.high}, raw)
	if err != nil {
		return ""
	}
	return rounded(y, 0)
}

// celsius is an engineering temperature in degrees Celsius.
func (c *scale) celsius(x float64) q.Temperature {
	switch c.unit {
	case "°F", "F":
		return q.Temperature((x - 32) / 1.8)
	case "K":
		return q.Temperature(x - 273.15)
	}
	return q.Temperature(x)
}

func (c *scale) ohms(x float64) string {
	rtd, err := sensor.ParseRTD(c.s.Sensor)
	if err != nil {
		return ""
	}
	r, err := rtd.Resistance(c.celsius(x))
	if err != nil {
		return ""
	}
	return fixed(float64(r), 2) + " Ω"
}

func (c *scale) millivolts(x float64) (reference, cold string) {
	tc, err := sensor.ParseThermocouple(c.s.Sensor)
	if err != nil {
		return "", ""
	}
	if e, err := sensor.EMF0(tc, c.celsius(x)); err == nil {
		reference = fixed(float64(e)*1000, 3) + " mV"
	}
	if e, err := sensor.EMF(tc, c.celsius(x), coldJunction); err == nil {
		cold = fixed(float64(e)*1000, 3) + " mV"
	}
	return reference, cold
}

// kelvins is the raw value of a temperature channel.
func (c *scale) kelvins(x float64) string {
	if c.set == nil || c.set.RawStep == 0 {
		return ""
	}
	return rounded(float64(c.celsius(x))/c.set.RawStep, 0)
}

// points are the test points of an analogue signal from 0 to 100 %.
func (c *scale) points() []point {
	var out []point
	for _, p := range steps {
		out = append(out, c.at(rounded(p, 0)+" %", c.low+p/100*(c.high-c.low)))
	}
	return out
}

// alarms are the alarm levels of the list as test points.
func (v *view) alarms(c *scale) []point {
	var out []point
	if c.s.AlarmLow.Set && c.ranged {
		out = append(out, c.at(v.Say("doc.alarm_low"), c.s.AlarmLow.Value))
	}
	if c.s.AlarmHigh.Set && c.ranged {
		out = append(out, c.at(v.Say("doc.alarm_high"), c.s.AlarmHigh.Value))
	}
	return out
}

// faults say what a broken and a shorted wire are expected to show.
func (v *view) faults(c *scale) []point {
	reported := c.set != nil && c.set.WireBreak
	out := []point{{name: v.Say("doc.wire_break"), value: v.Say("doc.not_reported")}}
	if reported {
		out[0].value = v.Say("doc.reported")
	}
	switch c.s.Kind {
	case project.AI:
		if c.s.Form == "4-20ma" {
			out[0].signal = v.Say("doc.at_most", rounded(1000*float64(loop.NE43FailLow), 1)+" mA")
			out = append(out, point{name: v.Say("doc.short"), value: v.Say("doc.above_range"), signal: v.Say("doc.at_least", rounded(1000*float64(loop.NE43FailHigh), 1)+" mA")})
		}
	case project.RTD:
		out = append(out, point{name: v.Say("doc.short"), value: v.Say("doc.below_range"), signal: "0 Ω"})
	case project.TC:
		out = append(out, point{name: v.Say("doc.short"), value: v.Say("doc.reads_terminals"), signal: "0 mV"})
	}
	return out
}

// states are the two states of a digital signal.
func (v *view) states(s *project.Signal, set *hardware.ChannelSet) []point {
	on, off := point{name: "1"}, point{name: "0"}
	switch {
	case s.Kind == project.DO && s.Form == "relay":
		on.value, off.value = v.Say("doc.relay_on"), v.Say("doc.relay_off")
	case s.Kind == project.DO:
		on.value, off.value = v.Say("doc.output_on"), v.Say("doc.output_off")
	case s.Contact == "NC":
		on.value, off.value = v.Say("doc.nc_on"), v.Say("doc.nc_off")
	case s.Form == "contact" || s.Contact == "NO":
		on.value, off.value = v.Say("doc.no_on"), v.Say("doc.no_off")
	default:
		on.value, off.value = v.Say("doc.switch_on"), v.Say("doc.switch_off")
	}
	if s.Kind == project.DI && set != nil {
		switch {
		case s.Form == "namur":
			on.signal, off.signal = v.Say("doc.at_least", rounded(1000*float64(loop.NAMURLow), 1)+" mA"), v.Say("doc.at_most", rounded(1000*float64(loop.NAMURHigh), 1)+" mA")
		default:
			if set.ThresholdOn > 0 {
				on.signal = v.Say("doc.at_least", rounded(float64(set.ThresholdOn), 1)+" V")
			}
			if set.ThresholdOff > 0 {
				off.signal = v.Say("doc.at_most", rounded(float64(set.ThresholdOff), 1)+" V")
			}
		}
	}
	if c := v.circuit[s.ID]; s.Kind == project.DO && s.Form != "relay" && c != nil {
		off.signal = v.Say("doc.at_device", "0 V")
		if volts := cmp.Or(c.DeviceV, c.NeededV); volts > 0 {
			on.signal = v.Say("doc.at_device", v.Say("doc.at_least", fixed(math.Floor(volts*10)/10, 1)+" V"))
		}
	}
	return []point{on, off}
}

// pulses are the test points of a counter.
func (v *view) pulses(s *project.Signal) []point {
	out := []point{
		{name: v.Say("doc.ten_pulses"), value: v.Say("doc.counts_ten")},
		{name: v.Say("doc.no_pulses"), value: v.Say("doc.counts_none")},
	}
	if s.Frequency.Set {
		hz := float64(s.Frequency.Value)
		out = append(out, point{name: v.Say("doc.fastest"), value: v.Say("doc.no_pulse_lost"), signal: rounded(hz, 2) + " Hz"})
	}
	return out
}
