package extest

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"

	"railwright/internal/design"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// World is a design with the project and hardware list it was made from.
type World struct {
	Design   *design.Design
	Project  *project.Project
	Hardware *hardware.List
}

// nasty are tags that lists really hold and compilers refuse.
var nasty = []string{
	"FT-101", "FT_101", "ft 101", "101-FT-1", "Rührwerk", "Ruehrwerk", "Ventil--offen", "LS__2", "LS_2_", "_LS_2", "IF", "end_var", "INT_TO_REAL",
	"Limit", "T", "ton", "=A1+B2-K3", "P&ID/7", "Ω-9", "\"quoted\"", "(* open", "close *)", "a|b", "<U+00FC>", "<&>", "é", "e", "RW_IO", "RAW",
	"FT-101_VALUE", "x,y;z", "\tTab", "line\nbreak", "ünïcödé", "漢字", "-", "..", "rw_scale_int",
}

// Tag draws a tag: one of the nasty ones or anything.
func Tag() *rapid.Generator[string] {
	return rapid.OneOf(rapid.SampledFrom(nasty), rapid.StringMatching(`[A-Z0-9]{1,4}[-_ .+=/]{0,2}[A-Za-z0-9]{0,4}`), rapid.StringN(1, 12, 40))
}

// sound drops the characters that XML 1.0 cannot hold.
func sound(r rune) rune {
	if r < 0x20 && r != '\n' && r != '\t' || r == 0xfffe || r == 0xffff || r == 0xfffd {
		return -1
	}
	return r
}

// kit is what the modules of random designs are made of.
var kit = []hardware.Module{
	{Code: "ai4", In: 8, Channels: []hardware.ChannelSet{{Kind: project.AI, Count: 4, Step: 1, Bits: 16, Image: "in", RawHigh: 30000}}},
	{Code: "ai2-unstated", In: 4, Channels: []hardware.ChannelSet{{Kind: project.AI, Count: 2, Step: 1, Bits: 16, Image: "in"}}},
	{Code: "ao2", Out: 4, Channels: []hardware.ChannelSet{{Kind: project.AO, Count: 2, Step: 1, Bits: 16, Image: "out", RawHigh: 30000}}},
	{Code: "ao1-wide", Out: 4, Channels: []hardware.ChannelSet{{Kind: project.AO, Count: 1, Step: 1, Bits: 32, Image: "out", RawHigh: 1 << 20}}},
	{Code: "cnt2", In: 8, Out: 2, Channels: []hardware.ChannelSet{{Kind: project.CNT, Count: 2, Step: 1, Bits: 32, Image: "in"}}},
	{Code: "di8", In: 1, Channels: []hardware.ChannelSet{{Kind: project.DI, Count: 8, Step: 1, Bits: 1, Image: "in"}}},
	{Code: "do8", Out: 1, Channels: []hardware.ChannelSet{{Kind: project.DO, Count: 8, Step: 1, Bits: 1, Image: "out"}}},
	{Code: "rtd4", In: 8, Channels: []hardware.ChannelSet{{Kind: project.RTD, Count: 4, Step: 1, Bits: 16, Image: "in", RawStep: 0.1}}},
	{Code: "ser1", In: 24, Out: 24, Channels: []hardware.ChannelSet{{Kind: project.SER, Count: 1, Step: 1, Bits: 16, Image: "both"}}},
}

// Draw makes a random design: stations of random modules whose channels carry signals of random tags, addressed
// from byte 0 on without gaps (words aligned), in either convention. print writes one address.
func Draw(t *rapid.T, print func(area byte, from, bits int, convention string) string) World {
	list := &hardware.List{Modules: kit}
	list.Sort()
	w := World{Design: &design.Design{Format: design.Format}, Project: &project.Project{Network: project.Network{Scan: 0.02}}, Hardware: list}
	convention := rapid.SampledFrom([]string{"byte", "word"}).Draw(t, "convention")
	w.Design.Project = design.Stated{Name: "drawn", Controller: "K1", Revision: "A", Convention: convention}
	seen := map[string]bool{}
	in, out := 0, 0
	for i := range rapid.IntRange(1, 3).Draw(t, "stations") {
		st := design.Station{ID: fmt.Sprintf("S%d", i+1)}
		for j := range rapid.IntRange(1, 5).Draw(t, "slots") {
			m := rapid.SampledFrom(kit).Draw(t, "module")
			in, out = (in+3)/4*4, (out+3)/4*4
			slot := design.Slot{Slot: j + 1, Module: m.Code, InputByte: in, InputBytes: m.In, OutputByte: out, OutputBytes: m.Out}
			set := m.Channels[0]
			for n := range set.Count {
				slot.Channels = append(slot.Channels, w.channel(t, &set, slot, n, seen, convention, print))
			}
			in, out = in+m.In, out+m.Out
			st.Slots = append(st.Slots, slot)
		}
		w.Design.Stations = append(w.Design.Stations, st)
	}
	return w
}

func (w *World) channel(t *rapid.T, set *hardware.ChannelSet, slot design.Slot, n int, seen map[string]bool, convention string, print func(byte, int, int, string) string) design.Channel {
	area, first := byte('I'), slot.InputByte
	if set.Image == "out" {
		area, first = 'Q', slot.OutputByte
	}
	c := design.Channel{Channel: n, Kind: string(set.Kind), Terminals: map[string]string{"signal": fmt.Sprint(n)}, Address: print(area, first*8+n*set.Bits, set.Bits, convention)}
	tag := strings.TrimSpace(strings.Map(sound, Tag().Draw(t, "tag"))) // as the list is read
	if tag == "" || seen[tag] || rapid.IntRange(0, 3).Draw(t, "spare") == 0 {
		return c
	}
	seen[tag] = true
	id := fmt.Sprintf("s%d", len(seen))
	c.Signal, c.SignalID = &tag, id
	s := project.Signal{ID: id, Tag: tag, Kind: set.Kind, Description: rapid.SampledFrom([]string{"", "level (* high *)", "Füllstand", "a | b"}).Draw(t, "text")}
	if set.Kind == project.AI || set.Kind == project.AO {
		s.Form = rapid.SampledFrom([]string{"4-20ma", "0-10v", "10v-bipolar"}).Draw(t, "form")
		if rapid.Bool().Draw(t, "ranged") {
			low := float64(rapid.IntRange(-1000, 1000).Draw(t, "low")) / 8
			s.RangeLow, s.RangeHigh = q.Some(low), q.Some(low+float64(rapid.IntRange(1, 9999).Draw(t, "width"))/16)
		}
		s.SafeState = rapid.SampledFrom([]string{"", "hold", "0", "1.5", "-3"}).Draw(t, "safe")
	}
	w.Project.Signals = append(w.Project.Signals, s)
	return c
}
