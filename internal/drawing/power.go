package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// origin is what feeds groups of a station: a supply unit, or a mains feeder itself.
type origin struct {
	feeder *design.Feeder // nil where the design names none
	unit   *design.Supply // nil for groups on the mains
	groups []*design.SupplyGroup
}

// sources are a station's sources in the order of their feeders, units before mains.
func (b *book) sources(st *design.Station) []origin {
	var out []origin
	for _, u := range b.ix.supplies[st.ID] {
		if b.twins(u)[0] != u {
			continue // beside its like, on the same bar
		}
		s := origin{unit: u}
		for _, f := range b.ix.feeders[st.ID] {
			if f.ID == u.Feeder {
				s.feeder = f
			}
		}
		out = append(out, s)
	}
	for i := range st.SupplyGroups {
		g := &st.SupplyGroups[i]
		volts, _ := classOf(g)
		var s origin
		if direct(volts) {
			s.unit = b.supplyOf(st, g)
		}
		s.feeder = b.feederOf(st, g)
		at := slices.IndexFunc(out, func(o origin) bool {
			return o.unit == s.unit && (s.unit != nil || o.feeder == s.feeder)
		})
		if at < 0 {
			out = append(out, s)
			at = len(out) - 1
		}
		out[at].groups = append(out[at].groups, g)
	}
	feeder := func(s origin) string {
		if s.feeder == nil {
			return "~"
		}
		return s.feeder.ID
	}
	unit := func(s origin) string {
		if s.unit == nil {
			return "~"
		}
		return s.unit.ID
	}
	slices.SortStableFunc(out, func(x, y origin) int { return cmp.Or(cmp.Compare(feeder(x), feeder(y)), cmp.Compare(unit(x), unit(y))) })
	return out
}

// Heights of a station's supply diagram in mm.
const (
	powerHead = 8.0
	groupRow  = 11.0
	sourceTop = 7.0  // above the first group of a source
	sourceMin = 42.0 // of a source that is drawn with its figures
	sourceGap = 3.0
)

// powerCols are the x of a station's supply diagram.
type powerCols struct {
	left, node, unit, unitRight, plus, guard, wire, group, groupRight, minus, table, right float64
	cells                                                                                  [4]float64 // x of the table's columns
}

func powerColumns(a scene.Rect) powerCols {
	at := func(part float64) float64 { return grid(a.X + part*a.W) }
	c := powerCols{
		left: a.X, node: at(0.2), unit: at(0.215), unitRight: at(0.32), plus: at(0.345), guard: at(0.36), wire: at(0.455), group: at(0.52),
		groupRight: at(0.63), minus: at(0.695), table: at(0.71), right: a.Right(),
	}
	w := c.right - c.table
	c.cells = [4]float64{c.table, c.table + grid(w*0.2), c.table + grid(w*0.38), c.table + grid(w*0.59)}
	return c
}

// powerStation draws a station's supplies from the mains feeder to the last device of every group.
func (b *book) powerStation(st *design.Station) {
	d := &powerPage{book: b, st: st, drawn: map[string]float64{}}
	for _, s := range b.sources(st) {
		d.source(s)
	}
	d.finish()
}

// powerPage is a station's supply diagram being drawn, sheet after sheet.
type powerPage struct {
	*book
	page
	st    *design.Station
	cols  powerCols
	n     int
	y     float64
	drawn map[string]float64 // feeders on this sheet, by id: y of their line
	busTo map[string]float64 // how far down a feeder's node reaches
}

func (d *powerPage) turn() {
	if d.n > 0 {
		d.turnTo(d.n+1, false)
	}
	d.n++
	d.page = d.open(paper.Block{
		ID: more("power/"+d.st.ID, d.n), Kind: "power", Number: numberOf("PW", d.st.ID, d.n),
		Chapter: d.chapterOf(d.st), Title: d.say("drawing.power.title", d.st.ID, d.ix.placeName(d.st.Place)),
	}, powerLegend)
	d.cols = powerColumns(d.area)
	d.y = d.area.Y + powerHead
	d.drawn, d.busTo = map[string]float64{}, map[string]float64{}
	d.heads()
	if d.n > 1 {
		d.turnTo(d.n-1, true)
	}
}

// turnTo refers to the sheet before or after.
func (d *powerPage) turnTo(n int, back bool) {
	words, x := d.say("drawing.onto"), d.area.Right()-60
	if back {
		words, x = d.say("drawing.from"), d.area.X
	}
	p := d.pen.For("", "turn").Font(typeface.Regular, paper.Small)
	w := p.TextWidth(words) + 1
	y := d.area.Bottom() - 4.5
	p.TextIn(scene.Rect{X: x, Y: y, W: w, H: 4}, scene.Left, 2, words)
	refer(p, scene.Rect{X: x + w, Y: y, W: 30, H: 4}, more("power/"+d.st.ID, n), scene.Left)
}

func (d *powerPage) finish() {
	if d.n == 0 {
		return
	}
	d.nodes()
}

func (d *powerPage) heads() {
	c, a := d.cols, d.area
	p := d.pen.For("", "head").Font(typeface.Bold, paper.Small)
	p.Wide(scene.Thin).Line(a.X, a.Y+6, a.Right(), a.Y+6)
	in := func(x1, x2 float64, words string) {
		p.TextIn(scene.Rect{X: x1, Y: a.Y, W: x2 - x1 - 1, H: 5.5}, scene.Left, 1.8, words)
	}
	in(c.left, c.node, d.say("drawing.power.feeder"))
	in(c.unit, c.plus, d.say("drawing.power.unit"))
	in(c.guard, c.wire, d.say("drawing.power.protection"))
	in(c.wire, c.group, d.say("drawing.power.infeed"))
	in(c.group, c.minus, d.say("drawing.power.group"))
	in(c.cells[0], c.cells[1], d.say("drawing.power.load"))
	in(c.cells[1], c.cells[2], d.say("drawing.power.volts"))
	in(c.cells[2], c.cells[3], d.say("drawing.power.short"))
	in(c.cells[3], c.right+1, d.say("drawing.power.device"))
}

// source draws a source and the rows of its groups; on a new sheet it begins again with a reference.
func (d *powerPage) source(s origin) {
	bottom := func() float64 { return d.area.Bottom() - turnRow }
	rest := s.groups
	for first := true; first || len(rest) > 0; first = false {
		need := sourceMin
		if !first {
			need = sourceTop + groupRow
		}
		if d.n == 0 || d.y+need > bottom() {
			if d.n > 0 {
				d.nodes()
			}
			d.turn()
		}
		n := min(len(rest), max(int((bottom()-d.y-sourceTop)/groupRow), 0))
		h := sourceTop + groupRow*float64(n)
		if first {
			h = max(h, sourceMin)
		}
		d.block(s, rest[:n], first, h)
		d.y += h + sourceGap
		rest = rest[n:]
	}
}

// block draws one source with some of its groups.
func (d *powerPage) block(s origin, groups []*design.SupplyGroup, first bool, h float64) {
	c := d.cols
	mid := d.y + sourceTop + 4
	p := d.pen.Wide(scene.Medium)
	if s.feeder != nil {
		d.feed(s.feeder, mid)
	}
	bus := fmt.Sprintf("bus:%s/%d", d.st.ID, d.n)
	out := c.node
	if s.unit != nil {
		d.unit(s.unit, mid, first)
		if s.feeder != nil {
			p.For("feeder:"+s.feeder.ID, "lead").Line(c.node, mid, c.unit, mid)
		}
		out = c.unitRight
	}
	if len(groups) == 0 {
		return
	}
	p.For(bus, "lead").Line(out, mid, c.plus, mid)
	top := d.y + 2
	last := d.y + sourceTop + groupRow*float64(len(groups)-1) + 4
	p.For(bus, "bus").Wide(scene.Heavy).Line(c.plus, mid-1.5, c.plus, last+1.5)
	p.For(bus, "bus").Wide(scene.Heavy).Line(c.minus, top, c.minus, last+1.5)
	back := c.unitRight - 4
	if s.unit == nil {
		parted := scene.Rect{X: c.node + 2, Y: mid - 2.2, W: 8, H: 4.4}
		back = parted.MidX()
		p.For(bus, "lead").Polyline(scene.Point{X: back, Y: parted.Y}, scene.Point{X: back, Y: top}, scene.Point{X: c.minus, Y: top})
		p.For(bus, "parted").Wide(scene.Thin).Fill(scene.White).Rect(parted)
		p.For(bus, "parted").Font(typeface.Regular, paper.Small).TextIn(parted.Inset(0.5), scene.Middle, 1.8, "L  N")
	} else {
		p.For(bus, "lead").Polyline(scene.Point{X: back, Y: mid - 4}, scene.Point{X: back, Y: top}, scene.Point{X: c.minus, Y: top})
	}
	plus, minus := d.poles(s, groups[0])
	t := p.For(bus, "pole").Font(typeface.Bold, paper.Small)
	t.TextIn(scene.Rect{X: c.plus + 1, Y: top + 0.6, W: c.wire - c.plus, H: 3.4}, scene.Left, 1.8, plus)
	t.TextIn(scene.Rect{X: c.groupRight, Y: top + 0.6, W: c.minus - c.groupRight - 1, H: 3.4}, scene.Right, 1.8, minus)
	for i, g := range groups {
		d.group(g, d.y+sourceTop+groupRow*float64(i)+4)
	}
	if h > 0 {
		d.pen.For("", "divider").Wide(scene.Hair).Ink(scene.Light).Line(c.table, d.y+h+sourceGap/2, c.right, d.y+h+sourceGap/2)
	}
}

// poles names the two sides of a source.
func (d *powerPage) poles(s origin, g *design.SupplyGroup) (plus, minus string) {
	volts, _ := classOf(g)
	n := strings.TrimRight(volts, "vacd")
	if direct(volts) {
		return "+" + n + " V DC", "0 V"
	}
	return n + " V AC  L", "N"
}

// feed draws the mains feeder, or a line to where the sheet has it already.
func (d *powerPage) feed(f *design.Feeder, y float64) {
	c := d.cols
	if _, there := d.drawn[f.ID]; there {
		d.busTo[f.ID] = y
		return
	}
	d.drawn[f.ID], d.busTo[f.ID] = y, y
	p := d.pen.For("feeder:"+f.ID, "feeder").Wide(scene.Medium)
	board := scene.Rect{X: c.left, Y: y - 4, W: grid((c.node - c.left) * 0.26), H: 8}
	p.Rect(board)
	p.Role("board").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: board.X + 0.5, Y: board.Y + 0.6, W: board.W - 1, H: 3.4}, scene.Middle, 1.8, f.From)
	p.Role("volts").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: board.X + 0.5, Y: board.Y + 4, W: board.W - 1, H: 3.4}, scene.Middle, 1.8, num(f.VoltageV, 0)+" V ~")
	x := board.Right()
	p.Role("line").Line(x, y, x+2, y)
	x += 2
	if g := d.ix.guards["feeder:"+f.ID]; g != nil {
		d.guard(p, g, x, y)
		gp := d.pen.For("protection:"+g.ID, "protection").Font(typeface.Bold, paper.Small)
		gp.TextIn(scene.Rect{X: board.Right() + 0.5, Y: y - 7, W: guardWidth + 14, H: 3.4}, scene.Left, 1.8, short(g.ID, d.st.ID)+" "+num(g.RatingA, 1)+" A")
		x += guardWidth
	}
	p.Role("line").Line(x, y, c.node, y)
	slashes(p.Role("line"), (x+c.node)/2, y)
	for i, words := range d.feederLines(f) {
		style := typeface.Regular
		if i == 0 {
			style = typeface.MonoBold
		}
		p.Role("feeder data").Font(style, paper.Small).TextIn(scene.Rect{X: c.left, Y: y + 5 + 3.5*float64(i), W: c.node - c.left - 2, H: 3.4}, scene.Left, 1.8, words)
	}
}

// slashes mark a line that stands for three conductors.
func slashes(p scene.Pen, x, y float64) {
	for i := -1; i <= 1; i++ {
		p.Wide(scene.Thin).Line(x+float64(i)*1.2-0.6, y+1.2, x+float64(i)*1.2+0.6, y-1.2)
	}
}

// feederLines are a feeder's cable and figures.
func (b *book) feederLines(f *design.Feeder) []string {
	lines := []string{f.ID}
	if c := b.ix.cables[f.Cable]; c != nil {
		lines = append(lines, fmt.Sprintf("%s: %d × %s, %s m", c.Name, c.Cores, b.size(c.AreaMM2), num(c.LengthM, 1)))
	}
	lines = append(lines, b.say("drawing.feeder.current", num(f.CurrentA, 2), num(f.AmpacityA, 1)))
	if r, ok := b.Design.Calculations["feeder:"+f.ID+".at_load"]; ok {
		lines = append(lines, b.say("drawing.feeder.volts", num(r.Result.Value, 1), num(f.DropV, 2)))
	} else {
		lines = append(lines, b.say("drawing.feeder.drop", num(f.DropV, 2)))
	}
	lines = append(lines, b.say("drawing.feeder.short", num(f.FaultMinA, 0), num(f.TripA, 1)))
	if f.InrushA > 0 {
		lines = append(lines, b.say("drawing.feeder.inrush", num(f.InrushA, 1)))
	}
	return lines
}

// unit draws a supply unit and, the first time, its figures.
func (d *powerPage) unit(u *design.Supply, y float64, first bool) {
	c := d.cols
	box := scene.Rect{X: c.unit, Y: y - 4, W: c.unitRight - c.unit, H: 8}
	p := d.pen.For("supply:"+u.ID, "unit").Wide(scene.Medium).Fill(scene.White)
	p.Rect(box)
	p.Wide(scene.Hair).Line(box.X, box.Bottom(), box.X+6, box.Y)
	p.Font(typeface.Regular, 2.5).Role("symbol").TextIn(scene.Rect{X: box.X + 0.4, Y: box.Y + 0.3, W: 3, H: 3}, scene.Middle, 1.8, "~")
	p.Font(typeface.Regular, 2.5).Role("symbol").TextIn(scene.Rect{X: box.X + 3.6, Y: box.Bottom() - 3.4, W: 3, H: 3}, scene.Middle, 1.8, "=")
	p.Role("unit").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X + 7, Y: box.Y + 0.5, W: box.W - 8, H: 3.4}, scene.Left, 1.8, short(d.unitName(u), d.st.ID))
	p.Role("rating").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: box.X + 7, Y: box.Y + 4, W: box.W - 8, H: 3.4}, scene.Left, 1.8, d.rating(u))
	if !first {
		return
	}
	for i, words := range d.unitLines(u) {
		p.Role("unit data").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: box.X, Y: box.Bottom() + 1 + 3.5*float64(i), W: c.plus - box.X - 1.5, H: 3.4}, scene.Left, 1.8, words)
	}
}

// twins are the like units that share one feed, side by side, the given one among them.
func (b *book) twins(u *design.Supply) []*design.Supply {
	if u.Units < 2 {
		return []*design.Supply{u}
	}
	var out []*design.Supply
	for _, o := range b.ix.supplies[u.Station] {
		if o.Class == u.Class && o.Type == u.Type && o.Feeder == u.Feeder && o.Units == u.Units {
			out = append(out, o)
		}
	}
	return out
}

// unitName is the id of a supply unit, or the first and last of those that share its feed.
func (b *book) unitName(u *design.Supply) string {
	all := b.twins(u)
	if len(all) == 1 {
		return u.ID
	}
	return all[0].ID + "…" + short(all[len(all)-1].ID, u.Station)
}

func (b *book) rating(u *design.Supply) string {
	t, ok := b.List.Supply(u.Type)
	if !ok {
		return ""
	}
	words := num(float64(t.Voltage), 0) + " V " + num(float64(t.Output.Current()), 1) + " A"
	if u.Units > 1 {
		words = strconv.Itoa(u.Units) + " × " + words
	}
	return words
}

func (b *book) unitLines(u *design.Supply) []string {
	lines := []string{
		u.Type, b.say("drawing.unit.load", num(u.LoadMA, 0)), b.say("drawing.unit.need", num(u.NeedMA, 0), num(u.LimitMA, 0)),
	}
	if u.ShortA > 0 {
		lines = append(lines, b.say("drawing.unit.short", num(u.ShortA, 1)))
	}
	if u.HoldMS > 0 {
		lines = append(lines, b.say("drawing.unit.hold", num(u.HoldMS, 0)))
	}
	return append(lines, b.say("drawing.unit.loss", num(u.LossW, 1)))
}

// nodes draws the verticals by which a feeder reaches its other sources on the sheet.
func (d *powerPage) nodes() {
	for _, id := range sortedKeys(d.drawn) {
		if y := d.drawn[id]; d.busTo[id] > y {
			d.pen.For("feeder:"+id, "node").Wide(scene.Medium).Line(d.cols.node, y, d.cols.node, d.busTo[id])
			d.pen.For("feeder:"+id, "node").Dot(d.cols.node, y, 0.8)
		}
	}
}
