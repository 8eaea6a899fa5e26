package plan

import (
	"fmt"

	"railwright/internal/hardware"
	"railwright/internal/network"
	"railwright/internal/power"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/routes"
)

// ground is what does not depend on any decision: places, ways between them, the network profile,
// boards and the feeder's cable.
type ground struct {
	p       *project.Project
	list    *hardware.List
	choices *choices

	places     map[string]*project.Place
	candidates []*project.Place // where a station may stand, by id
	controller *project.Place
	ways       map[string]*routes.Ways // from each place that cables start at: candidates, controller, boards

	profile     *hardware.NetworkProfile
	netCable    *hardware.Cable
	feederCable *hardware.Cable
	boards      []power.Board // supply class normal
	upsBoards   []power.Board
}

// Impossible says that no design can be made at all, and how to mend it. It is no failure of the
// tool: commands report it and exit with 2.
type Impossible struct {
	Why, Mend string
}

func (e *Impossible) Error() string { return e.Why + " " + e.Mend }

func newGround(p *project.Project, list *hardware.List, c *choices) (*ground, error) {
	g := &ground{p: p, list: list, choices: c, places: map[string]*project.Place{}, ways: map[string]*routes.Ways{}}
	ids := make([]string, len(p.Places))
	for i := range p.Places {
		ids[i] = p.Places[i].ID
		g.places[ids[i]] = &p.Places[i]
	}
	ways := make([]routes.Route, len(p.Routes))
	for i, r := range p.Routes {
		ways[i] = routes.Route{ID: r.ID, A: r.From, B: r.To, LengthMM: int64(r.Length)}
	}
	graph, _ := routes.New(ids, ways)
	named := map[string]bool{}
	for _, place := range c.placeOf {
		named[place] = true
	}
	for i := range p.Places {
		place := &p.Places[i]
		if place.Controller {
			g.controller = place
		}
		if (place.Candidate || c.open[place.ID] || named[place.ID]) && !place.Forbidden && !c.closed[place.ID] && place.Zone != "0" {
			g.candidates = append(g.candidates, place)
		}
	}
	if err := g.need(); err != nil {
		return nil, err
	}
	from := func(id string) (*routes.Ways, error) {
		if w, ok := g.ways[id]; ok {
			return w, nil
		}
		w, err := graph.From(id)
		if err != nil {
			return nil, fmt.Errorf("ways from %s: %w", id, err)
		}
		g.ways[id] = w
		return w, nil
	}
	for _, place := range append([]*project.Place{g.controller}, g.candidates...) {
		if _, err := from(place.ID); err != nil {
			return nil, err
		}
	}
	return g, g.wire(from)
}

// need finds the parts without which nothing can be planned.
func (g *ground) need() error {
	if g.controller == nil {
		return &Impossible{"No place is marked as the controller's.", "Set controller = true in the [[place]] where it stands."}
	}
	if len(g.candidates) == 0 {
		return &Impossible{"No station may stand anywhere.", "Set candidate = true in at least one [[place]] that is not forbidden."}
	}
	var ok bool
	if g.profile, ok = g.list.Network(g.p.Network.Profile); !ok {
		return &Impossible{fmt.Sprintf("The hardware list has no network profile %q.", g.p.Network.Profile), "Set [network] profile to one of: " + codes(g.list.Networks, func(n hardware.NetworkProfile) string { return n.Code }) + "."}
	}
	if g.netCable, ok = g.list.Cable(g.profile.Cable); !ok {
		return &Impossible{fmt.Sprintf("The hardware list has no cable %q, which network profile %s uses.", g.profile.Cable, g.profile.Code), "Add it to hardware.toml."}
	}
	if g.feederCable, ok = power.Cable(g.list, g.p.Basis, g.allowed); !ok {
		return &Impossible{fmt.Sprintf("The hardware list has no supply cable of 3 cores and %v mm2 or more.", float64(g.p.Basis.Supply.FeederArea)), "Add one to hardware.toml or lower feeder_area_mm2."}
	}
	return nil
}

func codes[T any](all []T, code func(T) string) string {
	s := ""
	for i, e := range all {
		if i > 0 {
			s += ", "
		}
		s += code(e)
	}
	return s
}

func (g *ground) wire(from func(string) (*routes.Ways, error)) error {
	for i := range g.p.Places {
		place := &g.p.Places[i]
		if !place.PowerSource {
			continue
		}
		w, err := from(place.ID)
		if err != nil {
			return err
		}
		g.boards = append(g.boards, power.Board{Place: place.ID, Ways: w})
	}
	if len(g.boards) == 0 {
		return &Impossible{"No place is marked as a power source.", "Set power_source = true in the [[place]] of the distribution board that feeds the stations."}
	}
	g.upsBoards = g.boards
	if id := g.p.Power.UPSPlace; id != "" {
		w, err := from(id)
		if err != nil {
			return err
		}
		g.upsBoards = []power.Board{{Place: id, Ways: w}}
	}
	return nil
}

// allowed reports whether no choice forbids the part.
func (g *ground) allowed(code string) bool { return !g.choices.off[code] }

// local is the cable length between two things at one place.
func (g *ground) local(place string) q.Millimetres {
	if p := g.places[place]; p != nil && p.Local > 0 {
		return p.Local
	}
	return g.p.Basis.Cable.Local
}

// way is the length of the routes between two places, or the place's own length if they are one.
func (g *ground) way(from, to string) (q.Millimetres, bool) {
	if from == to {
		return g.local(from), true
	}
	w, ok := g.ways[from]
	if !ok {
		from, to = to, from
		w = g.ways[from]
	}
	if w == nil {
		return 0, false
	}
	l, ok := w.LengthMM(to)
	return q.Millimetres(l), ok
}

// path is the ids of the routes from one place to another.
func (g *ground) path(from, to string) []string {
	if from == to {
		return []string{}
	}
	if w, ok := g.ways[from]; ok {
		ids, _ := w.Path(to)
		return ids
	}
	ids, _ := g.ways[to].Path(from)
	for i, j := 0, len(ids)-1; i < j; i, j = i+1, j-1 {
		ids[i], ids[j] = ids[j], ids[i]
	}
	return ids
}

// networkCable is the laid length of a network cable between two places; ok is false where it
// cannot be laid or is longer than the profile allows.
func (g *ground) networkCable(a, b string) (q.Millimetres, bool) {
	way, ok := g.way(a, b)
	laid := project.Laid(way, g.p.Basis.Cable.AllowStation, g.p.Basis.Cable.AllowStation)
	return laid, ok && (g.profile.MaxSegment == 0 || laid <= g.profile.MaxSegment)
}

// networkCost is what a network cable of a laid length costs with its two ends.
func (g *ground) networkCost(laid q.Millimetres) q.Money {
	pr := g.p.Basis.Prices
	cost := g.netCable.Price.Of(g.p.Basis.Cable.Ordered(laid)) + pr.Labour(pr.PullPerMetre).Of(laid) + 2*pr.Labour(pr.NetworkEnd)
	if end, ok := g.list.Any(g.profile.EndPart); ok {
		cost += 2 * end.Price
	}
	return cost
}

// join orders the stations at the places and returns the network cables of least length.
func (g *ground) join(places []string) ([]network.Edge, bool) {
	at := append([]string{g.controller.ID}, places...)
	edges, ok, err := network.Join(g.p.Network.Topology, len(places), func(a, b int) (q.Millimetres, bool) {
		return g.networkCable(at[a], at[b])
	})
	return edges, ok && err == nil
}

// switches is what the switches at the centre of a star cost for n stations.
func (g *ground) switches(n int) q.Money {
	part, ok := g.list.Any(g.profile.SwitchPart)
	if !ok || g.p.Network.Topology != "star" || g.profile.SwitchPorts == 0 {
		return 0
	}
	return part.Price * q.Money(q.CeilDiv(int64(n), int64(g.profile.SwitchPorts)))
}
