package drawing

import (
	"strconv"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Stage is a stage of assembling a station, in the order in which the workshop goes.
type Stage string

// The stages. Bases is empty for a construction without bases; EndPiece for one without an end piece.
const (
	StageRail     Stage = "rail"
	StageCoupler  Stage = "coupler"
	StageBases    Stage = "bases"
	StageModules  Stage = "modules"
	StageEndPiece Stage = "end piece"
	StageInfeed   Stage = "infeed"
	StageField    Stage = "field"
	StageScreens  Stage = "screens"
	StageNetwork  Stage = "network"
)

// Stages are all stages in their order.
var Stages = []Stage{StageRail, StageCoupler, StageBases, StageModules, StageEndPiece, StageInfeed, StageField, StageScreens, StageNetwork}

// Steps draws the small pictures of an assembly guide.
type Steps struct{ b *book }

// NewSteps returns the pictures of a design.
func NewSteps(in Input) *Steps { return &Steps{newBook(in)} }

// StepHeight is the height of every picture, mm.
const StepHeight = 30.0

// Picture draws a stage of one station: what is already there thin and grey, what the step adds black. The
// items lie between 0 and width, 0 and StepHeight; scene.Shift puts them in their place. Nothing is returned
// for a station that the design does not have, or a stage that its construction does not know.
func (s *Steps) Picture(station string, stage Stage, width float64) []scene.Item {
	st := s.b.ix.stations[station]
	if st == nil || stage == StageBases && !based(st) || stage == StageEndPiece && st.EndPiece == "" {
		return nil
	}
	at := -1
	for i, k := range Stages {
		if k == stage {
			at = i
		}
	}
	if at < 0 {
		return nil
	}
	r := s.b.rackOf(st)
	const over = 4.0
	scale := min((width-2*over-2)/r.length, 0.5)
	var sheet scene.Sheet
	d := &stepPen{b: s.b, p: scene.NewPen(&sheet).Font(typeface.Regular, paper.Small), r: r, scale: scale, left: over + 1, stage: at}
	d.draw(over)
	return sheet.Items()
}

// Heights of a step's picture, from its top.
const (
	stepTop  = 6.0  // body of the modules
	stepFoot = 16.0 // bases, or the lower part of the modules
	stepEnd  = 21.0 // lower end of the parts
)

type stepPen struct {
	b           *book
	p           scene.Pen
	r           *rack
	scale, left float64
	stage       int
}

// since returns the pen for what a stage adds: black in its own picture, grey in later ones; false before.
func (d *stepPen) since(stage Stage) (scene.Pen, bool) {
	for i, k := range Stages {
		if k != stage {
			continue
		}
		switch {
		case i == d.stage:
			return d.p.Wide(scene.Medium).Ink(scene.Black).Fill(scene.Pale), true
		case i < d.stage:
			return d.p.Wide(scene.Hair).Ink(scene.Mid).Fill(scene.White), true
		}
	}
	return d.p, false
}

func (d *stepPen) box(q *rackPart, top, bottom float64) scene.Rect {
	return scene.Rect{X: d.left + q.from*d.scale, Y: top, W: q.width * d.scale, H: bottom - top}
}

func (d *stepPen) draw(over float64) {
	d.rail(over)
	for i := range d.r.parts {
		d.part(&d.r.parts[i])
	}
	d.infeeds()
	d.wires()
	d.network()
}

// rail draws the rail alone, with its earth.
func (d *stepPen) rail(over float64) {
	p, _ := d.since(StageRail)
	p = p.For("station:"+d.r.station.ID, "rail")
	x1, x2 := d.left-over, d.left+d.r.length*d.scale+over
	y := (stepTop + stepEnd) / 2
	p.Rect(scene.Rect{X: x1, Y: y - 3, W: x2 - x1, H: 6})
	p.Line(x1, y-1.8, x2, y-1.8)
	p.Line(x1, y+1.8, x2, y+1.8)
	if d.stage == 0 {
		p.Line(x1+3, y+3, x1+3, y+7)
		earth(p, x1+3, y+7)
		dimension(p.Wide(scene.Hair), x1+over, x2-over, stepEnd+6, num(d.r.length, 0)+" mm")
	}
}

func (d *stepPen) part(q *rackPart) {
	switch {
	case q.slot != nil:
		d.slot(q)
	case q.end:
		if p, ok := d.since(StageEndPiece); ok {
			b := d.box(q, stepTop, stepEnd)
			p.For("part:"+q.code, "end piece").Rect(b)
			d.label(StageEndPiece, "part:"+q.code, b, q.code)
		}
	default:
		if p, ok := d.since(StageCoupler); ok {
			b := d.box(q, stepTop, stepEnd)
			p = p.For("station:"+d.r.station.ID, "coupler")
			p.Rect(b)
			small(p.Ink(scene.Black).Font(typeface.Bold, paper.Small), b, d.r.station.ID)
		}
	}
}

// label names a part of the stage at hand above it.
func (d *stepPen) label(stage Stage, subject string, b scene.Rect, words string) {
	if Stages[d.stage] != stage {
		return
	}
	p := d.p.For(subject, string(stage))
	w := p.TextWidth(words) + 0.4
	p.TextIn(scene.Rect{X: b.Right() - w, Y: 1, W: w, H: 3.4}, scene.Right, 1.8, words)
}

// slot draws the base, then the module on it; a module without base takes both heights.
func (d *stepPen) slot(q *rackPart) {
	subject := slotSubject(d.r.station, q.slot)
	top, number := stepTop, scene.Rect{}
	if q.slot.Base != "" {
		if p, ok := d.since(StageBases); ok {
			b := d.box(q, stepFoot, stepEnd)
			if Stages[d.stage] == StageBases {
				b.Y, b.H = stepTop+4, stepEnd-stepTop-4
			}
			p.For(subject, "base").Rect(b)
			if q.slot.Infeed {
				p.For(subject, "infeed base").Ink(scene.Black).Dot(b.MidX(), b.Bottom()-1.6, min(0.8, b.W/3))
			}
			number = b
		}
	}
	if p, ok := d.since(StageModules); ok {
		b := d.box(q, top, stepEnd)
		if q.slot.Base != "" {
			b.H = stepFoot - stepTop
		}
		p.For(subject, "module").Rect(b)
		number = b
	}
	if number.W > 0 {
		number.H = min(number.H, 6)
		small(d.p.For(subject, "slot"), number, strconv.Itoa(q.slot.Slot))
	}
}

// infeeds draws the supply pairs.
func (d *stepPen) infeeds() {
	p, ok := d.since(StageInfeed)
	if !ok {
		return
	}
	end := -1.0
	for i := range d.r.station.SupplyGroups {
		g := &d.r.station.SupplyGroups[i]
		slot, coupler := infeedOf(g)
		for k := range d.r.parts {
			q := &d.r.parts[k]
			if !(coupler && k == 0 || q.slot != nil && q.slot.Slot == slot) {
				continue
			}
			b := d.box(q, stepTop, stepEnd)
			arrow := p.For("group:"+g.ID, "infeed point")
			arrow.Arrow(b.MidX(), stepEnd+5, b.MidX(), stepEnd-1, 1.8)
			if Stages[d.stage] == StageInfeed {
				end = d.guard(g, b.MidX(), end)
			}
		}
	}
}

// guard writes the protective device below its arrow, where the one before leaves room.
func (d *stepPen) guard(g *design.SupplyGroup, x, end float64) float64 {
	guard := d.b.ix.guards["group:"+g.ID]
	if guard == nil {
		return end
	}
	p := d.p.For("protection:"+guard.ID, "protection")
	words := short(guard.ID, d.r.station.ID)
	w := p.TextWidth(words) + 0.4
	if x-w/2 < end {
		return end
	}
	p.TextIn(scene.Rect{X: x - w/2, Y: stepEnd + 5.2, W: w, H: 3.3}, scene.Middle, 1.8, words)
	return x + w/2 + 0.3
}

// wires draws the field wires of each slot in use, and the bar on which their screens land.
func (d *stepPen) wires() {
	p, ok := d.since(StageField)
	if !ok {
		return
	}
	for k := range d.r.parts {
		q := &d.r.parts[k]
		if q.slot == nil {
			continue
		}
		if n, _ := used(q.slot); n == 0 {
			continue
		}
		b := d.box(q, stepTop, stepEnd)
		lines := p.For(slotSubject(d.r.station, q.slot), "field wires")
		stubs := []float64{0.3, 0.5, 0.7}
		if b.W < 3 {
			stubs = []float64{0.5}
		}
		for _, at := range stubs {
			lines.Line(b.X+b.W*at, stepEnd, b.X+b.W*at, stepEnd+4)
		}
	}
	if s, ok := d.since(StageScreens); ok {
		s = s.For("station:"+d.r.station.ID, "screen bar")
		bar := scene.Rect{X: d.left, Y: stepEnd + 4.5, W: d.r.length * d.scale, H: 1.6}
		s.Rect(bar)
		s.Line(bar.X+3, bar.Bottom(), bar.X+3, bar.Bottom()+0.8)
		earth(s, bar.X+3, bar.Bottom()+0.8)
	}
}

// network draws the network cable into the coupler.
func (d *stepPen) network() {
	p, ok := d.since(StageNetwork)
	if !ok || len(d.r.parts) == 0 {
		return
	}
	b := d.box(&d.r.parts[0], stepTop, stepEnd)
	p = p.For("station:"+d.r.station.ID, "network cable")
	p.Polyline(scene.Point{X: b.X + 2, Y: 2.5}, scene.Point{X: b.MidX(), Y: 2.5}, scene.Point{X: b.MidX(), Y: stepTop})
	p.Fill(scene.Black).Wide(0).Rect(scene.Rect{X: b.MidX() - 1, Y: stepTop - 1.2, W: 2, H: 1.6})
	if n := d.b.ix.node[d.r.station.ID]; n != nil {
		q := d.p.For("station:"+d.r.station.ID, "address").Font(typeface.Mono, paper.Small)
		q.TextIn(scene.Rect{X: b.MidX() + 1.5, Y: 1, W: q.TextWidth(n.Address) + 0.4, H: 3.2}, scene.Left, 1.8, n.Address)
	}
}
