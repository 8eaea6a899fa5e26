package drawing

import (
	"slices"

	"railwright/internal/design"
	"railwright/internal/hardware"
)

// cabinet is an enclosure with everything that stands on its rails.
type cabinet struct {
	station  *design.Station
	box      *hardware.Enclosure
	rows     []cabinetRow
	homeless []cabinetPart // parts that no row holds any more
	glands   []gland
}

// cabinetRow is one mounting rail, from left to right.
type cabinetRow struct {
	length, used float64 // mm
	parts        []cabinetPart
}

// cabinetPart is one thing on a rail.
type cabinetPart struct {
	id      string // "BST-S1-U1", "BST-S1-F1", the station's
	subject string
	code    string
	kind    string // "supply", "protection", "station"
	from    float64
	width   float64 // mm
}

// cabinetOf places a station's parts in its enclosure: the station on the lowest rail that is long enough,
// next to the cables, then supply units and protective devices from the top, each on the first rail that
// still holds it. It returns nil where the hardware list does not know the enclosure.
func (b *book) cabinetOf(st *design.Station) *cabinet {
	box, ok := b.List.Enclosure(st.Enclosure)
	if !ok || box.Row <= 0 || box.Width <= 0 || box.Height <= 0 {
		return nil
	}
	c := &cabinet{station: st, box: box}
	n := max(int((box.Rail+box.Row/2)/box.Row), 1)
	for range n {
		c.rows = append(c.rows, cabinetRow{length: float64(box.Row)})
	}
	c.place(cabinetPart{id: st.ID, subject: "station:" + st.ID, code: st.Coupler, kind: "station", width: b.rackOf(st).length}, true)
	for _, p := range b.powerParts(st) {
		c.place(p, false)
	}
	c.glands = b.glandsOf(st)
	return c
}

// place puts a part on the first rail that holds it, from the top or from the bottom.
func (c *cabinet) place(p cabinetPart, bottom bool) {
	for i := range c.rows {
		k := i
		if bottom {
			k = len(c.rows) - 1 - i
		}
		if r := &c.rows[k]; r.used+p.width <= r.length {
			p.from = r.used
			r.used += p.width
			r.parts = append(r.parts, p)
			return
		}
	}
	c.homeless = append(c.homeless, p)
}

// powerParts lists a station's supply units, each by itself, and its groups' protective devices.
func (b *book) powerParts(st *design.Station) []cabinetPart {
	var out []cabinetPart
	for _, u := range b.ix.supplies[st.ID] {
		w := 0.0
		if t, ok := b.List.Supply(u.Type); ok {
			w = float64(t.Width)
		}
		for range max(u.Units, 1) {
			out = append(out, cabinetPart{id: u.ID, subject: "supply:" + u.ID, code: u.Type, kind: "supply", width: w})
		}
	}
	for i := range st.SupplyGroups {
		if g := b.ix.guards["group:"+st.SupplyGroups[i].ID]; g != nil {
			w := 0.0
			if t, ok := b.List.Protection(g.Type); ok {
				w = float64(t.Width)
			}
			out = append(out, cabinetPart{id: g.ID, subject: "protection:" + g.ID, code: g.Type, kind: "protection", width: w})
		}
	}
	for i := range out {
		if out[i].width <= 0 {
			out[i].width = usualWidth
		}
	}
	return out
}

// gland is one cable entry.
type gland struct {
	cable *design.Cable
	part  *hardware.Part // nil: no gland of the list seals the cable
	pitch float64        // mm that the gland takes with the room for a wrench
	x, y  float64        // of its middle on the plate, mm
	off   bool           // the plate is full
}

// Hole and room of a gland on the plate, from the largest cable that it seals, mm. The hole follows the metric
// threads M12 to M50 of glands within 1 mm (own fit); the room for nut and wrench is that of rule ENC-005.
const (
	holePerMM  = 1.22
	holeMore   = 4.5
	wrenchRoom = 1.6
)

// glandsOf lists the cable entries of a station: mains, network, then field cables by name.
func (b *book) glandsOf(st *design.Station) []gland {
	var out []gland
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		for _, end := range []string{c.From, c.To} {
			if end == "station:"+st.ID {
				out = append(out, gland{cable: c})
			}
		}
	}
	rank := map[string]int{"supply": 0, "network": 1}
	slices.SortStableFunc(out, func(x, y gland) int {
		rx, ok := rank[x.cable.Use]
		if !ok {
			rx = 2
		}
		ry, ok := rank[y.cable.Use]
		if !ok {
			ry = 2
		}
		return rx - ry
	})
	for i := range out {
		g := &out[i]
		diameter := int64(8000)
		if t := b.ix.types[g.cable.Type]; t != nil {
			diameter = t.DiameterUM
		}
		g.part = b.glandFor(diameter)
		widest := float64(diameter) / 1000
		if g.part != nil {
			widest = float64(g.part.MaxDiameterUM) / 1000
		}
		g.pitch = (widest*holePerMM + holeMore) * wrenchRoom
	}
	return out
}

// glandFor returns the cheapest gland that seals a diameter, then the first by code.
func (b *book) glandFor(diameterUM int64) *hardware.Part {
	var best *hardware.Part
	for i := range b.List.Parts {
		p := &b.List.Parts[i]
		if p.Use == "gland" && p.MinDiameterUM <= diameterUM && diameterUM <= p.MaxDiameterUM && (best == nil || p.Price < best.Price) {
			best = p
		}
	}
	return best
}

// arrange lays the glands on the plate in rows from the rear left.
func (c *cabinet) arrange() {
	const edge = 25 // mm of the plate's rim that stays free (common practice)
	x, y, row := float64(edge), float64(edge), 0.0
	for i := range c.glands {
		g := &c.glands[i]
		if x+g.pitch > float64(c.box.Width)-edge {
			x, y, row = edge, y+row, 0
		}
		if y+g.pitch > float64(c.box.Depth)-edge {
			g.off = true
			continue
		}
		g.x, g.y = x+g.pitch/2, y+g.pitch/2
		x, row = x+g.pitch, max(row, g.pitch)
	}
}
