package drawing

import (
	"fmt"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// netNode is a node of the network as drawn: its children hang on it, in the order of the segments.
type netNode struct {
	id       string // "controller", "station:ID"
	segment  *design.Segment
	children []*netNode
}

// netRow is a node's place: a column and a row, and the row of the node it hangs on.
type netRow struct {
	node   *netNode
	column int
	parent int
}

// tree turns the segments into the tree that is seen from the controller; closing are those that close a ring.
func (b *book) netTree() (root *netNode, closing []*design.Segment) {
	next := map[string][]*design.Segment{}
	for i := range b.Design.Network.Segments {
		s := &b.Design.Network.Segments[i]
		next[s.From] = append(next[s.From], s)
		next[s.To] = append(next[s.To], s)
	}
	root = &netNode{id: "controller"}
	seen := map[string]bool{root.id: true}
	used := map[*design.Segment]bool{}
	var walk func(n *netNode)
	walk = func(n *netNode) {
		for _, s := range next[n.id] {
			other := s.To
			if other == n.id {
				other = s.From
			}
			if used[s] || seen[other] {
				continue
			}
			used[s], seen[other] = true, true
			n.children = append(n.children, &netNode{id: other, segment: s})
		}
		for _, c := range n.children {
			walk(c)
		}
	}
	// A ring is walked one way round: its last segment closes it.
	if b.Design.Network.Topology == "ring" && len(next[root.id]) > 1 {
		used[next[root.id][len(next[root.id])-1]] = true
	}
	walk(root)
	for i := range b.Design.Network.Segments {
		s := &b.Design.Network.Segments[i]
		if n := used[s]; !n || isClosing(b, s, next) {
			closing = append(closing, s)
		}
	}
	return root, closing
}

func isClosing(b *book, s *design.Segment, next map[string][]*design.Segment) bool {
	all := next["controller"]
	return b.Design.Network.Topology == "ring" && len(all) > 1 && s == all[len(all)-1]
}

// rows lays a tree: a lone child stands right below its parent, several stand one column further in.
func (n *netNode) rows() []netRow {
	var out []netRow
	var lay func(n *netNode, column, parent int)
	lay = func(n *netNode, column, parent int) {
		out = append(out, netRow{n, column, parent})
		at := len(out) - 1
		in := column
		if len(n.children) > 1 {
			in++
		}
		for _, c := range n.children {
			lay(c, in, at)
		}
	}
	lay(n, 0, -1)
	return out
}

const (
	netPitch  = 12.0
	netBox    = 7.4
	netTop    = 11.0
	netIndent = 16.0
)

// network draws the controller, the stations with name and address, and the cables between them.
func (b *book) network() {
	root, closing := b.netTree()
	rows := root.rows()
	if len(rows) < 2 {
		return
	}
	free := b.free(networkLegend)
	per := max(int((free.H-netTop-turnRow)/netPitch), 1)
	for n := 1; (n-1)*per < len(rows); n++ {
		pg := b.open(paper.Block{
			ID: more("network", n), Kind: "network", Number: numberOf("NW", "1", n), Chapter: b.say("drawing.chapter.power"), Title: b.say("drawing.network.title"),
		}, networkLegend)
		d := &netPage{book: b, page: pg, rows: rows, from: (n - 1) * per, to: min(n*per, len(rows))}
		d.draw()
		if len(closing) > 0 {
			d.close(closing[0])
		}
		b.turns(pg, "network", n, n*per < len(rows))
	}
}

type netPage struct {
	*book
	page
	rows     []netRow
	from, to int
}

// box is where the i-th row's node stands.
func (d *netPage) box(i int) scene.Rect {
	a := d.area
	return scene.Rect{X: a.X + 6 + netIndent*float64(min(d.rows[i].column, 6)), Y: a.Y + netTop + netPitch*float64(i-d.from), W: 62, H: netBox}
}

func (d *netPage) draw() {
	a := d.area
	net := d.Design.Network
	words := []string{net.Profile, net.Topology}
	if net.UpdateMS > 0 {
		words = append(words, d.say("drawing.network.update", num(net.UpdateMS, 1)))
	}
	if net.LoadPct > 0 {
		words = append(words, d.say("drawing.network.load", num(net.LoadPct, 1)))
	}
	d.pen.For("network", "head").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: a.X, Y: a.Y, W: a.W, H: 5}, scene.Left, 1.8, strings.Join(words, " · "))
	for i := d.from; i < d.to; i++ {
		d.link(i)
	}
	for i := d.from; i < d.to; i++ {
		d.node(i)
	}
	d.through()
}

// optical marks a line that is an optical cable: a ring on it.
func (d *netPage) optical(p scene.Pen, x, y float64) {
	if t := d.ix.types[d.cableType()]; t != nil && strings.Contains(t.Family, "fibre") {
		p.Wide(scene.Thin).Fill(scene.White).Circle(x, y, 1.1)
	}
}

func (d *netPage) cableType() string {
	for _, s := range d.Design.Network.Segments {
		if c := d.ix.cables[s.Cable]; c != nil {
			return c.Type
		}
	}
	return ""
}

// link draws the cable from the node above to the i-th node, with its name and length.
func (d *netPage) link(i int) {
	r := d.rows[i]
	if r.parent < 0 {
		return
	}
	s := r.node.segment
	box := d.box(i)
	p := d.pen.For("cable:"+s.Cable, "network cable").Wide(scene.Medium)
	top := d.area.Y + 6.5
	parent := d.rows[r.parent]
	x := d.lead(i)
	if r.parent >= d.from {
		top = d.box(r.parent).Bottom()
	}
	label := scene.Rect{X: x + 2.5, Y: box.Y - 4.4, W: 90, H: 4.2}
	if r.column == parent.column {
		p.Line(x, top, x, box.Y)
		d.optical(p, x, box.Y-2.3)
	} else {
		p.Polyline(scene.Point{X: x, Y: top}, scene.Point{X: x, Y: box.MidY()}, scene.Point{X: box.X, Y: box.MidY()})
		d.optical(p, box.X-1.1, box.MidY())
		label = scene.Rect{X: box.X, Y: box.Y - 4.6, W: 90, H: 4.2}
	}
	words := s.Cable
	if c := d.ix.cables[s.Cable]; c != nil {
		words = c.Name + " · " + c.Type
	}
	words += " · " + num(s.LengthM, 1) + " m"
	if s.LimitM > 0 {
		words += " " + d.say("drawing.network.limit", num(s.LimitM, 0))
	}
	d.pen.For("cable:"+s.Cable, "cable").Font(typeface.Regular, paper.Small).TextIn(label, scene.Left, 1.8, words)
}

// lead is the x of the line that comes down to the i-th node. Where several hang on one node each has a line
// of its own, the first at the right, so that none crosses another.
func (d *netPage) lead(i int) float64 {
	r := d.rows[i]
	left := d.area.X + 6 + netIndent*float64(min(d.rows[r.parent].column, 6))
	if len(d.rows[r.parent].node.children) < 2 {
		return left + netIndent/2
	}
	before, all := 0, 0
	for k := d.from; k < d.to; k++ {
		if d.rows[k].parent == r.parent {
			all++
			if k < i {
				before++
			}
		}
	}
	step := min(1.5, (netIndent-5.5)/float64(max(all-1, 1)))
	return left + netIndent - 3.5 - step*float64(before)
}

// through carries on the lines of nodes on other sheets.
func (d *netPage) through() {
	for i := d.to; i < len(d.rows); i++ {
		p := d.rows[i].parent
		if p < d.from || p >= d.to {
			continue
		}
		x := d.box(p).X + netIndent/2
		if len(d.rows[p].node.children) > 1 {
			x = d.box(p).X + 1.2
		}
		d.pen.For("network", "onto").Wide(scene.Medium).Arrow(x, d.box(p).Bottom(), x, d.area.Bottom()-turnRow, 2)
		break
	}
}

func (d *netPage) node(i int) {
	r := d.rows[i]
	box := d.box(i)
	p := d.pen.For(r.node.id, "node").Wide(scene.Medium).Fill(scene.White)
	p.Rect(box)
	text := func(role string, row int, st typeface.Style, words string) {
		p.Role(role).Font(st, paper.Small).TextIn(scene.Rect{X: box.X + 1.5, Y: box.Y + 0.7 + 3.2*float64(row), W: box.W - 3, H: 3.2}, scene.Left, 1.8, words)
	}
	id, ok := strings.CutPrefix(r.node.id, "station:")
	if !ok {
		text("controller", 0, typeface.Bold, d.say("drawing.loop.controller")+" "+d.Design.Project.Controller)
		words := d.say("drawing.network.stations", len(d.Design.Stations))
		for _, pl := range d.Project.Places {
			if pl.Controller {
				words = d.ix.placeName(pl.ID) + " · " + words
			}
		}
		text("place", 1, typeface.Regular, words)
		return
	}
	p.Role("station").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X + 1.5, Y: box.Y + 0.7, W: 30, H: 3.2}, scene.Left, 1.8, id)
	st, at := d.ix.stations[id], d.ix.node[id]
	if at != nil {
		words := d.say("drawing.network.node", at.Node)
		p.Role("node number").Font(typeface.Bold, paper.Small).TextIn(scene.Rect{X: box.X + 32, Y: box.Y + 0.7, W: box.W - 33.5, H: 3.2}, scene.Right, 1.8, words)
		name := at.Name
		if at.Address != "" {
			name = at.Address + "  " + name
		}
		text("address", 1, typeface.Mono, name)
	}
	if st == nil {
		return
	}
	side := scene.Rect{X: box.Right() + 3, Y: box.Y + 0.7, W: d.area.Right() - box.Right() - 12, H: 3.2}
	data := d.pen.For(r.node.id, "station data").Font(typeface.Regular, paper.Small)
	data.TextIn(side, scene.Left, 1.8, d.ix.placeName(st.Place)+" · "+st.Coupler)
	side.Y += 3.3
	words := d.say("drawing.network.bytes", st.InputBytes, st.FirstInByte, st.OutputBytes, st.FirstOutByte)
	if st.UpdateMS > 0 {
		words += " · " + d.say("drawing.network.update", num(st.UpdateMS, 1))
	}
	data.TextIn(side, scene.Left, 1.8, words)
}

// close draws the cable that closes a ring, back to the controller along the right.
func (d *netPage) close(s *design.Segment) {
	last := len(d.rows) - 1
	x := d.area.Right() - 4
	p := d.pen.For("cable:"+s.Cable, "network cable").Wide(scene.Medium)
	top, bottom := d.area.Y+6.5, d.area.Bottom()-turnRow
	if d.from == 0 {
		top = d.box(0).MidY() - 2
		p.Line(d.box(0).Right(), top, x, top)
	}
	if d.to == len(d.rows) {
		box := d.box(last)
		bottom = box.Bottom() + 2
		p.Polyline(scene.Point{X: box.Right() - 6, Y: box.Bottom()}, scene.Point{X: box.Right() - 6, Y: bottom}, scene.Point{X: x, Y: bottom})
	}
	p.Line(x, top, x, bottom)
	words := fmt.Sprintf("%s · %s m", s.Cable, num(s.LengthM, 1))
	d.pen.For("cable:"+s.Cable, "cable").Font(typeface.Regular, paper.Small).TextUpIn(scene.Rect{X: x - 4.5, Y: top + 6, W: 4, H: max(min(bottom-top-8, 60), 20)}, scene.Middle, 1.8, words)
}

var networkLegend = []mark{
	{"copper", func(p scene.Pen, r scene.Rect) { p.Wide(scene.Medium).Line(r.X, r.MidY(), r.Right(), r.MidY()) }},
	{"fibre", func(p scene.Pen, r scene.Rect) {
		p.Wide(scene.Medium).Line(r.X, r.MidY(), r.Right(), r.MidY())
		p.Fill(scene.White).Circle(r.MidX(), r.MidY(), 1.1)
	}},
	{"node", func(p scene.Pen, r scene.Rect) { p.Rect(r.Inset(0.3)) }},
}
