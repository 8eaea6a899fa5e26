package drawing

import (
	"strings"

	"railwright/internal/design"
	"railwright/internal/hardware"
)

// rackPart is one piece on the rail, from left to right: the coupler, a slot, the end piece.
type rackPart struct {
	from, width float64      // mm on the rail
	slot        *design.Slot // nil: coupler or end piece
	code        string       // of coupler, module or end piece
	end         bool
	known       bool // the hardware list states the width
}

// rack is a station as it stands on its rail.
type rack struct {
	station *design.Station
	parts   []rackPart
	length  float64 // mm: the sum of the parts
}

// usualWidth stands in for a part that the hardware list does not know, mm.
const usualWidth = 15

// rackOf lays a station's parts side by side.
func (b *book) rackOf(st *design.Station) *rack {
	r := &rack{station: st}
	c, ok := b.List.Coupler(st.Coupler)
	w := 0.0
	if ok {
		w = float64(c.Width)
	}
	r.add(rackPart{code: st.Coupler, width: w})
	for i := range st.Slots {
		s := &st.Slots[i]
		r.add(rackPart{slot: s, code: s.Module, width: b.slotWidth(s)})
	}
	if st.EndPiece != "" {
		w := 0.0
		if e, ok := b.List.Part(st.EndPiece); ok {
			w = float64(e.Width)
		}
		r.add(rackPart{code: st.EndPiece, end: true, width: w})
	}
	return r
}

func (r *rack) add(p rackPart) {
	p.from, p.known = r.length, p.width > 0
	if !p.known {
		p.width = usualWidth
	}
	r.length += p.width
	r.parts = append(r.parts, p)
}

// slotWidth is the wider of module and base, mm; 0 where the list knows neither.
func (b *book) slotWidth(s *design.Slot) float64 {
	w := 0.0
	if m, ok := b.List.Module(s.Module); ok {
		w = float64(m.Width)
	}
	if base, ok := b.List.Base(s.Base); ok {
		w = max(w, float64(base.Width))
	}
	return w
}

// infeedOf says where a group's supply wires enter: a slot's number, or 0 and true for the coupler.
func infeedOf(g *design.SupplyGroup) (slot int, coupler bool) {
	switch at := g.InfeedAt.(type) {
	case int:
		return at, false
	case int64:
		return int(at), false
	case float64:
		return int(at), false
	}
	return 0, true
}

// groupAt returns the group that a slot belongs to.
func groupAt(st *design.Station, slot int) *design.SupplyGroup {
	for i := range st.SupplyGroups {
		if g := &st.SupplyGroups[i]; slot >= g.FirstSlot && slot <= g.LastSlot {
			return g
		}
	}
	return nil
}

// used counts the channels of a slot that carry a signal, and all.
func used(s *design.Slot) (n, all int) {
	for i := range s.Channels {
		if s.Channels[i].Signal != nil {
			n++
		}
	}
	return n, len(s.Channels)
}

// infeedModule reports whether a slot holds an infeed module.
func infeedModule(list *hardware.List, s *design.Slot) bool {
	m, ok := list.Module(s.Module)
	return ok && m.Infeed
}

// supplyWords prints a group's class: "24 V DC normal, analogue".
func supplyWords(g *design.SupplyGroup) string {
	words := strings.Fields(g.Class)
	if len(words) == 0 {
		return ""
	}
	out := voltsWords(words[0])
	for i, w := range words[1:] {
		if i > 0 {
			out += ","
		}
		out += " " + w
	}
	return out
}

// voltsWords prints a voltage kind: "24vdc" is 24 V DC.
func voltsWords(kind string) string {
	for _, s := range [][2]string{{"vdc", " V DC"}, {"vac", " V AC"}} {
		if v, ok := strings.CutSuffix(kind, s[0]); ok {
			return v + s[1]
		}
	}
	return kind
}
