package drawing

import (
	"railwright/internal/design"
	"railwright/internal/scene"
)

// Heights of the bands of a rail drawing, from its top, mm of paper. Only widths are to scale.
const (
	bandGroup  = 6.0  // brackets with the groups' names
	bandLoad   = 5.0  // load bars
	bandModule = 46.0 // modules, or modules and bases together
	bandBase   = 11.0 // the lower part, where the supply bus runs
	bandInfeed = 14.5 // arrows at the infeed points
	bandSize   = 11.5 // dimensions
	railOver   = 5.0  // the rail drawn beyond the station
)

// strip is a run of parts drawn in one row.
type strip struct {
	first, last int     // parts
	from, to    float64 // mm on the rail
}

// railScales are the scales of ISO 5455 that leave a slot's name readable, largest first.
var railScales = []float64{1, 0.5}

// railSheets draws a station's rail: to scale with slots, groups, infeed points and load bars, and the same
// as tables. Each strip of a long rail is followed by the tables of its own slots.
func (b *book) railSheets(st *design.Station) {
	r := b.rackOf(st)
	marks := b.railMarks(r)
	free := b.free(marks)
	scale, strips := r.split(free.W - 2*railOver)
	high := b.stripHeight()
	f := b.flow("rail", "RD", st, b.Setting.Say("drawing.rail.title", st.ID, st.Name), marks)
	for i, s := range strips {
		if i > 0 && f.area.H < high {
			f.next()
		}
		at := scene.Point{X: f.area.X + railOver, Y: f.area.Y}
		b.drawStrip(f.pen, r, s, at, scale, i == 0, i == len(strips)-1)
		x := at.X + (s.to-s.from)*scale + railOver + 4
		beside := scene.Rect{X: x, Y: f.area.Y, W: f.area.Right() - x, H: high}
		f.area = f.area.Below(high + 2)
		groups, slots := b.groupList(st, r.slots(s)), b.slotList(st, r.slots(s))
		squeeze(f.area.W, slots, groups)
		if beside.W >= groups.width() && groups.fits(0, beside.H) == len(groups.rows) {
			groups.draw(f.pen, beside.X, beside.Y, 0, len(groups.rows))
			f.columns(slots)
			continue
		}
		f.columns(slots, groups)
	}
}

// slots returns the slots of a strip.
func (r *rack) slots(s strip) []*design.Slot {
	var out []*design.Slot
	for i := s.first; i <= s.last; i++ {
		if r.parts[i].slot != nil {
			out = append(out, r.parts[i].slot)
		}
	}
	return out
}

func (b *book) stripHeight() float64 {
	return bandGroup + bandLoad + bandModule + bandInfeed + bandSize
}

// split chooses the scale and cuts the rail into strips of whole parts that fit the width.
func (r *rack) split(width float64) (scale float64, strips []strip) {
	for _, scale = range railScales {
		if r.length*scale <= width {
			break
		}
	}
	for _, p := range r.parts {
		for p.width*scale > width {
			scale /= 2
		}
	}
	s := strip{}
	for i, p := range r.parts {
		if end := p.from + p.width; i > s.first && (end-s.from)*scale > width {
			strips = append(strips, s)
			s = strip{first: i, from: p.from}
		}
		s.last, s.to = i, p.from+p.width
	}
	return scale, append(strips, s)
}
