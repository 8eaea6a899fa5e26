package drawing

import (
	"strconv"

	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// facts writes what is known of the enclosure from the top of r and returns the height it took.
func (d *cabinetPen) facts(r scene.Rect) float64 {
	set, st := d.b.Setting, d.c.station
	p := d.p.On("drawing").For("enclosure:"+st.Enclosure, "enclosure")
	p.Font(typeface.Bold, 3.4).TextIn(r.Top(4.5), scene.Left, 1.8, st.Enclosure)
	y := r.Y + 4.5
	line := func(words string) {
		if words == "" {
			return
		}
		p.Role("fact").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: r.X, Y: y, W: r.W, H: 3.6}, scene.Left, 1.8, words)
		y += 3.6
	}
	title := d.c.box.Title
	if d.c.box.IP != "" {
		title += ", " + d.c.box.IP
	}
	line(title)
	used, all := 0.0, 0.0
	for i := range d.c.rows {
		used, all = used+d.c.rows[i].used, all+d.c.rows[i].length
	}
	line(set.Say("drawing.enclosure.rail", num(used, 0), num(all, 0), num(all-used, 0)))
	line(set.Say("drawing.enclosure.heat", num(st.HeatW, 1), num(st.InsideMinC, 0), num(st.InsideMaxC, 0)))
	if st.HeaterW > 0 {
		line(set.Say("drawing.enclosure.heater", num(st.HeaterW, 0)))
	}
	if n := len(d.c.homeless); n > 0 {
		p = p.Ink(scene.Warn)
		line(set.Say("drawing.enclosure.homeless", n))
	}
	off, sealed := 0, true
	for i := range d.c.glands {
		if d.c.glands[i].off {
			off++
		}
		sealed = sealed && d.c.glands[i].part != nil
	}
	if off > 0 {
		p = p.Ink(scene.Warn)
		line(set.Say("drawing.enclosure.full", off))
	}
	if !sealed {
		p = p.Ink(scene.Warn)
		line(set.Say("drawing.enclosure.unsealed"))
	}
	return y - r.Y
}

// partList lists what stands on the rails.
func (b *book) partList(c *cabinet) *listing {
	set := b.Setting
	t := &listing{title: set.Say("drawing.enclosure.parts"), cols: []listCol{
		{set.Say("drawing.head.item"), 18, scene.Left},
		{set.Say("drawing.head.type"), 52, scene.Left},
		{set.Say("drawing.head.row"), 12, scene.Right},
		{set.Say("drawing.head.from"), 16, scene.Right},
		{set.Say("drawing.head.width"), 16, scene.Right},
	}}
	for i := range c.rows {
		for _, q := range c.rows[i].parts {
			if q.kind == "station" {
				q.code = set.Say("drawing.enclosure.station", len(c.station.Slots))
			}
			t.rows = append(t.rows, partRow(c, &q, strconv.Itoa(i+1), num(q.from, 1)))
		}
	}
	for _, q := range c.homeless {
		t.rows = append(t.rows, partRow(c, &q, "–", "–"))
	}
	return t
}

func partRow(c *cabinet, q *cabinetPart, row, from string) []listCell {
	id := short(q.id, c.station.ID)
	return []listCell{
		{words: id, subject: q.subject, role: "item"},
		{words: q.code, subject: q.subject, role: "type"},
		{words: row, subject: q.subject, role: "row"},
		{words: from, subject: q.subject, role: "from"},
		{words: num(q.width, 1), subject: q.subject, role: "width"},
	}
}

// glandList lists the cable entries by the numbers on the plate.
func (b *book) glandList(c *cabinet) *listing {
	set := b.Setting
	t := &listing{title: set.Say("drawing.enclosure.glands"), cols: []listCol{
		{set.Say("drawing.head.no"), 9, scene.Right},
		{set.Say("drawing.head.cable"), 25, scene.Left},
		{set.Say("drawing.head.type"), 40, scene.Left},
		{set.Say("drawing.head.gland"), 22, scene.Left},
		{set.Say("drawing.head.use"), 18, scene.Left},
	}}
	for i := range c.glands {
		g := &c.glands[i]
		sub := "cable:" + g.cable.ID
		part := "–"
		if g.part != nil {
			part = g.part.Code
		}
		no := strconv.Itoa(i + 1)
		if g.off {
			no = "(" + no + ")"
		}
		t.rows = append(t.rows, []listCell{
			{words: no, subject: sub, role: "number"},
			{words: g.cable.Name, subject: sub, role: "cable", mono: true},
			{words: g.cable.Type, subject: sub, role: "type"},
			{words: part, subject: sub, role: "gland"},
			{words: set.Say("drawing.use." + g.cable.Use), subject: sub, role: "use"},
		})
	}
	return t
}

// enclosureMarks is the legend of an enclosure drawing.
func (b *book) enclosureMarks() []mark {
	return []mark{
		{"free_rail", func(p scene.Pen, s scene.Rect) {
			q := p.Wide(scene.Hair).Ink(scene.Mid)
			q.Dash(scene.Fine).Rect(s)
			q.Hatch(s, 3)
		}},
		{"gland", func(p scene.Pen, s scene.Rect) {
			p.Wide(scene.Thin).Circle(s.MidX(), s.MidY(), 2)
			p.TextIn(scene.Rect{X: s.MidX() - 2, Y: s.Y, W: 4, H: s.H}, scene.Middle, 1.8, "1")
		}},
		{"no_gland", func(p scene.Pen, s scene.Rect) {
			p.Wide(scene.Thin).Ink(scene.Warn).Dash(scene.Fine).Circle(s.MidX(), s.MidY(), 2)
		}},
		{"widths", func(p scene.Pen, s scene.Rect) { dimension(p.Wide(scene.Hair), s.X, s.Right(), s.MidY()+0.5, "15") }},
	}
}
