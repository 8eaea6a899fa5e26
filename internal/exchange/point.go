package exchange

import (
	"cmp"
	"maps"
	"slices"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

// Point is one channel as the controller sees it: a located variable. A channel that is both read and
// written (serial interfaces) is two points, the second with Back set.
type Point struct {
	ID, Tag, Description string // "" for a spare channel
	Kind                 project.Kind
	Form, Contact, Unit  string
	SafeState, Equipment string
	Device, Place, Hold  string

	Station   string
	Slot      int    // from 1
	Module    string // code
	Channel   int    // as printed
	Terminals string // "signal=11, supply+=12", in order of function

	Area    byte   // 'I' or 'Q'
	Address string // located, as the basis counts
	Span    Span   // the same as bits of the area
	Type    string // IEC 61131-3: BOOL, BYTE, INT, UINT, WORD, DINT, UDINT, DWORD
	Scale   Scale

	Register *design.Register // place in the station's Modbus map; nil where it has none
	Node     design.NodeAddress

	Spare bool
	Back  bool // the controller's side of a channel that is read and written
}

// Points lists the channels of the design by station, slot, channel and direction; spare ones only where
// asked for. Signals that the project does not hold (an older list) keep tag, kind and address.
func Points(d *design.Design, p *project.Project, list *hardware.List, spares bool) []Point {
	s := survey{signals: map[string]*project.Signal{}, registers: map[string]*design.Register{}, nodes: map[string]design.NodeAddress{}, convention: d.Project.Convention}
	for i := range p.Signals {
		s.signals[p.Signals[i].ID] = &p.Signals[i]
	}
	for i := range d.Network.Registers {
		r := &d.Network.Registers[i]
		s.registers[r.Signal] = r
	}
	for _, n := range d.Network.Addresses {
		s.nodes[n.Station] = n
	}
	stations := slices.Clone(d.Stations)
	slices.SortFunc(stations, func(a, b design.Station) int { return cmp.Compare(a.ID, b.ID) })
	var out []Point
	for _, st := range stations {
		for _, slot := range st.Slots {
			m, ok := list.Module(slot.Module)
			if !ok {
				continue
			}
			out = append(out, s.slot(st.ID, slot, m, spares)...)
		}
	}
	return out
}

type survey struct {
	signals    map[string]*project.Signal
	registers  map[string]*design.Register
	nodes      map[string]design.NodeAddress
	convention string
}

func (s *survey) slot(station string, slot design.Slot, m *hardware.Module, spares bool) []Point {
	var out []Point
	n := 0
	for si := range m.Channels {
		set := &m.Channels[si]
		for i := range set.Count {
			if n >= len(slot.Channels) {
				return out
			}
			c := slot.Channels[n]
			n++
			if c.Signal == nil && !spares {
				continue
			}
			p := s.point(station, slot, set, i, c)
			out = append(out, p)
			if set.Image == "both" {
				out = append(out, s.back(p, slot, set, i))
			}
		}
	}
	return out
}

func (s *survey) point(station string, slot design.Slot, set *hardware.ChannelSet, i int, c design.Channel) Point {
	p := Point{
		ID: c.SignalID, Kind: set.Kind, Station: station, Slot: slot.Slot, Module: slot.Module, Channel: c.Channel,
		Terminals: terminals(c.Terminals), Area: 'I', Address: c.Address, Node: s.nodes[station], Spare: c.Signal == nil,
	}
	first := slot.InputByte
	if set.Image == "out" {
		p.Area, first = 'Q', slot.OutputByte
	}
	p.Span = spanOf(set, first, i)
	p.Type = typeOf(set)
	if p.Spare {
		return p
	}
	p.Tag = *c.Signal
	if set.Image != "out" || set.Bits > 0 {
		p.Register = s.registers[c.SignalID]
	}
	if sig := s.signals[c.SignalID]; sig != nil {
		p.Description, p.Form, p.Contact, p.Unit, p.SafeState = sig.Description, sig.Form, sig.Contact, sig.Unit, sig.SafeState
		p.Equipment, p.Device, p.Place, p.Hold = sig.Equipment, sig.Device, sig.Place, sig.Hold
		p.Scale = scaleOf(set, sig)
	} else {
		p.Scale.Why = NoSignal
	}
	return p
}

// back is the output side of a channel that the controller reads and writes.
func (s *survey) back(p Point, slot design.Slot, set *hardware.ChannelSet, i int) Point {
	p.Back, p.Area, p.Register = true, 'Q', nil
	p.Span = spanOf(set, slot.OutputByte, i)
	p.Address = Print('Q', p.Span, s.convention)
	return p
}

func terminals(m map[string]string) string {
	out := ""
	for _, f := range slices.Sorted(maps.Keys(m)) {
		if out != "" {
			out += ", "
		}
		out += f + "=" + m[f]
	}
	return out
}

// typeOf names the IEC 61131-3 elementary type of a channel: signed for analogue values, unsigned for
// counts, bit strings for serial data, BOOL for one bit.
func typeOf(set *hardware.ChannelSet) string {
	signed := set.Kind.Analogue()
	switch {
	case set.Bits == 1:
		return "BOOL"
	case set.Kind == project.CNT && set.Bits == 16:
		return "UINT"
	case set.Kind == project.CNT && set.Bits == 32:
		return "UDINT"
	case signed && set.Bits == 16:
		return "INT"
	case signed && set.Bits == 32:
		return "DINT"
	case signed && set.Bits == 8:
		return "SINT"
	case set.Bits == 16:
		return "WORD"
	case set.Bits == 32:
		return "DWORD"
	}
	return "BYTE"
}
