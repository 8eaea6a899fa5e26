package plan

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"railwright/internal/hardware"
	"railwright/internal/power"
	"railwright/internal/project"
	q "railwright/internal/quantity"
	"railwright/internal/siting"
	"railwright/internal/tariff"
)

// site is a candidate place with the prices that hold there.
type site struct {
	place    *project.Place
	prices   *tariff.Place
	feeder   power.Feeder // supply class normal
	ups      power.Feeder
	copies   int
	must     int
	stations []string // ids of the stations that are fixed here, in order
}

// newSites prices a station at every candidate place. A place that no board or network cable reaches
// is left out, with the reason in the second result.
func newSites(g *ground, book *tariff.Book) ([]site, map[string]string, error) {
	var sites []site
	left := map[string]string{}
	named := map[string][]string{}
	for station, place := range g.choices.placeOf {
		named[place] = append(named[place], station)
	}
	construction := defaultConstruction(g)
	for _, place := range g.candidates {
		s := site{place: place, copies: max(place.MaxStations, 1), stations: named[place.ID]}
		slices.Sort(s.stations)
		s.must = len(s.stations)
		if g.choices.open[place.ID] {
			s.must = max(s.must, 1)
		}
		s.copies = max(s.copies, s.must)
		why, err := s.price(g, book, construction)
		if err != nil {
			return nil, nil, err
		}
		if why != "" {
			left[place.ID] = why
			continue
		}
		sites = append(sites, s)
	}
	return sites, left, nil
}

// defaultConstruction is the basis's construction, or the first of the list that has a coupler for
// the network profile.
func defaultConstruction(g *ground) string {
	if c := g.p.Basis.Construction; c != "" {
		return c
	}
	for i := range g.list.Constructions {
		code := g.list.Constructions[i].Code
		if slices.ContainsFunc(g.list.Couplers, func(c hardware.Coupler) bool { return c.Construction == code && c.Network == g.profile.Code }) {
			return code
		}
	}
	return ""
}

func (s *site) price(g *ground, book *tariff.Book, construction string) (why string, err error) {
	basis := g.p.Basis
	var ok bool
	if s.feeder, ok = power.Nearest(g.boards, s.place.ID, g.local(s.place.ID), g.feederCable, basis); !ok {
		return "no route leads to it from a power source", nil
	}
	if s.ups, ok = power.Nearest(g.upsBoards, s.place.ID, g.local(s.place.ID), g.feederCable, basis); !ok {
		return "no route leads to it from the UPS board", nil
	}
	least, ok := g.networkLeast(s.place, s.copies)
	if !ok {
		return fmt.Sprintf("no network cable of profile %s reaches it within %s", g.profile.Code, g.profile.MaxSegment), nil
	}
	board, ok := power.Protection(g.list, 0, g.allowed)
	if !ok {
		return "", &Impossible{"The hardware list has no protective device for the AC feeders.", "Add one to hardware.toml."}
	}
	if s.place.Construction != "" {
		construction = s.place.Construction
	}
	ambient := basis.AmbientMax
	if s.place.AmbientMax.Set {
		ambient = s.place.AmbientMax.Value
	}
	s.prices, err = book.At(tariff.Site{
		Place: s.place.ID, Construction: construction, Network: g.profile.Code, Ambient: ambient, Outdoor: s.place.Outdoor,
		MaxSlots: s.place.MaxSlots, MaxRail: s.place.MaxRail, FixedCost: s.place.FixedCost,
		Feeder: s.feeder.Cost + board.Price, UPSFeeder: s.ups.Cost + board.Price, NetworkLeast: least,
	})
	if err != nil {
		return "", &Impossible{"Place " + s.place.ID + ": " + err.Error() + ".", "Set construction to one of: " + codes(g.list.Constructions, func(c hardware.Construction) string { return c.Code }) + "."}
	}
	if s.prices.Fixed >= tariff.Forbidden {
		return fmt.Sprintf("construction %s has no coupler for network profile %s, enclosure or supply unit that is allowed there", construction, g.profile.Code), nil
	}
	return "", nil
}

// networkLeast is the least part of the network that a station at the place can bring.
func (g *ground) networkLeast(place *project.Place, copies int) (q.Money, bool) {
	if g.p.Network.Topology == "star" {
		laid, ok := g.networkCable(g.controller.ID, place.ID)
		if !ok {
			return 0, false
		}
		least := g.networkCost(laid)
		if part, found := g.list.Any(g.profile.SwitchPart); found && g.profile.SwitchPorts > 0 {
			least += part.Price / q.Money(g.profile.SwitchPorts)
		}
		return least, true
	}
	var least q.Money
	found := false
	for _, other := range append([]*project.Place{g.controller}, g.candidates...) {
		if other.ID == place.ID && other != g.controller && copies < 2 {
			continue
		}
		if laid, ok := g.networkCable(other.ID, place.ID); ok {
			if cost := g.networkCost(laid); !found || cost < least {
				least, found = cost, true
			}
		}
	}
	return least, found
}

// joint is siting's view of the network's cost; it remembers what it was asked.
type joint struct {
	g     *ground
	sites []site
	mu    sync.Mutex
	known map[string]int64
}

// Cost implements siting.Network.
func (j *joint) Cost(stations []int) int64 {
	var key strings.Builder
	var places []string
	for i, n := range stations {
		for range n {
			places = append(places, j.sites[i].place.ID)
		}
		fmt.Fprintf(&key, "%d,", n)
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if cost, ok := j.known[key.String()]; ok {
		return cost
	}
	cost := j.cost(places)
	j.known[key.String()] = cost
	return cost
}

func (j *joint) cost(places []string) int64 {
	if j.g.profile.MaxStations > 0 && len(places) > j.g.profile.MaxStations {
		return siting.Forbidden
	}
	edges, ok := j.g.join(places)
	if !ok {
		return siting.Forbidden
	}
	cost, length := j.g.switches(len(places)), q.Millimetres(0)
	for _, e := range edges {
		cost += j.g.networkCost(e.Length)
		length += e.Length
	}
	if bus(j.g.profile) && j.g.profile.MaxSegment > 0 && length > j.g.profile.MaxSegment {
		return siting.Forbidden
	}
	return int64(cost)
}

// bus reports whether the profile's length limit holds for the whole line, not for each cable.
func bus(n *hardware.NetworkProfile) bool { return n.Medium == "rs485" || n.Medium == "can" }
