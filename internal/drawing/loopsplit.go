package drawing

import (
	"math"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// Heights of a loop diagram in mm.
const (
	loopHead   = 7.0 // column heads
	cableHead  = 9.5 // above a strand that begins a cable
	strandHead = 6.5 // above any other strand
	wireTight  = 5.5 // between wires
	wireRoomy  = 7.5
	screenTail = 6.0 // below a screened cable's last strand
	plainTail  = 2.0
	factPitch  = 3.3
	factTop    = 7.0 // the address above the facts
	supplyHead = 5.0
	supplyRow  = 11.0
)

// columns are the columns of a loop diagram.
type columns struct {
	field, station, data scene.Rect // whole height of the sheet
	hops                 []span     // cables from left to right; a junction box stands between two
	hopCount             int
}

type span struct{ x1, x2 float64 }

func grid(v float64) float64 { return math.Round(v*2) / 2 }

// columnsOf divides the width: the same for every loop with as many cables one behind the other.
func columnsOf(area scene.Rect, hops int) columns {
	field, station, data := 0.205, 0.235, 0.25
	if hops > 1 {
		field, station, data = 0.19, 0.215, 0.225
	}
	cut := func(x, part float64) scene.Rect {
		return scene.Rect{X: x, Y: area.Y, W: grid(area.W * part), H: area.H}
	}
	c := columns{field: cut(area.X, field), hopCount: hops}
	c.data = cut(0, data)
	c.data.X = area.X + area.W - c.data.W
	c.station = cut(0, station)
	c.station.X = c.data.X - c.station.W
	x1, x2 := c.field.Right(), c.station.X
	const box = 22.0
	each := (x2 - x1 - box*float64(hops-1)) / float64(hops)
	for i := range hops {
		at := x1 + float64(i)*(each+box)
		c.hops = append(c.hops, span{grid(at), grid(at + each)})
	}
	return c
}

// part is one sheet of a loop.
type part struct {
	strands []strand
	groups  []*design.SupplyGroup // in the order of their first strand
}

// split puts a loop's strands on sheets: roomy where all fit one sheet, else tight on as many as they need.
// What a sheet holds depends on the strands before it alone.
func (b *book) split(l *loop) []part {
	area := b.free(b.loopLegend(l))
	hops := 1
	for i := range l.strands {
		l.strands[i].facts = b.facts(&l.strands[i])
		if s := l.strands[i].signal; s != nil {
			l.strands[i].hold = s.Hold
		}
		hops = max(hops, l.strands[i].hops())
	}
	cols := columnsOf(area, hops)
	l.pitch = wireRoomy
	if parts := b.fill(l, cols, area.H); len(parts) == 1 {
		return parts
	}
	l.pitch = wireTight
	return b.fill(l, cols, area.H)
}

func (b *book) fill(l *loop, cols columns, height float64) []part {
	var parts []part
	var now part
	used := 0.0
	for i := range l.strands {
		s := &l.strands[i]
		h := b.strandHeight(l, s, i, len(now.strands) == 0, cols)
		extra := 0.0
		if s.at.group != nil && !slices.Contains(now.groups, s.at.group) {
			extra = supplyRow
		}
		if len(now.strands) > 0 && loopHead+used+h+supplyHeight(len(now.groups))+extra+turnRow > height {
			parts = append(parts, now)
			now, used = part{}, 0
			h = b.strandHeight(l, s, i, true, cols)
		}
		used += h
		now.strands = append(now.strands, *s)
		if s.at.group != nil && !slices.Contains(now.groups, s.at.group) {
			now.groups = append(now.groups, s.at.group)
		}
	}
	return append(parts, now)
}

const turnRow = 5.0 // for references to the sheets before and after

func supplyHeight(groups int) float64 {
	if groups == 0 {
		return 0
	}
	return supplyHead + supplyRow*float64(groups)
}

// startsCable reports whether a strand is the first of its cable on its sheet, endsCable whether it is the last of it.
func startsCable(l *loop, i int, first bool) bool {
	return first || i == 0 || l.strands[i-1].cable() != l.strands[i].cable()
}

func endsCable(l *loop, i int) bool {
	return i == len(l.strands)-1 || l.strands[i+1].cable() != l.strands[i].cable()
}

func (b *book) strandHeight(l *loop, s *strand, i int, first bool, cols columns) float64 {
	head := strandHead
	if startsCable(l, i, first) {
		head = cableHead
	}
	tail := plainTail
	if c := b.ix.cables[s.cable()]; c != nil && endsCable(l, i) && b.ix.screened(c) {
		tail = screenTail
	}
	wires := head + l.pitch*float64(max(len(s.lines), 2)) + tail
	data := 3 + factTop + factPitch*float64(len(factLines(l, s, cols.data.W-2)))
	return math.Ceil(max(wires, data)*2) / 2
}

// factLines breaks the facts of a strand into lines: in a roomy loop each on its own, in a tight one one
// behind the other after the description.
func factLines(l *loop, s *strand, width float64) []string {
	facts := s.facts
	if l.pitch == wireTight && len(facts) > 1 {
		facts = []string{facts[0], strings.Join(facts[1:], " · ")}
	}
	var out []string
	for _, f := range facts {
		out = append(out, typeface.Wrap(typeface.Regular, typeface.Printable(f), paper.Small, width)...)
	}
	return append(out, holdLines(s, width)...)
}

// holdLines are what is still to be confirmed.
func holdLines(s *strand, width float64) []string {
	if s.hold == "" {
		return nil
	}
	return typeface.Wrap(typeface.Bold, typeface.Printable(s.hold), paper.Small, width-6)
}
