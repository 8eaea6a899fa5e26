package schedule

import (
	"cmp"
	"slices"
	"strings"

	"railwright/internal/design"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// haul is a cable with its way seen from the hub: the station or board at which many ways meet.
type haul struct {
	cable *design.Cable
	hub   string   // subject of the hub
	way   []string // route ids from the hub on
}

// useOrder is the order in which cables of different uses are pulled: the heavy first, the tender last.
//
// Source: common practice.
var useOrder = []string{"supply", "multicore", "field", "network"}

func useRank(use string) int {
	if i := slices.Index(useOrder, use); i >= 0 {
		return i
	}
	return len(useOrder)
}

// haulOf looks at a cable from its hub: field cables and multicores from the station, supply and network
// cables from the board or the controller.
func haulOf(c *design.Cable) haul {
	h := haul{cable: c, hub: c.To, way: slices.Clone(c.Route)}
	if c.Use == "supply" || c.Use == "network" {
		h.hub = c.From
		return h
	}
	slices.Reverse(h.way)
	return h
}

// branch is a node of the tree of ways from one hub.
type branch struct {
	ends []haul // cables that end here
	next map[string]*branch
	keys []string
	far  float64 // length of the longest cable from here on
}

func (n *branch) put(h haul, way []string) {
	n.far = max(n.far, h.cable.LengthM)
	if len(way) == 0 {
		n.ends = append(n.ends, h)
		return
	}
	if n.next == nil {
		n.next = map[string]*branch{}
	}
	if n.next[way[0]] == nil {
		n.next[way[0]] = &branch{}
		n.keys = append(n.keys, way[0])
	}
	n.next[way[0]].put(h, way[1:])
}

// walk lists the cables so that those with common sections follow each other, the longest way first.
func (n *branch) walk(out []haul) []haul {
	slices.SortFunc(n.keys, func(a, b string) int { return cmp.Or(cmp.Compare(n.next[b].far, n.next[a].far), cmp.Compare(a, b)) })
	for _, k := range n.keys {
		out = n.next[k].walk(out)
	}
	slices.SortFunc(n.ends, func(a, b haul) int {
		return cmp.Or(cmp.Compare(b.cable.LengthM, a.cable.LengthM), cmp.Compare(a.cable.ID, b.cable.ID))
	})
	return append(out, n.ends...)
}

// hauls returns all cables in the order of pulling.
func (b *builder) hauls() []haul {
	type group struct {
		rank int
		hub  string
		root *branch
	}
	var groups []*group
	byKey := map[string]*group{}
	for i := range b.Design.Cables {
		h := haulOf(&b.Design.Cables[i])
		key := h.cable.Use + " " + h.hub
		if byKey[key] == nil {
			byKey[key] = &group{useRank(h.cable.Use), h.hub, &branch{}}
			groups = append(groups, byKey[key])
		}
		byKey[key].root.put(h, h.way)
	}
	slices.SortStableFunc(groups, func(x, y *group) int {
		return cmp.Or(cmp.Compare(x.rank, y.rank), cmp.Compare(y.root.far, x.root.far), cmp.Compare(x.hub, y.hub))
	})
	var out []haul
	for _, g := range groups {
		out = g.root.walk(out)
	}
	return out
}

// pulling is the pull list: cables in the order in which they are pulled, those with the same way from
// the same hub as one pull.
func (b *builder) pulling() Table {
	t := table("pulls", "order", "pull", "use", "cable_id", "cable", "type", "hub", "far_end", "way", "media", "shared_m", "length_m",
		"diameter_mm", "bend_mm", "drum")
	t.Paper = []string{"order", "pull", "cable", "type", "hub", "far_end", "way", "length_m", "bend_mm", "drum"}
	b.pulls = map[string]int{}
	routes := map[string]project.Route{}
	for _, r := range b.Project.Routes {
		routes[r.ID] = r
	}
	pull := 0
	var last haul
	for i, h := range b.hauls() {
		same := last.cable != nil && last.cable.Use == h.cable.Use && last.hub == h.hub
		if !same || !slices.Equal(last.way, h.way) {
			pull++
		}
		shared := q.Millimetres(0)
		for k := 0; same && k < min(len(last.way), len(h.way)) && last.way[k] == h.way[k]; k++ {
			shared += routes[h.way[k]].Length
		}
		far := h.cable.From
		if far == h.hub {
			far = h.cable.To
		}
		diameter, bend := Cell{}, Cell{}
		if k := b.typeOf(h.cable); k != nil {
			diameter, bend = positive(float64(k.DiameterUM)/1000), positive(float64(k.Bend))
		}
		b.pulls[h.cable.ID] = i + 1
		t.add(whole(i+1), whole(pull), text(h.cable.Use), text(h.cable.ID), text(h.cable.Name), text(h.cable.Type), text(b.thing(h.hub)), text(b.thing(far)),
			text(strings.Join(h.way, " ")), text(media(h.way, routes)), number(shared.Metres()), number(h.cable.LengthM),
			diameter, bend, text(b.drumOf(h.cable)))
		last = h
	}
	return t
}

// positive is a number, empty where it is 0 because nobody stated it.
func positive(v float64) Cell {
	if v <= 0 {
		return Cell{}
	}
	return number(v)
}

func (b *builder) drumOf(c *design.Cable) string {
	if at, ok := b.spool[c.ID]; ok {
		return b.drums[at.drum].name()
	}
	return ""
}

// media lists how the sections of a way are laid, each once, in order.
func media(way []string, routes map[string]project.Route) string {
	var out []string
	for _, id := range way {
		if m := routes[id].Medium; m != "" && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return strings.Join(out, " ")
}

// sections lists the cable ways with what lies in each: a way's squares over its usable width and height
// are its fill.
func (b *builder) sections() Table {
	t := table("route_sections", "route", "from", "to", "medium", "length_m", "supply", "multicore", "field", "network", "cables", "squares_mm2", "mass_kg_per_m", "bend_mm")
	type load struct {
		uses    [4]int
		cables  int
		squares float64
		mass    int64
		bend    q.Millimetres
	}
	loads := map[string]*load{}
	for i := range b.Design.Cables {
		c := &b.Design.Cables[i]
		for _, r := range c.Route {
			if loads[r] == nil {
				loads[r] = &load{}
			}
			l := loads[r]
			l.cables++
			if u := useRank(c.Use); u < len(l.uses) {
				l.uses[u]++
			}
			if k := b.typeOf(c); k != nil {
				mm := float64(k.DiameterUM) / 1000
				l.squares += mm * mm
				l.mass += k.Mass
				l.bend = max(l.bend, k.Bend)
			}
		}
	}
	routes := slices.Clone(b.Project.Routes)
	slices.SortFunc(routes, func(x, y project.Route) int { return cmp.Compare(x.ID, y.ID) })
	for _, r := range routes {
		l := loads[r.ID]
		if l == nil {
			continue
		}
		t.add(text(r.ID), text(r.From), text(r.To), text(r.Medium), number(r.Length.Metres()), whole(l.uses[0]), whole(l.uses[1]), whole(l.uses[2]), whole(l.uses[3]),
			whole(l.cables), positive(round(l.squares, 1)), positive(round(float64(l.mass)/1000, 1000)), positive(float64(l.bend)))
	}
	return t
}
