package network

import (
	"fmt"

	"railwright/internal/calc/bus"
	"railwright/internal/calc/count"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/formula"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

// Figures fills update time, load and reaction times of a finished design and leaves their working.
//
// Ethernet: the update time is the project's; the load is that of the controller's link, which carries
// every station's cyclic frames. RS-485: the cycle of a polled bus. CAN: frames of eight bytes at the
// project's update time. Reaction: from a change at an input to the slowest output of the design, and
// from the slowest digital input to an output. It expects the records of the stations' bytes.
func Figures(v *figure.View, book *formula.Book) {
	p, ok := v.List.Network(v.Design.Network.Profile)
	if !ok || len(v.Design.Stations) == 0 {
		return
	}
	t := times{v: v, book: book, profile: p}
	n := &v.Design.Network
	switch p.Medium {
	case "rs485":
		t.polled()
	case "can":
		t.can()
	default:
		t.ethernet()
	}
	for i := range v.Design.Stations {
		v.Design.Stations[i].UpdateMS = n.UpdateMS
	}
	t.reactions()
}

type times struct {
	v       *figure.View
	book    *formula.Book
	profile *hardware.NetworkProfile
	update  formula.Arg // ms
}

func (t *times) stated() {
	ms := float64(t.v.Project.Network.Update) * 1000
	t.update = figure.Arg("", ms, "project:network.update_ms")
	t.v.Design.Network.UpdateMS = ms
}

func (t *times) bytes(st *design.Station, way string) (formula.Arg, bool) {
	id := fmt.Sprintf("station:%s.%s_bytes", st.ID, way)
	r, ok := t.book.Lookup(id)
	return figure.Arg(st.ID, r.Result.Value, "calc:%s", id), ok
}

// ethernet adds up the cyclic frames on the controller's link, one sum for each direction.
func (t *times) ethernet() {
	t.stated()
	if t.update.Value <= 0 || t.profile.BitRate <= 0 {
		return
	}
	rate := figure.Arg("", float64(t.profile.BitRate)/1e6, "hardware:%s.bit_rate", t.profile.Code)
	for _, way := range []string{"input", "output"} {
		var loads []formula.Arg
		for i := range t.v.Design.Stations {
			st := &t.v.Design.Stations[i]
			b, ok := t.bytes(st, way)
			if !ok {
				continue
			}
			id := fmt.Sprintf("station:%s.%s_load", st.ID, way)
			load := t.book.Eval(id, bus.FormulaLinkLoad, b, figure.Arg("", float64(bus.CyclicOverhead), "cite:iec-61158#type-10-frame"), rate, t.update)
			loads = append(loads, figure.Arg(st.ID, load, "calc:%s", id))
		}
		if len(loads) > 0 {
			t.v.Design.Network.LoadPct = max(t.v.Design.Network.LoadPct, t.book.Eval("network."+way+"_load", bus.FormulaTotalLoad, loads...))
		}
	}
}

// all adds up the bytes of all stations, both ways.
func (t *times) all() (formula.Arg, bool) {
	var parts []formula.Arg
	for i := range t.v.Design.Stations {
		for _, way := range []string{"input", "output"} {
			if b, ok := t.bytes(&t.v.Design.Stations[i], way); ok {
				b.Name += " " + way
				parts = append(parts, b)
			}
		}
	}
	if len(parts) == 0 {
		return formula.Arg{}, false
	}
	return figure.Arg("", t.book.Eval("network.bytes", count.Bytes, parts...), "calc:network.bytes"), true
}

func (t *times) polled() {
	b, ok := t.all()
	if !ok || t.profile.BitRate <= 0 {
		return
	}
	n := figure.Arg("", float64(len(t.v.Design.Stations)), "cite:arithmetic#stations-of-the-design")
	us := t.book.Eval("network.cycle", bus.FormulaPolledCycle, n, b, figure.Arg("", float64(t.profile.BitRate)/1e6, "hardware:%s.bit_rate", t.profile.Code))
	t.v.Design.Network.UpdateMS = us / 1000
	t.update = figure.Arg("", us/1000, "calc:network.cycle")
}

func (t *times) can() {
	t.stated()
	b, ok := t.all()
	if !ok || t.update.Value <= 0 || t.profile.BitRate <= 0 {
		return
	}
	frames := t.book.Eval("network.frames", count.CANFrames, b)
	bits := t.book.Eval("network.frame_bits", bus.FormulaCANFrame, figure.Arg("", 8, "cite:cia-301#pdo"))
	t.v.Design.Network.LoadPct = t.book.Eval("network.bus_load", count.BusLoad, figure.Arg("", frames, "calc:network.frames"), figure.Arg("", bits, "calc:network.frame_bits"),
		figure.Arg("", float64(t.profile.BitRate)/1000, "hardware:%s.bit_rate", t.profile.Code), t.update)
}

// slowest finds the largest figure among the channel sets in use that the test takes.
func (t *times) slowest(takes func(*hardware.ChannelSet) bool, of func(*hardware.ChannelSet) float64, key string) formula.Arg {
	out := figure.Arg("", 0, "cite:common-practice#no-such-module")
	for _, id := range t.v.Placed {
		s := t.v.Seats[id]
		if ms := of(s.Set) * 1000; takes(s.Set) && ms > out.Value {
			out = figure.Arg("", ms, "hardware:%s.%s", s.Module.Code, key)
		}
	}
	return out
}

// reactions leaves one record for each kind of module in each station, and notes it with the signals.
func (t *times) reactions() {
	delay := func(s *hardware.ChannelSet) float64 { return float64(s.OutputDelay) }
	filter := func(s *hardware.ChannelSet) float64 { return float64(s.Filter) }
	lastOut := t.slowest(func(s *hardware.ChannelSet) bool { return s.Kind.Output() }, delay, "output_delay_ms")
	firstIn := t.slowest(func(s *hardware.ChannelSet) bool { return s.Kind == project.DI }, filter, "filter_ms")
	scan := figure.Arg("", float64(t.v.Project.Network.Scan)*1000, "project:network.scan_ms")
	circuits := map[string]*design.Circuit{}
	for i := range t.v.Design.Circuits {
		circuits[t.v.Design.Circuits[i].Signal] = &t.v.Design.Circuits[i]
	}
	for _, id := range t.v.Placed {
		seat := t.v.Seats[id]
		c, ok := t.v.List.Coupler(seat.Station.Coupler)
		if !ok {
			continue
		}
		in, out := firstIn, lastOut
		if seat.Set.Kind.Output() {
			out = figure.Arg("", float64(seat.Set.OutputDelay)*1000, "hardware:%s.output_delay_ms", seat.Module.Code)
		} else {
			in = figure.Arg("", float64(seat.Set.Filter)*1000, "hardware:%s.filter_ms", seat.Module.Code)
		}
		record := figure.ReactionID(seat)
		ms := figure.Eval(t.book, record, bus.FormulaReactionTime, in, figure.Arg("", 0, "cite:common-practice#conversion-in-the-filter"),
			figure.Arg("", float64(c.Cycle)*1000, "hardware:%s.cycle_ms", c.Code), t.update, scan, out)
		if w := circuits[id]; w != nil {
			w.Reaction = ms
		}
	}
}
