package addressing

import (
	"fmt"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/project"
)

// Located prints the IEC 61131-3 located address of a channel: area 'I' or 'Q', the byte at which
// it begins in the controller's image, its size in bits and, for one bit, its number in the byte.
//
// Convention "byte": the number printed counts bytes (%IW4 is bytes 4 and 5). Convention "word":
// %IW n is bytes 2n and 2n+1, %ID n is bytes 4n to 4n+3, %IX n.b is bit b (0 to 15) of word n.
// Controllers differ in this, so every list prints the convention. Sizes other than 1, 16, 32 and
// 64 bits are printed as the byte at which they begin.
func Located(area byte, at, bit, bits int, convention string) string {
	word := convention == "word"
	switch {
	case bits == 1 && word:
		return fmt.Sprintf("%%%cX%d.%d", area, at/2, at%2*8+bit)
	case bits == 1:
		return fmt.Sprintf("%%%cX%d.%d", area, at, bit)
	case bits == 16 && word:
		return fmt.Sprintf("%%%cW%d", area, at/2)
	case bits == 16:
		return fmt.Sprintf("%%%cW%d", area, at)
	case bits == 32 && word:
		return fmt.Sprintf("%%%cD%d", area, at/4)
	case bits == 32:
		return fmt.Sprintf("%%%cD%d", area, at)
	}
	return fmt.Sprintf("%%%cB%d", area, at)
}

// Position returns where channel i (from 0) of the set begins: the byte counted from the module's
// first, and the bit in it.
func Position(set *hardware.ChannelSet, i int) (at, bit int) {
	if set.Bits == 1 {
		return set.Offset + i/8, i % 8
	}
	return set.Offset + i*set.Bits/8, 0
}

// printAddresses fills the address of every channel of the slot.
func printAddresses(s *design.Slot, list *hardware.List, basis project.AddressBasis) {
	m, ok := list.Module(s.Module)
	if !ok {
		return
	}
	n := 0
	for si := range m.Channels {
		set := &m.Channels[si]
		for i := range set.Count {
			if n >= len(s.Channels) {
				return
			}
			area, first := byte('I'), s.InputByte
			if set.Image == "out" {
				area, first = 'Q', s.OutputByte
			}
			at, bit := Position(set, i)
			s.Channels[n].Address = Located(area, first+at, bit, set.Bits, basis.Convention)
			n++
		}
	}
}

// Registers lists where each placed signal of the stations stands in a Modbus map of its station:
// bits of inputs as discrete inputs, bits of outputs as coils, everything wider as input or holding
// registers (16 bits each), all counted from the station's own first byte and from the basis's base.
func Registers(stations []design.Station, list *hardware.List, basis project.AddressBasis) []design.Register {
	out := []design.Register{}
	for _, st := range stations {
		for _, slot := range st.Slots {
			m, ok := list.Module(slot.Module)
			if !ok {
				continue
			}
			n := 0
			for si := range m.Channels {
				set := &m.Channels[si]
				for i := range set.Count {
					c := slot.Channels[n]
					n++
					if c.Signal != nil {
						out = append(out, register(st, slot, set, i, c.SignalID, basis.ModbusBase))
					}
				}
			}
		}
	}
	return out
}

func register(st design.Station, slot design.Slot, set *hardware.ChannelSet, i int, signal string, base int) design.Register {
	at, bit := Position(set, i)
	r := design.Register{Station: st.ID, Signal: signal, Words: (set.Bits + 15) / 16}
	offset := slot.InputByte - st.FirstInByte
	bits, words := "discrete input", "input register"
	if set.Image == "out" {
		offset = slot.OutputByte - st.FirstOutByte
		bits, words = "coil", "holding register"
	}
	if set.Bits == 1 {
		r.Table, r.Number = bits, base+(offset+at)*8+bit
		return r
	}
	r.Table, r.Number = words, base+(offset+at)/2
	return r
}
