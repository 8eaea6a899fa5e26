package checker

import (
	"fmt"
	"slices"
	"strconv"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// image is one of the two process images.
type image struct {
	name   string // "input" or "output"
	output bool
}

// addressLaw recomputes section 8: bytes of stations and slots, addresses of channels, no overlap.
func addressLaw(r *run) {
	same(r, "ADDR", "design", "address_convention", r.d.Project.Convention, r.p.Basis.Address.Convention)
	for _, im := range []image{{"input", false}, {"output", true}} {
		r.stationBytes(im)
		r.overlaps(im)
	}
	seen := map[string]string{}
	for _, st := range r.stations {
		for _, sl := range st.slots {
			for _, ch := range sl.channels {
				r.channelAddress(st, sl, ch)
				if ch.Address == "" {
					continue
				}
				where := fmt.Sprintf("%s slot %d channel %d", st.ID, sl.Slot, ch.Channel)
				if other, twice := seen[ch.Address]; twice {
					r.bad("ADDR", st.subject, "each address once", "%s at %s and %s", ch.Address, other, where)
				}
				seen[ch.Address] = where
			}
		}
	}
}

func (im image) of(st *station) (first *int, bytes, header int) {
	first, bytes = st.FirstIn, st.InputBytes
	if im.output {
		first, bytes = st.FirstOut, st.OutputBytes
	}
	if st.coupler != nil {
		header = st.coupler.HeaderIn
		if im.output {
			header = st.coupler.HeaderOut
		}
	}
	return first, bytes, header
}

func (im image) slot(sl *slot) (first, bytes int) {
	if im.output {
		return sl.OutputByte, sl.OutputBytes
	}
	return sl.InputByte, sl.InputBytes
}

func (im image) module(m *hardware.Module) int {
	if im.output {
		return m.Out
	}
	return m.In
}

// begins is where a slot of the module may begin, at or behind byte at.
func (r *run) begins(im image, m *hardware.Module, at int) int {
	if r.p.Basis.Address.Convention != "word" {
		return at
	}
	multiple := 1
	for _, c := range m.Channels {
		if im.output == (c.Image == "out") || c.Image == "both" {
			multiple = max(multiple, map[int]int{16: 2, 32: 4}[c.Bits])
		}
	}
	return upTo(at, multiple)
}

func upTo(at, multiple int) int {
	if multiple <= 1 {
		return at
	}
	return (at + multiple - 1) / multiple * multiple
}

// stationBytes walks the stations in order of id.
func (r *run) stationBytes(im image) {
	b := r.p.Basis.Address
	list := slices.Clone(r.stations)
	slices.SortFunc(list, func(x, y *station) int {
		if x.ID < y.ID {
			return -1
		}
		return 1
	})
	next := b.FirstIn
	if im.output {
		next = b.FirstOut
	}
	byHand := r.fixedBytes(im)
	for i, st := range list {
		first, bytes, header := im.of(st)
		if i > 0 {
			next = upTo(next, b.Align)
		}
		begin := next
		if first != nil {
			if *first != begin && !byHand {
				r.bad("ADDR", st.subject, fmt.Sprintf("first %s byte %d", im.name, begin), "%d", *first)
			}
			begin = *first
		}
		at := begin + header
		for _, sl := range st.slots {
			if sl.module == nil {
				continue
			}
			n := im.module(sl.module)
			have, haveBytes := im.slot(sl)
			same(r, "ADDR", st.subject, fmt.Sprintf("slot %d %s_bytes", sl.Slot, im.name), haveBytes, n)
			if n == 0 {
				continue
			}
			at = r.begins(im, sl.module, at)
			same(r, "ADDR", st.subject, fmt.Sprintf("slot %d %s_byte", sl.Slot, im.name), have, at)
			at += n
		}
		same(r, "ADDR", st.subject, im.name+"_bytes", bytes, at-begin)
		next = at + (int(b.Reserve)*(at-begin)+999)/1000
	}
}

// fixedBytes reports whether a decision fixes some station's first byte: the others then go round
// it, and only overlaps and the decision itself are checked.
func (r *run) fixedBytes(im image) bool {
	for _, st := range r.stations {
		if len(r.decisions(st.subject, im.name+"_byte")) > 0 {
			return true
		}
	}
	for _, x := range r.sigs {
		if len(r.decisions("signal:"+x.ID, "address")) > 0 {
			return true
		}
	}
	return false
}

// overlaps checks that no byte belongs to two slots.
func (r *run) overlaps(im image) {
	owner := map[int]string{}
	ranges := map[int]string{}
	for _, st := range r.stations {
		if first, bytes, _ := im.of(st); first != nil {
			for b := *first; b < *first+min(bytes, 65536); b++ {
				if o := ranges[b]; o != "" && o != st.ID {
					r.bad("ADDR", st.subject, "no byte twice", "%s byte %d in %s and %s", im.name, b, o, st.ID)
					break
				}
				ranges[b] = st.ID
			}
		}
		for _, sl := range st.slots {
			first, bytes := im.slot(sl)
			where := fmt.Sprintf("%s slot %d", st.ID, sl.Slot)
			for b := first; b < first+min(bytes, 4096); b++ {
				if o := owner[b]; o != "" {
					r.bad("ADDR", st.subject, "no byte twice", "%s byte %d in %s and %s", im.name, b, o, where)
					break
				}
				owner[b] = where
			}
		}
	}
}

// channelAddress recomputes the located address of a channel from its slot's first byte.
//
// Source: names of located variables as in IEC 61131-3 (from memory), numbering as the basis says.
func (r *run) channelAddress(st *station, sl *slot, ch *channel) {
	if ch.Address == "" && ch.SignalID == "" {
		return // a spare channel may go without
	}
	want := address(r.p.Basis.Address, sl, ch.set, ch.index)
	if ch.Address != want {
		r.bad("ADDR", st.subject, want, "slot %d channel %d has %q", sl.Slot, ch.Channel, ch.Address)
	}
}

func address(b project.AddressBasis, sl *slot, set *hardware.ChannelSet, i int) string {
	area, first := "I", sl.InputByte
	if set.Image == "out" {
		area, first = "Q", sl.OutputByte
	}
	word := b.Convention == "word"
	if set.Bits == 1 {
		at, bit := first+set.Offset+i/8, i%8
		if word {
			at, bit = at/2, at%2*8+bit
		}
		return "%" + area + "X" + strconv.Itoa(at) + "." + strconv.Itoa(bit)
	}
	at := first + set.Offset + i*set.Bits/8
	letter := map[int]string{8: "B", 16: "W", 32: "D"}[set.Bits]
	if word {
		at /= max(1, set.Bits/8)
	}
	return "%" + area + letter + strconv.Itoa(at)
}
