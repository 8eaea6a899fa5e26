package drawing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/paper"
	"railwright/internal/project"
	"railwright/internal/scene"
	"railwright/internal/typeface"
)

// siteNode is a place on the site plan.
type siteNode struct {
	place    *project.Place
	stations []*design.Station
	size     scene.Rect // W and H of its box; X and Y once it is laid
	x, y     float64    // as stated, metres, y downwards
	stub     string     // ID of the sheet that shows what lies behind it
}

// siteWay is a route between two places.
type siteWay struct {
	route    *project.Route
	from, to *siteNode
	field    int // field cables on it
	other    int // network and supply cables
}

// sitePlan is what the site's sheets show.
type sitePlan struct {
	nodes []*siteNode
	ways  []*siteWay
	byID  map[string]*siteNode
}

// sitePlan collects places and routes, by id.
func (b *book) sitePlan() *sitePlan {
	s := &sitePlan{byID: map[string]*siteNode{}}
	for i := range b.Project.Places {
		p := &b.Project.Places[i]
		n := &siteNode{place: p}
		if p.X.Set && p.Y.Set {
			n.x, n.y = float64(p.X.Value), -float64(p.Y.Value)
		}
		s.nodes = append(s.nodes, n)
		s.byID[p.ID] = n
	}
	slices.SortFunc(s.nodes, func(x, y *siteNode) int { return strings.Compare(x.place.ID, y.place.ID) })
	for i := range b.Design.Stations {
		if n := s.byID[b.Design.Stations[i].Place]; n != nil {
			n.stations = append(n.stations, &b.Design.Stations[i])
		}
	}
	ways := map[string]*siteWay{}
	for i := range b.Project.Routes {
		r := &b.Project.Routes[i]
		from, to := s.byID[r.From], s.byID[r.To]
		if from == nil || to == nil || from == to {
			continue
		}
		w := &siteWay{route: r, from: from, to: to}
		ways[r.ID] = w
		s.ways = append(s.ways, w)
	}
	slices.SortFunc(s.ways, func(x, y *siteWay) int { return strings.Compare(x.route.ID, y.route.ID) })
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		for _, id := range c.Route {
			if w := ways[id]; w != nil && (c.Use == "field" || c.Use == "multicore") {
				w.field++
			} else if w != nil {
				w.other++
			}
		}
	}
	return s
}

// surveyed reports whether every place states where it is.
func (s *sitePlan) surveyed() bool {
	for _, n := range s.nodes {
		if !n.place.X.Set || !n.place.Y.Set {
			return false
		}
	}
	return len(s.nodes) > 0
}

// boxSizes are the sizes of a place's box that are tried, large to small; the smallest has no name.
var boxSizes = []struct{ w, h float64 }{{34, 8.2}, {27, 8.2}, {20, 8.2}, {15, 4.6}}

const stationTag = 4.4 // height of a station's tag below its place

func (s *sitePlan) measure(w, h float64) {
	for _, n := range s.nodes {
		n.size = scene.Rect{W: w, H: h + stationTag*float64(len(n.stations))}
	}
}

// site draws the site plan: to the places' positions where the project states them and they fit, else as a
// tree of routes from the controller.
func (b *book) site() {
	s := b.sitePlan()
	if len(s.nodes) == 0 {
		return
	}
	area := b.free(siteLegend).Below(siteHead)
	area.H -= turnRow
	laid := false
	if s.surveyed() {
		for _, size := range boxSizes {
			s.measure(size.w, size.h)
			if laid = s.spread(area); laid {
				break
			}
		}
	}
	if laid {
		b.siteSheet(s, 1, s.nodes, "", false)
	} else {
		b.siteTrees(s)
	}
	b.siteTables(s)
}

const siteHead = 6.0

// siteSheet draws some of the places, which are laid, and the routes between them.
func (b *book) siteSheet(s *sitePlan, n int, nodes []*siteNode, back string, tree bool) {
	pg := b.open(paper.Block{
		ID: more("site", n), Kind: "site", Number: numberOf("SP", "1", n), Chapter: b.say("drawing.chapter.site"), Title: titleOf(b.say("drawing.site.title"), n),
	}, siteLegend)
	d := &sitePage{book: b, page: pg}
	note := b.say("drawing.site.spread")
	if tree {
		note = b.say("drawing.site.tree")
	}
	head := pg.pen.For("", "head").Font(typeface.Regular, paper.Small)
	head.TextIn(scene.Rect{X: pg.area.X, Y: pg.area.Y, W: pg.area.W - 60, H: 4.5}, scene.Left, 1.8, note)
	if back != "" {
		b.reference(pg.pen, scene.Rect{X: pg.area.Right() - 60, Y: pg.area.Y, W: 60, H: 4.5}, b.say("drawing.from"), back, scene.Right)
	}
	here := map[*siteNode]bool{}
	for _, node := range nodes {
		here[node] = true
		d.taken = append(d.taken, node.size)
	}
	var lines []laidWay
	for _, w := range s.ways {
		if here[w.from] && here[w.to] {
			line := d.route(w)
			d.way(w, line)
			lines = append(lines, laidWay{w, line})
		}
	}
	for _, node := range nodes {
		d.place(node)
	}
	for _, l := range lines {
		d.label(l)
	}
}

type laidWay struct {
	way  *siteWay
	line []scene.Point
}

// sitePage is a site plan being drawn.
type sitePage struct {
	*book
	page
	taken  []scene.Rect // boxes and labels
	drawn  []scene.Point
	labels []scene.Rect
}

// way draws a route: its line by how it is laid, wider where field cables lie on it.
func (d *sitePage) way(w *siteWay, line []scene.Point) {
	width := scene.Thin
	if w.field > 0 {
		width = scene.Thick
	}
	d.pen.On("routes").For("route:"+w.route.ID, "route").Wide(width).Dash(mediumDash(w.route.Medium)).Polyline(line...)
}

func mediumDash(medium string) scene.Dash {
	switch medium {
	case "duct":
		return scene.Dashed
	case "conduit":
		return scene.Chain
	case "buried":
		return scene.Dotted
	}
	return scene.Whole
}

// place draws a place with its marks and the tags of its stations.
func (d *sitePage) place(n *siteNode) {
	r := n.size
	r.H -= stationTag * float64(len(n.stations))
	p := d.pen.On("places").For("place:"+n.place.ID, "place").Wide(scene.Thin).Fill(scene.White)
	if n.place.Forbidden {
		p.Rect(r)
		p.Role("forbidden").Wide(scene.Hair).Ink(scene.Light).Hatch(scene.Rect{X: r.Right() - 4, Y: r.Y, W: 4, H: r.H}, 1.2)
	} else {
		p.Rect(r)
	}
	if n.place.Controller {
		p.Role("controller").Wide(scene.Medium).Fill(scene.None).Rect(n.size.Inset(-0.9))
	}
	text := p.Font(typeface.Bold, paper.Small)
	if n.place.PowerSource {
		p.Role("power source").Fill(scene.White).Circle(r.Right()-3, r.Y+2.3, 1.5)
		p.Role("power source").Polyline(scene.Point{X: r.Right() - 3.9, Y: r.Y + 2.5}, scene.Point{X: r.Right() - 3.3, Y: r.Y + 1.9}, scene.Point{X: r.Right() - 2.7, Y: r.Y + 2.7}, scene.Point{X: r.Right() - 2.1, Y: r.Y + 2.1})
	}
	room := r.W - 7
	text.Role("id").TextIn(scene.Rect{X: r.X + 1, Y: r.Y + 0.6, W: room, H: 3.4}, scene.Left, 1.8, n.place.ID)
	if r.H > 8 {
		text.Role("name").Font(typeface.Regular, paper.Small).TextIn(scene.Rect{X: r.X + 1, Y: r.Y + 4.2, W: r.W - 2, H: 3.4}, scene.Left, 1.8, d.ix.placeName(n.place.ID))
	}
	for i, st := range n.stations {
		tag := scene.Rect{X: r.X, Y: r.Bottom() + stationTag*float64(i), W: r.W, H: stationTag}
		sp := d.pen.On("places").For("station:"+st.ID, "station").Wide(scene.Medium).Fill(scene.Pale)
		sp.Rect(tag)
		sp.Font(typeface.Bold, paper.Small).Fill(scene.None).TextIn(tag.Inset(0.5), scene.Middle, 1.8, st.ID)
	}
	if n.stub != "" {
		refer(d.pen.On("places").For("place:"+n.place.ID, "").Font(typeface.Regular, paper.Small), scene.Rect{X: n.size.Right() + 1, Y: n.size.MidY() - 2, W: 14, H: 4}, n.stub, scene.Left)
	}
}

// siteTables lists places and routes with what serves them and lies on them.
func (b *book) siteTables(s *sitePlan) {
	places := &listing{title: b.say("drawing.site.places"), cols: []listCol{
		{b.say("drawing.site.place"), 16, scene.Left}, {b.say("drawing.site.name"), 50, scene.Left}, {b.say("drawing.site.cables"), 56, scene.Left},
	}}
	served := b.served()
	for _, n := range s.nodes {
		id := n.place.ID
		places.rows = append(places.rows, []listCell{
			{words: id, subject: "place:" + id, role: "row"}, {words: b.ix.placeName(id)}, {words: strings.Join(served[id], ", ")},
		})
	}
	routes := &listing{title: b.say("drawing.site.routes"), cols: []listCol{
		{b.say("drawing.site.route"), 30, scene.Left},
		{b.say("drawing.site.length"), 15, scene.Right},
		{b.say("drawing.site.medium"), 16, scene.Left},
		{b.say("drawing.site.field"), 20, scene.Right},
		{b.say("drawing.site.other"), 20, scene.Right},
	}}
	for _, w := range s.ways {
		routes.rows = append(routes.rows, []listCell{
			{words: w.from.place.ID + " – " + w.to.place.ID, subject: "route:" + w.route.ID, role: "row"},
			{words: num(w.route.Length.Metres(), 1)},
			{words: w.route.Medium},
			{words: strconv.Itoa(w.field)},
			{words: strconv.Itoa(w.other)},
		})
	}
	f := &sheetFlow{b: b, kind: "site", prefix: "SP", subject: "places", name: b.say("drawing.site.list"), chapter: b.say("drawing.chapter.site"), marks: siteLegend}
	f.next()
	f.columns(places, routes)
}

// served says for each place how many field cables of its devices go to which station.
func (b *book) served() map[string][]string {
	count := map[string]map[string]int{}
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		to, ok := strings.CutPrefix(c.To, "station:")
		if !strings.HasPrefix(c.From, "device:") || len(c.Signals) == 0 {
			continue
		}
		if !ok {
			to = strings.TrimPrefix(c.To, "junction_box:")
		}
		s := b.ix.signals[c.Signals[0]]
		if s == nil {
			continue
		}
		if count[s.Place] == nil {
			count[s.Place] = map[string]int{}
		}
		count[s.Place][to]++
	}
	out := map[string][]string{}
	for place, to := range count {
		for _, st := range sortedKeys(to) {
			out[place] = append(out[place], fmt.Sprintf("%d → %s", to[st], st))
		}
	}
	return out
}

var siteLegend = []mark{
	{"place", func(p scene.Pen, r scene.Rect) { p.Rect(r.Inset(0.3)) }},
	{"controller", func(p scene.Pen, r scene.Rect) { p.Rect(r.Inset(0.9)); p.Wide(scene.Medium).Rect(r.Inset(0.2)) }},
	{"board", func(p scene.Pen, r scene.Rect) {
		p.Circle(r.MidX(), r.MidY(), 1.5)
		p.Polyline(scene.Point{X: r.MidX() - 0.9, Y: r.MidY() + 0.2}, scene.Point{X: r.MidX() - 0.3, Y: r.MidY() - 0.4}, scene.Point{X: r.MidX() + 0.3, Y: r.MidY() + 0.4}, scene.Point{X: r.MidX() + 0.9, Y: r.MidY() - 0.2})
	}},
	{"station", func(p scene.Pen, r scene.Rect) { p.Wide(scene.Medium).Fill(scene.Pale).Rect(r.Inset(0.4)) }},
	{"forbidden", func(p scene.Pen, r scene.Rect) {
		p.Rect(r.Inset(0.3))
		p.Wide(scene.Hair).Ink(scene.Light).Hatch(scene.Rect{X: r.Right() - 4.3, Y: r.Y + 0.3, W: 4, H: r.H - 0.6}, 1.2)
	}},
	{"tray", wayMark(scene.Whole, scene.Thin)},
	{"duct", wayMark(scene.Dashed, scene.Thin)},
	{"conduit", wayMark(scene.Chain, scene.Thin)},
	{"buried", wayMark(scene.Dotted, scene.Thin)},
	{"laden", wayMark(scene.Whole, scene.Thick)},
}

func wayMark(dash scene.Dash, width float64) func(p scene.Pen, r scene.Rect) {
	return func(p scene.Pen, r scene.Rect) { p.Wide(width).Dash(dash).Line(r.X, r.MidY(), r.Right(), r.MidY()) }
}
