package plan

import (
	"cmp"
	"slices"

	"railwright/internal/cabling"
	"railwright/internal/design"
	"railwright/internal/fit"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// cablePrefix is what the ids of the cables that begin at a place begin with.
func cablePrefix(place string) string { return "W-" + place + "-" }

// fieldCables lays the field cable of every served bundle and lands its cores.
func (pr *problem) fieldCables(stations []built, w *work) {
	type run struct {
		bundle int
		to     *built
	}
	var runs []run
	for i := range stations {
		for _, b := range stations[i].bundles {
			runs = append(runs, run{b, &stations[i]})
		}
	}
	slices.SortFunc(runs, func(a, b run) int {
		x, y := pr.bundles[a.bundle], pr.bundles[b.bundle]
		return cmp.Or(cmp.Compare(x.Place, y.Place), cmp.Compare(x.ID, y.ID))
	})
	sets := make([][]string, len(runs))
	for i, r := range runs {
		sets[i] = pr.idsOf(pr.bundles[r.bundle])
	}
	ids := w.cableIDs("field", sets, func(i int) string { return pr.bundles[runs[i].bundle].Place })
	seats := w.seats()
	for i, r := range runs {
		b := pr.bundles[r.bundle]
		way, _ := pr.g.way(r.to.site.place.ID, b.Place)
		o := pr.chooser.Option(pr.needs[r.bundle][pr.kindOf(r.to.site)], pr.voltage(b), way, r.to.site.prices.Site.Ambient)
		c := design.Cable{
			ID: ids[i], Name: ids[i], From: "device:" + b.Device, To: "station:" + r.to.id, Use: "field", Type: o.Type.Code,
			Cores: o.Type.Cores, AreaMM2: float64(o.Type.Area), LengthM: o.Laid.Metres(), OrderM: o.Ordered.Metres(),
			Route: orEmpty(pr.g.path(b.Place, r.to.site.place.ID)), Signals: sets[i], Bundle: b.ID,
		}
		signals := make([]*project.Signal, len(b.Signals))
		for k, s := range b.Signals {
			signals[k] = &pr.book.Signals[s]
		}
		w.d.Cables = append(w.d.Cables, c)
		w.d.Wires = append(w.d.Wires, cabling.FieldWires(c, b.Device, signals, seats)...)
		pr.explainCable(&w.calc, c, b.Place, r.to.site.place.ID, way, "allow_device_m")
	}
}

// kindOf is the number of a site's environment.
func (pr *problem) kindOf(s *site) int { return slices.Index(pr.envs, s.prices.Env) }

func orEmpty(ids []string) []string {
	if ids == nil {
		return []string{}
	}
	return ids
}

// idsOf returns the ids of the bundle's signals.
func (pr *problem) idsOf(b fit.Bundle) []string {
	ids := make([]string, len(b.Signals))
	for i, s := range b.Signals {
		ids[i] = pr.book.Signals[s].ID
	}
	return ids
}

// seats tells where each signal of the design sits.
func (w *work) seats() map[string]cabling.Seat {
	out := map[string]cabling.Seat{}
	for _, st := range w.d.Stations {
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				if c.Signal != nil {
					out[c.SignalID] = cabling.Seat{Station: st.ID, Slot: sl.Slot, Terminals: c.Terminals}
				}
			}
		}
	}
	return out
}

// cableIDs gives ids to cables of one use: that of the previous cable with most members in common, else
// the next ordinal of the place at which the cable begins.
func (w *work) cableIDs(use string, sets [][]string, place func(i int) string) []string {
	old := map[string][]string{}
	if w.previous != nil {
		for _, c := range w.previous.Cables {
			if c.Use == use {
				old[c.ID] = membersOf(w.previous, c)
			}
		}
	}
	ids := design.Match(old, sets)
	for i := range ids {
		if ids[i] == "" {
			ids[i] = w.names.Next(cablePrefix(place(i)), 3)
		}
	}
	return ids
}

// membersOf is what a cable is recognised by: its signals, or its two ends (and the
// supply class that it feeds).
func membersOf(d *design.Design, c design.Cable) []string {
	if c.Use == "field" {
		return c.Signals
	}
	end := c.From + ">" + c.To
	for _, f := range d.Feeders {
		if f.Cable == c.ID {
			end += " " + f.Class
		}
	}
	return []string{end}
}

// networkCables joins the stations and lays the cables between them.
func (pr *problem) networkCables(w *work) bool {
	d := w.d
	places := make([]string, len(d.Stations))
	ends := []string{"controller"}
	for i, s := range d.Stations {
		places[i] = s.Place
		ends = append(ends, "station:"+s.ID)
	}
	at := append([]string{pr.g.controller.ID}, places...)
	d.Network.Profile, d.Network.Topology = pr.g.profile.Code, pr.g.p.Network.Topology
	edges, ok := pr.g.join(places)
	if !ok {
		return false
	}
	sets := make([][]string, len(edges))
	for i, e := range edges {
		sets[i] = []string{ends[e.From] + ">" + ends[e.To]}
	}
	ids := w.cableIDs("network", sets, func(i int) string { return at[edges[i].To] })
	for i, e := range edges {
		c := design.Cable{
			ID: ids[i], Name: ids[i], From: ends[e.From], To: ends[e.To], Use: "network", Type: pr.g.netCable.Code,
			Cores: pr.g.netCable.Cores, AreaMM2: float64(pr.g.netCable.Area), LengthM: e.Length.Metres(),
			OrderM: pr.g.p.Basis.Cable.Ordered(e.Length).Metres(), Route: orEmpty(pr.g.path(at[e.From], at[e.To])), Signals: []string{},
		}
		d.Cables = append(d.Cables, c)
		d.Network.Segments = append(d.Network.Segments, design.Segment{
			Cable: c.ID, From: c.From, To: c.To, LengthM: c.LengthM, LimitM: pr.g.profile.MaxSegment.Metres(),
		})
		way, _ := pr.g.way(at[e.From], at[e.To])
		pr.explainCable(&w.calc, c, at[e.From], at[e.To], way, "allow_station_m")
	}
	pr.nodes(d)
	return true
}

// nodes gives the stations their addresses on the network, in order of id.
func (pr *problem) nodes(d *design.Design) {
	n := pr.g.p.Network
	first, prefix := n.First, n.Prefix
	ethernet := !bus(pr.g.profile)
	if first == 0 {
		first = 1
		if ethernet {
			first = 11
		}
	}
	if prefix == "" {
		prefix = "192.168.10."
	}
	for i, s := range d.Stations {
		node := first + i
		a := design.NodeAddress{Station: s.ID, Name: s.ID, Node: node, Address: decimal(node)}
		if ethernet {
			a.Address = prefix + decimal(node)
		}
		d.Network.Addresses = append(d.Network.Addresses, a)
	}
}

func decimal(n int) string { return q.Short(float64(n)) }
