package bus

import (
	"errors"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// FormulaPolledCycle gives the cycle of a polled RS-485 fieldbus.
var FormulaPolledCycle = &formula.Formula{
	Name: "bus.polled_cycle",
	Text: "(380 + 300 * stations + 11 * bytes) / bit_rate + 75",
	Inputs: []formula.Input{
		{Name: "stations", Unit: "1"}, {Name: "bytes", Unit: "byte", Doc: "inputs and outputs of all stations"}, {Name: "bit_rate", Unit: "Mbit/s"},
	},
	Result: formula.Input{Name: "cycle", Unit: "us"},
	Source: "iec-61158#type-3-cycle",
	Eval:   func(x []float64) float64 { return (380+300*x[0]+11*x[1])/x[2] + 75 },
}

// PolledCycle returns the time in which one controller has exchanged data with all stations of an RS-485
// fieldbus of IEC 61158 type 3.
//
//	T = (380 + 300 S + 11 B) t_bit + 75 us
//
// Good to 10 % for one controller without retries; 11 bits per byte, 300 bit times of overhead per
// station.
//
// Source: published estimation formula for IEC 61158 type 3.
func PolledCycle(stations, bytes int, bitsPerSecond float64) (quantity.Duration, error) {
	if err := errors.Join(calc.Count("stations", stations, 0, 10_000), calc.Count("bytes", bytes, 0, 10_000_000), calc.Within("bit rate", bitsPerSecond, 300, 100e9, "bit/s")); err != nil {
		return 0, err
	}
	return quantity.Duration(FormulaPolledCycle.Eval([]float64{float64(stations), float64(bytes), bitsPerSecond / 1e6}) / 1e6), nil
}

// FormulaPolledRate gives the bit rate for a wanted cycle.
var FormulaPolledRate = &formula.Formula{
	Name: "bus.polled_rate",
	Text: "(380 + 300 * stations + 11 * bytes) / (cycle - 75)",
	Inputs: []formula.Input{
		{Name: "stations", Unit: "1"}, {Name: "bytes", Unit: "byte", Doc: "inputs and outputs of all stations"}, {Name: "cycle", Unit: "us"},
	},
	Result: formula.Input{Name: "bit_rate", Unit: "Mbit/s", Doc: "at least"},
	Source: "iec-61158#type-3-cycle",
	Eval:   func(x []float64) float64 { return (380 + 300*x[0] + 11*x[1]) / (x[2] - 75) },
}

// FormulaMessage gives the bit times of one message cycle.
var FormulaMessage = &formula.Formula{
	Name: "bus.message_cycle", Text: "overhead + 11 * bytes",
	Inputs: []formula.Input{{Name: "overhead", Unit: "bit", Doc: "300: 33 idle, 2 headers of 99, 32 response delay, 37 idle"}, {Name: "bytes", Unit: "byte", Doc: "both ways"}},
	Result: formula.Input{Name: "time", Unit: "bit"},
	Source: "iec-61158#type-3-message",
	Eval:   func(x []float64) float64 { return x[0] + 11*x[1] },
}

// FormulaSerialFrame gives the time of characters on a serial line.
var FormulaSerialFrame = &formula.Formula{
	Name: "bus.serial_frame", Text: "bytes * bits / bit_rate",
	Inputs: []formula.Input{{Name: "bytes", Unit: "byte"}, {Name: "bits", Unit: "1", Doc: "per character: 11, or 10 without parity"}, {Name: "bit_rate", Unit: "kbit/s"}},
	Result: formula.Input{Name: "time", Unit: "ms"},
	Source: "modbus#serial-line-2.5.1",
	Eval:   func(x []float64) float64 { return x[0] * x[1] / x[2] },
}

// SerialFrame returns how long characters take on a serial line of 11 or 10 bits each.
//
// Source: MODBUS over serial line V1.02 2.5.1.
func SerialFrame(bytes, bitsPerCharacter int, bitsPerSecond float64) (quantity.Duration, error) {
	if err := errors.Join(calc.Count("bytes", bytes, 0, 1_000_000), calc.Count("bits per character", bitsPerCharacter, 7, 12), calc.Within("bit rate", bitsPerSecond, 50, 100e6, "bit/s")); err != nil {
		return 0, err
	}
	return quantity.Duration(float64(bytes) * float64(bitsPerCharacter) / bitsPerSecond), nil
}

// Silence returns the pause that ends a frame on a MODBUS serial line: 3.5 characters of 11 bits up to
// 19200 bit/s, 1.75 ms above.
//
// Source: MODBUS over serial line V1.02 2.5.1.1.
func Silence(bitsPerSecond float64) (quantity.Duration, error) {
	if err := calc.Within("bit rate", bitsPerSecond, 50, 100e6, "bit/s"); err != nil {
		return 0, err
	}
	if bitsPerSecond > 19200 {
		return 0.00175, nil
	}
	return quantity.Duration(3.5 * 11 / bitsPerSecond), nil
}

// SerialPoll is one exchange on a serial line.
type SerialPoll struct {
	Request, Response int               // bytes, checksum included
	Turnaround        quantity.Duration // of the device
}

// SerialCycle returns how long a list of exchanges takes, each with both frames, the device's
// turnaround and the silence after either frame.
//
// Source: MODBUS over serial line V1.02.
func SerialCycle(polls []SerialPoll, bitsPerCharacter int, bitsPerSecond float64) (quantity.Duration, error) {
	pause, err := Silence(bitsPerSecond)
	total, errs := quantity.Duration(0), []error{err}
	for _, p := range polls {
		out, err1 := SerialFrame(p.Request, bitsPerCharacter, bitsPerSecond)
		back, err2 := SerialFrame(p.Response, bitsPerCharacter, bitsPerSecond)
		errs = append(errs, err1, err2, calc.Within("turnaround", p.Turnaround, 0, 60, "s"))
		total += out + back + p.Turnaround + 2*pause
	}
	if err := errors.Join(errs...); err != nil {
		return 0, err
	}
	return total, nil
}

// Limits of the MODBUS application protocol.
//
// Source: MODBUS application protocol V1.1b3 clauses 4.1 and 6.
const (
	MaxReadRegisters  = 125
	MaxWriteRegisters = 123
	MaxReadBits       = 2000
	MaxWriteBits      = 1968
	MaxPDU            = 253
	MaxRTUFrame       = 256
	MaxTCPFrame       = 260
)

// FormulaRequests gives how many requests fetch a block of registers.
var FormulaRequests = &formula.Formula{
	Name: "bus.requests", Text: "ceil(registers / per_request)",
	Inputs: []formula.Input{{Name: "registers", Unit: "1"}, {Name: "per_request", Unit: "1", Doc: "125 to read, 123 to write"}},
	Result: formula.Input{Name: "requests", Unit: "1"},
	Source: "modbus#6",
	Eval:   func(x []float64) float64 { return math.Ceil(x[0] / x[1]) },
}

// Overheads of a frame on the wire besides its payload, in bytes.
//
// Source: IEEE 802.3: preamble 8, addresses and type 14, VLAN tag 4, checksum 4, gap 12; a cyclic
// real-time payload of IEC 61158 type 10 adds 6 of identifier, counter and status.
const (
	WireOverhead    = 8 + 12                      // round a frame: preamble and gap
	FrameOverhead   = 14 + 4                      // in a frame round its payload
	CyclicOverhead  = 8 + 14 + 4 + 2 + 4 + 4 + 12 // 48: everything round the process data of a cyclic frame
	SmallestFrame   = 64
	LargestFrame    = 1518
	SmallestOnWire  = SmallestFrame + WireOverhead
	LargestUntagged = LargestFrame + WireOverhead
)

// FormulaFrameTime gives the time of one Ethernet frame on the wire.
var FormulaFrameTime = &formula.Formula{
	Name: "bus.frame_time", Text: "max(smallest, bytes + overhead) * 8 / bit_rate",
	Inputs: []formula.Input{
		{Name: "smallest", Unit: "byte", Doc: "on the wire, 84"},
		{Name: "bytes", Unit: "byte", Doc: "process data"},
		{Name: "overhead", Unit: "byte", Doc: "everything round them, preamble and gap included; 48 for cyclic data"},
		{Name: "bit_rate", Unit: "Mbit/s"},
	},
	Result: formula.Input{Name: "time", Unit: "us"},
	Source: "ieee-802.3#frame",
	Eval:   func(x []float64) float64 { return math.Max(x[0], x[1]+x[2]) * 8 / x[3] },
}

// FrameTime returns how long a frame with payload bytes and overhead bytes round them (preamble and gap
// included) holds a link of the bit rate; never less than smallest bytes on the wire.
//
// Source: IEEE 802.3.
func FrameTime(payload, overhead, smallest int, bitsPerSecond float64) (quantity.Duration, error) {
	if err := errors.Join(calc.Count("payload", payload, 0, 65535), calc.Count("overhead", overhead, 0, 1000), calc.Count("smallest frame", smallest, 0, 10000), calc.Within("bit rate", bitsPerSecond, 1e6, 1e12, "bit/s")); err != nil {
		return 0, err
	}
	return quantity.Duration(FormulaFrameTime.Eval([]float64{float64(smallest), float64(payload), float64(overhead), bitsPerSecond / 1e6}) / 1e6), nil
}

// FormulaFrameRate gives how many frames a link carries at most.
var FormulaFrameRate = &formula.Formula{
	Name: "bus.frame_rate", Text: "floor(bit_rate * 1000000 / (8 * (frame + 20)))",
	Inputs: []formula.Input{{Name: "bit_rate", Unit: "Mbit/s"}, {Name: "frame", Unit: "byte", Doc: "checksum included, preamble and gap not"}},
	Result: formula.Input{Name: "rate", Unit: "1/s"},
	Source: "rfc-5180#appendix-A",
	Eval:   func(x []float64) float64 { return math.Floor(x[0] * 1e6 / (8 * (x[1] + 20))) },
}

// FormulaLinkLoad gives the load of one device on a link, one direction.
var FormulaLinkLoad = &formula.Formula{
	Name: "bus.link_load", Text: "100 * max(84, bytes + overhead) * 8 / (bit_rate * update * 1000)",
	Inputs: []formula.Input{
		{Name: "bytes", Unit: "byte", Doc: "process data in this direction"},
		{Name: "overhead", Unit: "byte", Doc: "48 for cyclic data"},
		{Name: "bit_rate", Unit: "Mbit/s"},
		{Name: "update", Unit: "ms"},
	},
	Result: formula.Input{Name: "load", Unit: "%"},
	Source: "iec-61158#type-10-load",
	Eval:   func(x []float64) float64 { return 100 * math.Max(84, x[0]+x[1]) * 8 / (x[2] * x[3] * 1000) },
}

// FormulaTotalLoad adds up the devices behind one link.
var FormulaTotalLoad = &formula.Formula{
	Name: "bus.total_load", Text: "sum(load)", Variadic: true,
	Inputs: []formula.Input{{Name: "load", Unit: "%", Doc: "of each device"}},
	Result: formula.Input{Name: "load", Unit: "%", Doc: "below 20 is easy, above 50 is too much (common practice)"},
	Source: "arithmetic#sum",
	Eval: func(x []float64) float64 {
		s := 0.0
		for _, v := range x {
			s += v
		}
		return s
	},
}

// Load limits of a link for cyclic traffic: up to LoadEasy nothing need be done, above LoadHigh the
// load must come down.
//
// Source: common practice, printed in a user guide for cyclic Ethernet.
const (
	LoadEasy = 0.20
	LoadHigh = 0.50
)

// Stream is the cyclic data of one device in one direction.
type Stream struct {
	Bytes  int
	Update quantity.Duration
}

// LinkLoad returns the share of a link that cyclic streams in one direction take.
//
// Source: IEEE 802.3 frame with the overhead of a cyclic frame (48 bytes).
func LinkLoad(streams []Stream, bitsPerSecond float64) (float64, error) {
	total := 0.0
	var errs []error
	for _, s := range streams {
		t, err := FrameTime(s.Bytes, CyclicOverhead, SmallestOnWire, bitsPerSecond)
		errs = append(errs, err, calc.Positive("update time", s.Update, 1000, "s"))
		total += float64(t) / float64(s.Update)
	}
	if err := errors.Join(errs...); err != nil {
		return 0, err
	}
	return total, nil
}

// FormulaUsableBytes gives the process data that fit a frame of summed datagrams.
var FormulaUsableBytes = &formula.Formula{
	Name: "bus.usable_bytes", Text: "frame - ethernet - header - datagrams",
	Inputs: []formula.Input{
		{Name: "frame", Unit: "byte", Doc: "1518"},
		{Name: "ethernet", Unit: "byte", Doc: "18: addresses, type, checksum"},
		{Name: "header", Unit: "byte", Doc: "2"},
		{Name: "datagrams", Unit: "byte", Doc: "12 for each datagram, and what else rides along"},
	},
	Result: formula.Input{Name: "usable", Unit: "byte"},
	Source: "iec-61158#type-12-frame",
	Eval:   func(x []float64) float64 { return x[0] - x[1] - x[2] - x[3] },
}

// FormulaLineDelay gives the delay of devices in a line.
var FormulaLineDelay = &formula.Formula{
	Name: "bus.line_delay", Text: "hops * (frame * 8 / bit_rate + forwarding) + length * 5 / 1000",
	Inputs: []formula.Input{
		{Name: "hops", Unit: "1", Doc: "switches on the way; a device in a line is one"},
		{Name: "frame", Unit: "byte", Doc: "stored before it is sent on"},
		{Name: "bit_rate", Unit: "Mbit/s"},
		{Name: "forwarding", Unit: "us", Doc: "of one switch, 10 where not stated"},
		{Name: "length", Unit: "m", Doc: "of cable, 5 ns/m"},
	},
	Result: formula.Input{Name: "delay", Unit: "us"},
	Source: "common-practice#store-and-forward",
	Eval:   func(x []float64) float64 { return x[0]*(x[1]*8/x[2]+x[3]) + x[4]*5/1000 },
}

// LineDelay returns how long a frame takes through store-and-forward switches in a row.
//
// Source: store and forward; 10 us per switch where not stated and 5 ns/m are common practice.
func LineDelay(hops, frame int, bitsPerSecond float64, forwarding quantity.Duration, l quantity.Length) (quantity.Duration, error) {
	if err := errors.Join(calc.Count("hops", hops, 0, 10_000), calc.Count("frame", frame, 0, 65535), calc.Within("bit rate", bitsPerSecond, 1e6, 1e12, "bit/s"),
		calc.Within("forwarding time", forwarding, 0, 1, "s"), calc.Length("cable length", l)); err != nil {
		return 0, err
	}
	return quantity.Duration(FormulaLineDelay.Eval([]float64{float64(hops), float64(frame), bitsPerSecond / 1e6, float64(forwarding) * 1e6, float64(l)}) / 1e6), nil
}

// FormulaCANFrame gives the bits of a CAN frame with 11-bit identifier, worst stuffing.
var FormulaCANFrame = &formula.Formula{
	Name: "bus.can_frame", Text: "47 + 8 * bytes + floor((33 + 8 * bytes) / 4)",
	Inputs: []formula.Input{{Name: "bytes", Unit: "byte", Doc: "data, 0 to 8"}},
	Result: formula.Input{Name: "bits", Unit: "bit", Doc: "gap of 3 included"},
	Source: "from-memory#iso-11898-worst-stuffing",
	Eval:   func(x []float64) float64 { return 47 + 8*x[0] + math.Floor((33+8*x[0])/4) },
}

// FormulaCANBits gives the bits of the frames that carry a number of bytes of one station one way: full
// frames of eight bytes and one with the rest. Frames are never shared between stations or ways.
var FormulaCANBits = &formula.Formula{
	Name:   "bus.can_bits",
	Text:   "135 * floor(bytes / 8) + min(1, bytes - 8 * floor(bytes / 8)) * (47 + 8 * (bytes - 8 * floor(bytes / 8)) + floor((33 + 8 * (bytes - 8 * floor(bytes / 8))) / 4))",
	Inputs: []formula.Input{{Name: "bytes", Unit: "byte", Doc: "of one station, one way"}},
	Result: formula.Input{Name: "bits", Unit: "bit", Doc: "worst stuffing, gaps included"},
	Source: "from-memory#iso-11898-worst-stuffing",
	Eval: func(x []float64) float64 {
		full := math.Floor(x[0] / 8)
		rest := x[0] - 8*full
		return 135*full + math.Min(1, rest)*FormulaCANFrame.Eval([]float64{rest})
	},
}

// Frame is a cyclic CAN frame.
type Frame struct {
	Bytes  int
	Update quantity.Duration
}

// CANLoad returns the share of a CAN bus that cyclic frames take at worst stuffing. Keep it below 0.3
// to 0.5 (common practice): above it the low priorities wait long.
//
// Source: ISO 11898 frame format with worst bit stuffing, from memory.
func CANLoad(frames []Frame, bitsPerSecond float64) (float64, error) {
	errs := []error{calc.Within("bit rate", bitsPerSecond, 1e3, 1e6, "bit/s")}
	total := 0.0
	for _, f := range frames {
		errs = append(errs, calc.Count("data bytes", f.Bytes, 0, 8), calc.Positive("update time", f.Update, 1000, "s"))
		total += FormulaCANFrame.Eval([]float64{float64(f.Bytes)}) / bitsPerSecond / float64(f.Update)
	}
	if err := errors.Join(errs...); err != nil {
		return 0, err
	}
	return total, nil
}

// FormulaReactionTime gives the worst case from a change in the field to the answer in the field.
var FormulaReactionTime = &formula.Formula{
	Name: "bus.reaction_time",
	Text: "input_filter + input_module + 2 * station_cycle + 2 * update + 2 * scan + output_delay",
	Inputs: []formula.Input{
		{Name: "input_filter", Unit: "ms"},
		{Name: "input_module", Unit: "ms", Doc: "conversion or refresh of the module"},
		{Name: "station_cycle", Unit: "ms", Doc: "coupler to modules"},
		{Name: "update", Unit: "ms", Doc: "network"},
		{Name: "scan", Unit: "ms", Doc: "controller"},
		{Name: "output_delay", Unit: "ms", Doc: "module and device"},
	},
	Result: formula.Input{Name: "reaction", Unit: "ms", Doc: "worst case"},
	Source: "common-practice#reaction-time",
	Eval:   func(x []float64) float64 { return x[0] + x[1] + 2*x[2] + 2*x[3] + 2*x[4] + x[5] },
}

// Path is the way of a signal from field to field.
type Path struct {
	InputFilter, InputModule, StationCycle, Update, Scan, OutputDelay quantity.Duration
}

// ReactionTime returns the worst case from a change at an input to the answer at an output: every cycle
// just missed once.
//
//	t = t_filter + t_module + 2 t_station + 2 t_update + 2 t_scan + t_output
//
// Source: common practice.
func ReactionTime(p Path) (quantity.Duration, error) {
	const longest = 3600
	if err := errors.Join(calc.Within("input filter", p.InputFilter, 0, longest, "s"), calc.Within("input module", p.InputModule, 0, longest, "s"), calc.Within("station cycle", p.StationCycle, 0, longest, "s"),
		calc.Within("update time", p.Update, 0, longest, "s"), calc.Within("scan time", p.Scan, 0, longest, "s"), calc.Within("output delay", p.OutputDelay, 0, longest, "s")); err != nil {
		return 0, err
	}
	return p.InputFilter + p.InputModule + 2*p.StationCycle + 2*p.Update + 2*p.Scan + p.OutputDelay, nil
}

// FormulaFibreMargin gives what is left of a fibre link's optical power.
var FormulaFibreMargin = &formula.Formula{
	Name: "bus.fibre_margin", Text: "power - sensitivity - length / 1000 * loss - connectors * per_connector - splices * per_splice",
	Inputs: []formula.Input{
		{Name: "power", Unit: "dBm", Doc: "lowest of the transmitter"},
		{Name: "sensitivity", Unit: "dBm", Doc: "of the receiver"},
		{Name: "length", Unit: "m"},
		{Name: "loss", Unit: "dB/km"},
		{Name: "connectors", Unit: "1"},
		{Name: "per_connector", Unit: "dB", Doc: "0.75 at most"},
		{Name: "splices", Unit: "1"},
		{Name: "per_splice", Unit: "dB", Doc: "0.3 at most"},
	},
	Result: formula.Input{Name: "margin", Unit: "dB", Doc: "keep 3 dB for ageing and repair"},
	Source: "iso-iec-11801#optical-loss",
	Eval: func(x []float64) float64 {
		return x[0] - x[1] - x[2]/1000*x[3] - x[4]*x[5] - x[6]*x[7]
	},
}

// Formulas returns the formulas that this package declares, in the order of the handbook.
func Formulas() []*formula.Formula {
	return []*formula.Formula{
		FormulaPolledCycle, FormulaPolledRate, FormulaMessage, FormulaSerialFrame, FormulaRequests,
		FormulaFrameTime, FormulaFrameRate, FormulaLinkLoad, FormulaTotalLoad, FormulaUsableBytes,
		FormulaLineDelay, FormulaCANFrame, FormulaCANBits, FormulaReactionTime, FormulaFibreMargin,
	}
}
