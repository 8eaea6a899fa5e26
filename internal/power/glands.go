package power

import (
	"cmp"
	"slices"

	"railwright/internal/calc/conductor"
	"railwright/internal/calc/count"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/formula"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// glandPitch is the room that a gland takes with its wrench: a square of so many times its thread (common
// practice).
const glandPitch = 1.6

// glands leaves the room that the glands of a station's cables take, and their share of the floor of its
// enclosure. Cables of unknown diameter, or thicker than any gland, do not count.
func (w work) glands(st *design.Station) {
	e, ok := w.v.List.Enclosure(st.Enclosure)
	if !ok || e.Width <= 0 || e.Depth <= 0 {
		return
	}
	number := map[*hardware.Cable]int{}
	for i := range w.v.Design.Cables {
		c := &w.v.Design.Cables[i]
		if t, ok := w.v.List.Cable(c.Type); ok && (c.To == "station:"+st.ID || c.From == "station:"+st.ID) {
			number[t]++
		}
	}
	var rooms []formula.Arg
	for t, n := range number {
		if g, err := conductor.GlandFor(q.Length(float64(t.DiameterUM) / 1e6)); err == nil && t.DiameterUM > 0 {
			side := float64(g.Hole) * 1000 * glandPitch
			rooms = append(rooms, figure.Arg(decimal(n)+" x "+t.Code, float64(n)*side*side, "cite:common-practice#gland-of-%s", t.Code))
		}
	}
	if len(rooms) == 0 {
		return
	}
	slices.SortFunc(rooms, func(a, b formula.Arg) int { return cmp.Compare(a.From, b.From) })
	id := "station:" + st.ID
	room := w.book.Eval(id+".glands", count.Rooms, rooms...)
	w.book.Eval(id+".gland_share", count.PlateShare, figure.Arg("", room, "calc:%s.glands", id),
		figure.Arg("", float64(e.Width), "hardware:%s.width_mm", e.Code), figure.Arg("", float64(e.Depth), "hardware:%s.depth_mm", e.Code))
}
