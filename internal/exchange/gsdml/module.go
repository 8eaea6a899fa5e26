package gsdml

import (
	"railwright/internal/exchange/device"
	"railwright/internal/exchange/safexml"
	"railwright/internal/finding"
)

// module makes a module entry. Its bytes are those of its submodules one after the other.
func (r *reader) module(m *safexml.Node) {
	known := r.modules[m.Attr["ID"]]
	if known == nil {
		r.d.Report("DEV-007", finding.Info, "", m.Line, "", "module %s is used by no device access point; it is left out", r.nameOf(m))
		return
	}
	subs := m.Child("VirtualSubmoduleList").All("VirtualSubmoduleItem")
	if len(subs) == 0 || len(m.Child("UseableSubmodules").Children) > 0 {
		r.d.Report("DEV-009", finding.Warning, "", m.Line, "Enter it by hand.", "module %s has no submodule of its own, or takes others; it is left out", r.nameOf(m))
		return
	}
	in, out := side{image: "in"}, side{image: "out"}
	for _, s := range subs {
		in.add(s.Path("IOData", "Input").All("DataItem"))
		out.add(s.Path("IOData", "Output").All("DataItem"))
	}
	if bad := in.bad + out.bad; bad != "" {
		r.d.Report("DEV-004", finding.Error, "", m.Line, "Enter the module by hand.", "module %s has a data item of type %q, whose length is not known; it is left out", r.nameOf(m), bad)
		return
	}
	if in.bytes+out.bytes == 0 {
		r.d.Report("DEV-007", finding.Info, "", m.Line, "If it is an infeed module, enter it with infeed = true.", "module %s exchanges no data; it is left out", r.nameOf(m))
		return
	}
	e := r.d.Add("module", r.nameOf(m))
	e.Text("title", r.text(m, "ModuleInfo", "Name"))
	e.List("constructions", known.constructions)
	e.Text("rank", known.rank)
	if in.bytes > 0 {
		e.Int("in_bytes", in.bytes)
	}
	if out.bytes > 0 {
		e.Int("out_bytes", out.bytes)
	}
	for _, s := range []*side{&in, &out} {
		r.channels(e, s, m.Line)
	}
}

// side is one direction of a module.
type side struct {
	image string
	bytes int
	runs  []run
	bad   string // a data type of unknown length
}

// run is a number of like channels one after the other.
type run struct {
	offset, count int
	bits          int // of one channel; 0 = no channel of the hardware list
	kind          string
	data          string // data type
	swapped       bool   // bits of an item of more than one byte
	gaps          bool   // bits that are not named without a gap from 0 on
}

func (s *side) add(items []*safexml.Node) {
	for _, n := range items {
		size, ok := sizes[n.Attr["DataType"]]
		if length, given := whole(n.Attr["Length"]); given && !ok && length <= 1440 { // most user data of one cyclic frame
			size, ok = length, true
		}
		if !ok {
			s.bad = n.Attr["DataType"]
			return
		}
		s.put(s.item(n, size))
		s.bytes += size
	}
}

// item says what channels a data item holds.
func (s *side) item(n *safexml.Node, size int) run {
	t := n.Attr["DataType"]
	x := run{offset: s.bytes, data: t, count: 1}
	digital, analogue := "DI", "AI"
	if s.image == "out" {
		digital, analogue = "DO", "AO"
	}
	if n.Attr["UseAsBits"] == "true" || n.Attr["UseAsBits"] == "1" || t == "Boolean" {
		x.kind, x.bits, x.count, x.swapped = digital, 1, size*8, size > 1 && t != "OctetString"
		if t == "Boolean" {
			x.count = 1
		}
		if bits := n.All("BitDataItem"); len(bits) > 0 {
			x.count = len(bits)
			for _, b := range bits {
				at, ok := whole(b.Attr["BitOffset"])
				x.gaps = x.gaps || !ok || at >= len(bits)
			}
		}
		return x
	}
	switch t {
	case "Integer16", "Unsigned16":
		x.kind, x.bits = analogue, 16
	case "Integer32", "Unsigned32":
		x.bits = 32
	case "Integer8", "Unsigned8":
		x.bits = 8
	}
	return x
}

// put adds a run, or lengthens the last one by a like channel.
func (s *side) put(x run) {
	if n := len(s.runs); n > 0 && x.bits > 0 && s.runs[n-1].data == x.data && s.runs[n-1].bits == x.bits && !s.runs[n-1].gaps && !s.runs[n-1].swapped {
		last := &s.runs[n-1]
		if last.offset*8+last.count*last.bits == x.offset*8 && last.count+x.count <= 256 {
			last.count += x.count
			last.gaps, last.swapped = x.gaps, x.swapped
			return
		}
	}
	s.runs = append(s.runs, x)
}

func (r *reader) channels(e *device.Entry, s *side, line int) {
	for _, x := range s.runs {
		if x.bits == 0 {
			r.d.Report("DEV-006", finding.Warning, e.Code, line, "Enter its channels by hand if signals use them.",
				"byte %d (%s) holds an item of type %s, which is no channel of the hardware list; the bytes are kept free", x.offset, s.image, x.data)
			continue
		}
		c := e.Channel(x.count)
		c.Text("kind", x.kind)
		c.Int("bits", x.bits)
		c.Text("image", s.image)
		if x.offset > 0 {
			c.Int("offset_byte", x.offset)
		}
		if x.kind == "AI" || x.kind == "AO" {
			r.d.Report("DEV-003", finding.Info, e.Code, line, "Correct kind where the module is for thermometers or pulses.", "channels of type %s are taken for %s", x.data, x.kind)
		}
		if x.swapped || x.gaps {
			r.d.Report("DEV-005", finding.Warning, e.Code, line, "Compare the addresses with the device's manual.",
				"the bits of an item of type %s are counted from its last byte, or have gaps; the hardware list counts from the first byte on", x.data)
		}
	}
}
