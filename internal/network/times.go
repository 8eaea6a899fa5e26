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
// every station's cyclic frames. RS-485: the cycle of a polled bus. CAN: each station's frames of up to
// eight bytes, each way, at the project's update time. Where the data take more than all of the time, the
// reaction counts what they take. Reaction: from a change at an input to the slowest output of the design, and
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
		t.length()
		t.polled()
	case "can":
		t.length()
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

// length leaves how long a bus is from end to end.
func (t *times) length() {
	var parts []formula.Arg
	for i := range t.v.Design.Network.Segments {
		s := &t.v.Design.Network.Segments[i]
		if laid, ok := t.book.Lookup("cable:" + s.Cable + ".laid"); ok {
			parts = append(parts, figure.Arg(s.Cable, laid.Result.Value, "calc:cable:%s.laid", s.Cable))
		}
	}
	if len(parts) > 0 {
		t.book.Eval("network.length", count.Lengths, parts...)
	}
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
	fullest := ""
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
			load := t.book.Eval("network."+way+"_load", bus.FormulaTotalLoad, loads...)
			if load > t.v.Design.Network.LoadPct {
				t.v.Design.Network.LoadPct, fullest = load, "network."+way+"_load"
			}
		}
	}
	t.kept(fullest)
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

// can adds up the bits of all frames of one update: each station sends its own, each way.
func (t *times) can() {
	t.stated()
	if t.update.Value <= 0 || t.profile.BitRate <= 0 {
		return
	}
	var parts []formula.Arg
	for i := range t.v.Design.Stations {
		st := &t.v.Design.Stations[i]
		for _, way := range []string{"input", "output"} {
			if b, ok := t.bytes(st, way); ok {
				id := fmt.Sprintf("station:%s.%s_bits", st.ID, way)
				parts = append(parts, figure.Arg(st.ID+" "+way, t.book.Eval(id, bus.FormulaCANBits, figure.Arg("", b.Value, "%s", b.From)), "calc:%s", id))
			}
		}
	}
	if len(parts) == 0 {
		return
	}
	bits := figure.Arg("", t.book.Eval("network.bits", count.Bits, parts...), "calc:network.bits")
	t.v.Design.Network.LoadPct = t.book.Eval("network.bus_load", count.BusLoad, bits, figure.Arg("", float64(t.profile.BitRate)/1000, "hardware:%s.bit_rate", t.profile.Code), t.update)
	t.kept("network.bus_load")
}

// kept makes the update time that of a network which its data fill.
func (t *times) kept(load string) {
	if l, ok := t.book.Lookup(load); ok && l.Result.Value > 100 {
		t.update = figure.Arg("", t.book.Eval("network.kept", count.Kept, t.update, figure.Arg("", l.Result.Value, "calc:%s", load)), "calc:network.kept")
	}
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
