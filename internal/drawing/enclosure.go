package drawing

import (
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// enclosureScales are scales of ISO 5455, largest first.
var enclosureScales = []float64{0.5, 0.2, 0.1, 0.05, 0.02}

const (
	sizeRoom = 11.0 // for a dimension beside a view
	barRoom  = 6.0  // for the bar above the gland plate
	nameRoom = 9.0  // below and above the parts of a rail, for names
)

// enclosureSheets draws a station's enclosure: its mounting plate to scale with what stands on the rails and
// what is free, the gland plate with its cable entries, and both as tables.
func (b *book) enclosureSheets(st *design.Station) {
	c := b.cabinetOf(st)
	if c == nil {
		return
	}
	c.arrange()
	f := b.flow("enclosure", "EN", st, b.Setting.Say("drawing.enclosure.title", st.ID, st.Name), b.enclosureMarks())
	area := f.area
	scale := largest(enclosureScales, func(s float64) bool {
		return float64(c.box.Width)*s <= area.W*0.66-sizeRoom && float64(c.box.Height)*s <= area.H-sizeRoom-6
	})
	d := &cabinetPen{b: b, p: f.pen, c: c, scale: scale}
	front := scene.Rect{X: area.X + sizeRoom, Y: area.Y + 5, W: float64(c.box.Width) * scale, H: float64(c.box.Height) * scale}
	d.front(front)
	right := scene.Rect{X: front.Right() + 8, Y: area.Y, W: area.Right() - front.Right() - 8, H: area.H}
	f.area = right.Below(d.facts(right) + 3)
	parts, glands := b.partList(c), b.glandList(c)
	below := scene.Rect{X: front.X, Y: front.Bottom() + sizeRoom + 6, W: front.W, H: float64(c.box.Depth) * scale}
	if len(c.glands) > 0 && below.Bottom()+sizeRoom < area.Bottom() && f.area.W >= glands.width() {
		d.plate(below)
		f.columns(parts, glands)
		return
	}
	if f.area.W >= parts.width() {
		f.columns(parts)
		parts = nil
	}
	if len(c.glands) > 0 {
		d.ownPlate(f)
		f.columns(parts, glands)
	} else if parts != nil {
		f.columns(parts)
	}
}

// ownPlate draws the gland plate on a sheet after the front view.
func (d *cabinetPen) ownPlate(f *sheetFlow) {
	f.next()
	d.p, d.scale = f.pen, largest(enclosureScales, func(s float64) bool {
		return float64(d.c.box.Width)*s <= f.area.W-8 && float64(d.c.box.Depth)*s <= f.area.H/2
	})
	plate := scene.Rect{X: f.area.X, Y: f.area.Y + 5, W: float64(d.c.box.Width) * d.scale, H: float64(d.c.box.Depth) * d.scale}
	d.plate(plate)
	f.area = f.area.Below(plate.H + 5 + sizeRoom)
}

// largest returns the first scale that suits, or the last.
func largest(scales []float64, suits func(float64) bool) float64 {
	for _, s := range scales {
		if suits(s) {
			return s
		}
	}
	return scales[len(scales)-1]
}

// cabinetPen draws an enclosure.
type cabinetPen struct {
	b     *book
	p     scene.Pen
	c     *cabinet
	scale float64
	bare  []bareBox // parts of the rail being drawn that are too narrow for a name
}

// bareBox is a part drawn without its name.
type bareBox struct {
	x1, x2 float64
	words  string
}

// front draws the mounting plate as seen from the door.
func (d *cabinetPen) front(r scene.Rect) {
	st := d.c.station
	p := d.p.On("enclosure").For("enclosure:"+st.Enclosure, "enclosure").Font(typeface.Regular, paper.Small)
	p.Role("view").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: r.X, Y: r.Y - 5, W: r.W, H: 4}, scene.Left, 1.8, d.b.Setting.Say("drawing.enclosure.front", num(1/d.scale, 0)))
	p.Wide(scene.Thick).Rect(r)
	q := d.p.On("dimensions").For("enclosure:"+st.Enclosure, "dimension").Wide(scene.Hair).Font(typeface.Regular, paper.Small)
	dimension(q, r.X, r.Right(), r.Bottom()+6, num(float64(d.c.box.Width), 0))
	upDimension(q, r.Y, r.Bottom(), r.X-4.5, num(float64(d.c.box.Height), 0))
	pitch := (r.H - barRoom) / float64(len(d.c.rows))
	for i := range d.c.rows {
		d.row(&d.c.rows[i], i, r.X, scene.Rect{X: r.X + (r.W-d.c.rows[i].length*d.scale)/2, Y: r.Y + pitch*float64(i), W: d.c.rows[i].length * d.scale, H: pitch})
	}
	d.bar(r)
}

// letters is a name without its number.
func letters(name string) string { return strings.TrimRight(name, "0123456789") }

// row draws one rail with its parts and its free length.
func (d *cabinetPen) row(row *cabinetRow, i int, left float64, r scene.Rect) {
	p := d.p.On("rails").For("station:"+d.c.station.ID, "rail").Wide(scene.Thin)
	body := d.bodies(r)
	mid := body.MidY()
	p.Line(r.X, mid-1.2, r.Right(), mid-1.2)
	p.Line(r.X, mid+1.2, r.Right(), mid+1.2)
	p.Line(r.X, mid-1.2, r.X, mid+1.2)
	p.Line(r.Right(), mid-1.2, r.Right(), mid+1.2)
	label := p.Role("row").Font(typeface.Regular, paper.Small)
	rim := scene.Rect{X: left + 0.3, Y: body.Y, W: r.X - left - 0.6, H: body.H}
	if !small(label, rim, d.b.Setting.Say("drawing.enclosure.row", i+1)) {
		small(label, rim, strconv.Itoa(i+1))
	}
	d.bare = nil
	for k := range row.parts {
		d.part(&row.parts[k], body)
	}
	d.ranges(body.Bottom())
	free := scene.Rect{X: r.X + row.used*d.scale, Y: body.Y, W: (row.length - row.used) * d.scale, H: body.H}
	if free.W < 0.5 {
		return
	}
	q := d.p.On("reserve").For("station:"+d.c.station.ID, "reserve").Wide(scene.Hair).Ink(scene.Mid)
	q.Dash(scene.Fine).Rect(free)
	q.Hatch(free, 3)
	words := d.b.Setting.Say("drawing.enclosure.free", num(row.length-row.used, 0))
	room := q.Ink(scene.Black).Font(typeface.Regular, paper.Small)
	w := room.TextWidth(words) + 2
	if w < free.W {
		box := scene.Rect{X: free.MidX() - w/2, Y: free.MidY() - 2, W: w, H: 4}
		room.Role("free").Wide(0).Fill(scene.White).Rect(box)
		room.TextIn(box, scene.Middle, 1.8, words)
	} else if free.W > 3 {
		box := scene.Rect{X: free.MidX() - 1.5, Y: free.Y + 1, W: 3, H: free.H - 2}
		room.Wide(0).Fill(scene.White).Rect(box)
		upright(room.Role("free"), box, words)
	}
}

// high is the height in which parts are drawn; heights are not to scale.
func (d *cabinetPen) high(row scene.Rect) float64 {
	return max(min(row.H*0.5, 26, row.H-nameRoom), 2.5)
}

// bodies is the band of a row in which its parts stand.
func (d *cabinetPen) bodies(row scene.Rect) scene.Rect {
	h := d.high(row)
	return scene.Rect{X: row.X, Y: row.MidY() - h/2 - 1.6, W: row.W, H: h}
}

func (d *cabinetPen) part(q *cabinetPart, r scene.Rect) {
	box := scene.Rect{X: r.X + q.from*d.scale, Y: r.Y, W: q.width * d.scale, H: r.H}
	p := d.p.On("parts").For(q.subject, q.kind).Wide(scene.Medium).Fill(scene.White).Font(typeface.Bold, paper.Small)
	if q.kind == "station" {
		d.station(p, box)
		return
	}
	p.Rect(box)
	d.name(p, box, short(q.id, d.c.station.ID))
}

// name writes a part's name into it, or notes that it does not go in.
func (d *cabinetPen) name(p scene.Pen, box scene.Rect, words string) {
	if !small(p, box, words) {
		d.bare = append(d.bare, bareBox{box.X, box.Right(), words})
	}
}

// ranges writes the names of narrow neighbours below them: "F3…F7" with a bracket over all.
func (d *cabinetPen) ranges(y float64) {
	p := d.p.On("parts").For("station:"+d.c.station.ID, "range").Wide(scene.Hair).Font(typeface.Regular, paper.Small)
	line, end := 0.0, [2]float64{}
	for i := 0; i < len(d.bare); {
		n := i + 1
		for n < len(d.bare) && d.bare[n].x1-d.bare[n-1].x2 < 0.01 && letters(d.bare[n].words) == letters(d.bare[i].words) {
			n++
		}
		words := d.bare[i].words
		if n > i+1 {
			words += "…" + d.bare[n-1].words
		}
		x1, x2 := d.bare[i].x1+0.2, d.bare[n-1].x2-0.2
		w := max(p.TextWidth(words)+0.4, x2-x1)
		at := (x1 + x2 - w) / 2
		if line = 0; at < end[0]+0.5 && at >= end[1] {
			line = 1
		}
		end[int(line)] = at + w
		low := y + 1.4 + 3*line
		p.Polyline(scene.Point{X: x1, Y: y + 0.5}, scene.Point{X: x1, Y: low}, scene.Point{X: x2, Y: low}, scene.Point{X: x2, Y: y + 0.5})
		p.TextIn(scene.Rect{X: at, Y: low + 0.1, W: w, H: 3}, scene.Middle, 1.8, words)
		i = n
	}
}

// station draws the coupler, each slot and the end piece as outlines, with the slots' numbers.
func (d *cabinetPen) station(p scene.Pen, box scene.Rect) {
	r := d.b.rackOf(d.c.station)
	for i := range r.parts {
		q := &r.parts[i]
		b := scene.Rect{X: box.X + q.from*d.scale, Y: box.Y, W: q.width * d.scale, H: box.H}
		switch {
		case q.slot != nil:
			p = p.For(slotSubject(d.c.station, q.slot), "slot")
			p.Wide(scene.Thin).Rect(b)
			d.name(p.Font(typeface.Regular, paper.Small), b, strconv.Itoa(q.slot.Slot))
		case q.end:
			p.For("part:"+q.code, "end piece").Wide(scene.Thin).Rect(b)
		default:
			p = p.For("station:"+d.c.station.ID, "coupler")
			p.Wide(scene.Thin).Rect(b)
			small(p, b, d.c.station.ID)
		}
	}
	p.For("station:"+d.c.station.ID, "station").Wide(scene.Medium).Fill(scene.None).Rect(box)
}

// small writes into a box across or upwards, whichever holds it; it reports false where neither does.
func small(p scene.Pen, b scene.Rect, words string) bool {
	for _, size := range []float64{paper.Small, 2.1, 1.8} {
		q := p.Size(size)
		tall := size * (typeface.CapHeight + typeface.Descent)
		switch {
		case q.TextWidth(words) < b.W-0.4 && tall < b.H:
			q.TextIn(scene.Rect{X: b.X + 0.2, Y: b.Y, W: b.W - 0.4, H: b.H}, scene.Middle, 1.8, words)
			return true
		case tall < b.W && q.TextWidth(words) < b.H-0.4:
			q.TextUpIn(scene.Rect{X: b.X, Y: b.Y + 0.2, W: b.W, H: b.H - 0.4}, scene.Middle, 1.8, words)
			return true
		}
	}
	return false
}

// bar draws the bar for protective conductors and screens above the gland plate.
func (d *cabinetPen) bar(r scene.Rect) {
	p := d.p.On("parts").For("station:"+d.c.station.ID, "earth bar").Wide(scene.Thin).Fill(scene.Pale)
	b := scene.Rect{X: r.X + r.W*0.1, Y: r.Bottom() - 4.6, W: r.W * 0.8, H: 3.4}
	p.Rect(b)
	p.Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: b.X + 1, Y: b.Y, W: b.W - 2, H: b.H}, scene.Middle, 1.8, d.b.Setting.Say("drawing.enclosure.bar"))
}

// plate draws the gland plate as seen from below, each entry with its number in the table.
func (d *cabinetPen) plate(r scene.Rect) {
	st := d.c.station
	p := d.p.On("gland plate").For("enclosure:"+st.Enclosure, "gland plate").Font(typeface.Regular, paper.Small)
	p.Role("view").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: r.X, Y: r.Y - 5, W: r.W, H: 4}, scene.Left, 1.8, d.b.Setting.Say("drawing.enclosure.plate", num(1/d.scale, 0)))
	p.Wide(scene.Medium).Rect(r)
	q := d.p.On("dimensions").For("enclosure:"+st.Enclosure, "dimension").Wide(scene.Hair).Font(typeface.Regular, paper.Small)
	dimension(q, r.X, r.Right(), r.Bottom()+6, num(float64(d.c.box.Width), 0))
	downDimension(q, r.Y, r.Bottom(), r.Right()+6, num(float64(d.c.box.Depth), 0))
	for i := range d.c.glands {
		g := &d.c.glands[i]
		if g.off {
			continue
		}
		x, y, radius := r.X+g.x*d.scale, r.Y+g.y*d.scale, g.pitch*0.42*d.scale
		p := p.For("cable:"+g.cable.ID, "gland").Wide(scene.Thin)
		if g.part == nil {
			p = p.Ink(scene.Warn).Dash(scene.Fine)
		}
		p.Circle(x, y, radius)
		small(p.Ink(scene.Black), scene.Rect{X: x - radius, Y: y - radius, W: 2 * radius, H: 2 * radius}, strconv.Itoa(i+1))
	}
}

// upDimension is dimension for a height: its figure reads upwards at the left of the line.
func upDimension(p scene.Pen, y1, y2, x float64, words string) {
	p.Line(x-0.8, y1, x+2, y1)
	p.Line(x-0.8, y2, x+2, y2)
	p.Arrow(x, (y1+y2)/2, x, y1, 1.8)
	p.Arrow(x, (y1+y2)/2, x, y2, 1.8)
	p.TextUpIn(scene.Rect{X: x - 3.1, Y: y1, W: 3, H: y2 - y1}, scene.Middle, 1.8, words)
}

// downDimension is upDimension at the right of a view.
func downDimension(p scene.Pen, y1, y2, x float64, words string) {
	p.Line(x-2, y1, x+0.8, y1)
	p.Line(x-2, y2, x+0.8, y2)
	p.Arrow(x, (y1+y2)/2, x, y1, 1.8)
	p.Arrow(x, (y1+y2)/2, x, y2, 1.8)
	p.TextUpIn(scene.Rect{X: x - 3.1, Y: y1, W: 3, H: y2 - y1}, scene.Middle, 1.8, words)
}
