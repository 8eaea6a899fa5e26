package addressing

import (
	"fmt"
	"slices"

	"railwright/internal/design"
	"railwright/internal/finding"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Kept holds first bytes that are fixed, by station id.
type Kept struct {
	In, Out map[string]int
}

// Assign fills the byte and address fields of the stations, which it takes in order of id. It
// returns an error finding for each fixed start that cannot hold (two stations overlap).
func Assign(stations []*design.Station, list *hardware.List, basis project.AddressBasis, kept Kept) finding.List {
	ordered := slices.Clone(stations)
	slices.SortFunc(ordered, func(a, b *design.Station) int { return compare(a.ID, b.ID) })
	var found finding.List
	for _, side := range []side{inputs(basis, kept), outputs(basis, kept)} {
		found = append(found, side.assign(ordered, list)...)
	}
	for _, s := range ordered {
		for i := range s.Slots {
			printAddresses(&s.Slots[i], list, basis)
		}
	}
	return found
}

func compare(a, b string) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// side is one half of the process image: inputs or outputs.
type side struct {
	name    string
	first   int
	align   int
	reserve int64
	word    bool
	kept    map[string]int
	header  func(*hardware.Coupler) int
	bytes   func(*hardware.Module) int
	station func(s *design.Station, first, size int)
	slot    func(s *design.Slot, first, size int)
}

func inputs(b project.AddressBasis, kept Kept) side {
	return side{
		"input", b.FirstIn, max(b.Align, 1), b.Reserve, b.Convention == "word", kept.In,
		func(c *hardware.Coupler) int { return c.HeaderIn },
		func(m *hardware.Module) int { return m.In },
		func(s *design.Station, first, size int) { s.FirstInByte, s.InputBytes = first, size },
		func(s *design.Slot, first, size int) { s.InputByte, s.InputBytes = first, size },
	}
}

func outputs(b project.AddressBasis, kept Kept) side {
	return side{
		"output", b.FirstOut, max(b.Align, 1), b.Reserve, b.Convention == "word", kept.Out,
		func(c *hardware.Coupler) int { return c.HeaderOut },
		func(m *hardware.Module) int { return m.Out },
		func(s *design.Station, first, size int) { s.FirstOutByte, s.OutputBytes = first, size },
		func(s *design.Slot, first, size int) { s.OutputByte, s.OutputBytes = first, size },
	}
}

// span is a run of bytes that a fixed station takes.
type span struct {
	id         string
	from, past int // first byte, first byte behind
	next       int // where the next station may begin
}

func (d side) assign(stations []*design.Station, list *hardware.List) finding.List {
	var taken []span
	var found finding.List
	for _, s := range stations {
		first, ok := d.kept[s.ID]
		if !ok {
			continue
		}
		now := d.lay(s, list, first)
		for _, other := range taken {
			if now.from < other.past && other.from < now.past {
				found = append(found, d.overlap(now, other))
			}
		}
		taken = append(taken, now)
	}
	at := d.first
	for _, s := range stations {
		if _, ok := d.kept[s.ID]; ok {
			continue
		}
		at = d.fit(s, list, at, taken).next
	}
	return found
}

// fit lays the station at the first allowed byte from at on that keeps clear of what is taken.
func (d side) fit(s *design.Station, list *hardware.List, at int, taken []span) span {
	for {
		at = alignUp(at, d.align)
		now := d.lay(s, list, at)
		clear := true
		for _, other := range taken {
			if now.from < other.past && other.from < now.past {
				at, clear = max(at+1, other.next), false
				break
			}
		}
		if clear {
			return now
		}
	}
}

// lay gives the station's slots their bytes, counted from first.
func (d side) lay(s *design.Station, list *hardware.List, first int) span {
	at := first
	if c, ok := list.Coupler(s.Coupler); ok {
		at += d.header(c)
	}
	for i := range s.Slots {
		m, ok := list.Module(s.Slots[i].Module)
		if !ok {
			continue
		}
		size := d.bytes(m)
		if size == 0 {
			d.slot(&s.Slots[i], at, 0)
			continue
		}
		if d.word {
			at = alignUp(at, widest(m))
		}
		d.slot(&s.Slots[i], at, size)
		at += size
	}
	size := at - first
	d.station(s, first, size)
	return span{s.ID, first, at, at + int(q.CeilDiv(int64(size)*d.reserve, 1000))}
}

func (d side) overlap(a, b span) finding.Finding {
	return finding.Finding{
		Rule: "ADR-001", Severity: finding.Error, Subject: "station:" + a.id,
		Message: fmt.Sprintf("%s bytes %d to %d overlap station %s, bytes %d to %d, and both first bytes are fixed.",
			d.name, a.from, a.past-1, b.id, b.from, b.past-1),
		Remedy: finding.Remedy{
			Text:   fmt.Sprintf("Begin at byte %d or later, or release one of the two.", b.next),
			Change: []finding.Change{{Subject: "station:" + a.id, Property: d.name + "_byte", Value: fmt.Sprint(b.next)}},
		},
		Source: "arithmetic",
	}
}

// widest returns how many bytes the module's widest channel takes in the word convention: 1, 2 or 4.
func widest(m *hardware.Module) int {
	w := 1
	for _, set := range m.Channels {
		switch {
		case set.Bits >= 32:
			w = max(w, 4)
		case set.Bits >= 16:
			w = max(w, 2)
		}
	}
	return w
}

func alignUp(v, to int) int { return (v + to - 1) / to * to }
