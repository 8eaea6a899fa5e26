package checker

import (
	"fmt"
	"slices"
	"strings"

	"railwright/internal/hardware"
)

// link is one network cable, as a pair of nodes: station ids, or "" for the controller.
type link struct {
	a, b   string
	length int64
}

// networkLaw: the segments join the controller and all stations in the stated topology, each as
// long as its way, none too long, the whole no longer than need be; node addresses are unique.
func networkLaw(r *run) {
	same(r, "NET", "design", "profile", r.d.Network.Profile, r.p.Network.Profile)
	same(r, "NET", "design", "topology", r.d.Network.Topology, r.p.Network.Topology)
	profile := r.parts.network[r.p.Network.Profile]
	if profile == nil {
		r.bad("REF", "design", "a network profile of the list", "%q", r.p.Network.Profile)
		return
	}
	if len(profile.Topologies) > 0 && !slices.Contains(profile.Topologies, r.p.Network.Topology) && !r.excused("project", "network") {
		r.bad("NET", "design", fmt.Sprintf("a topology of %v", profile.Topologies), "%q", r.p.Network.Topology)
	}
	links := r.links(profile)
	r.topology(links)
	if r.p.Network.Topology != "star" && profile.MaxStations > 0 {
		r.limit("project", "stations on the network", int64(len(r.stations)), int64(profile.MaxStations), "network", "design")
	}
	r.nodes()
	r.registers()
}

func (r *run) nodePlace(node string) string {
	if node == "" {
		for _, pl := range r.p.Places {
			if pl.Controller {
				return pl.ID
			}
		}
		return ""
	}
	if st := r.station[node]; st != nil {
		return st.Place
	}
	return ""
}

// node reads a segment's or cable's end.
func (r *run) node(end string) (string, bool) {
	if end == "controller" || end == "place:"+r.nodePlace("") {
		return "", true
	}
	id := strings.TrimPrefix(end, "station:")
	return id, r.station[id] != nil
}

func (r *run) links(profile *hardware.NetworkProfile) []link {
	cables := map[string]*docCable{}
	unseen := map[string]bool{}
	for i := range r.d.Cables {
		c := &r.d.Cables[i]
		cables[c.ID] = c
		if c.Use == "network" {
			unseen[c.ID] = true
		}
	}
	var links []link
	for _, s := range r.d.Network.Segments {
		subject := "cable:" + s.Cable
		a, okA := r.node(s.From)
		b, okB := r.node(s.To)
		if !okA || !okB || a == b {
			r.bad("NET", subject, "controller and stations at the ends", "from %s to %s", s.From, s.To)
			continue
		}
		laid, _ := r.linkLaid(r.nodePlace(a), r.nodePlace(b))
		links = append(links, link{a, b, laid})
		same(r, "NET", subject, "segment length_m in mm", mm(s.LengthM), laid)
		same(r, "NET", subject, "segment limit_m in mm", mm(s.LimitM), int64(profile.MaxSegment))
		if profile.MaxSegment > 0 {
			r.limit(subject, "length in mm", laid, int64(profile.MaxSegment), "station:"+a, "station:"+b, "project", "network")
		}
		c := cables[s.Cable]
		if c == nil || !unseen[s.Cable] {
			r.bad("NET", subject, "a network cable of its own", "segment from %s to %s", s.From, s.To)
			continue
		}
		delete(unseen, s.Cable)
		same(r, "NET", subject, "type", c.Type, profile.Cable)
		same(r, "NET", subject, "length_m in mm", mm(c.LengthM), laid)
		ca, _ := r.node(c.From)
		cb, _ := r.node(c.To)
		if !(ca == a && cb == b || ca == b && cb == a) {
			r.bad("NET", subject, "ends of its segment", "from %s to %s", c.From, c.To)
		}
		r.checkRoute("NET", subject, c.Route, r.nodePlace(a), r.nodePlace(b))
	}
	for id := range unseen {
		r.bad("NET", "cable:"+id, "a segment", "network cable without segment")
	}
	return links
}

// topology counts ends and looks at what hangs together.
func (r *run) topology(links []link) {
	degree, total := map[string]int{}, int64(0)
	for _, l := range links {
		degree[l.a]++
		degree[l.b]++
		total += l.length
	}
	n := len(r.stations)
	want := n
	if r.p.Network.Topology == "ring" && n > 0 {
		want = n + 1
	}
	same(r, "NET", "design", "network cables", len(links), want)
	if n == 0 {
		return
	}
	reached := r.reached(links)
	for _, st := range r.stations {
		if !reached[st.ID] {
			r.bad("NET", st.subject, "joined to the controller", "not reached by the network")
		}
		switch d := degree[st.ID]; {
		case r.p.Network.Topology == "star" && d != 1, r.p.Network.Topology == "line" && d > 2, r.p.Network.Topology == "ring" && d != 2:
			r.bad("NET", st.subject, "ends of a "+r.p.Network.Topology, "%d network cables", d)
		}
	}
	switch d := degree[""]; {
	case r.p.Network.Topology == "star" && d != n, r.p.Network.Topology == "line" && d != 1, r.p.Network.Topology == "ring" && d != 2:
		r.bad("NET", "design", "ends of a "+r.p.Network.Topology+" at the controller", "%d", d)
	}
	if least, known := r.leastNetwork(); known && total != least {
		r.bad("NET", "design", fmt.Sprintf("least total length %d mm", least), "%d mm", total)
	}
}

func (r *run) reached(links []link) map[string]bool {
	reached := map[string]bool{"": true}
	for range links {
		for _, l := range links {
			if reached[l.a] || reached[l.b] {
				reached[l.a], reached[l.b] = true, true
			}
		}
	}
	return reached
}

// leastNetwork is the least total length of line, ring or tree; unknown for a star, for more
// stations than an exact search takes, and where a cable would be too long.
func (r *run) leastNetwork() (int64, bool) {
	n := len(r.stations)
	d := make([][]int64, n+1) // 0 is the controller
	for i := range d {
		d[i] = make([]int64, n+1)
		for j := range d[i] {
			if i == j {
				continue
			}
			l, ok := r.linkLaid(r.nodeAt(i), r.nodeAt(j))
			profile := r.parts.network[r.p.Network.Profile]
			if !ok || profile.MaxSegment > 0 && l > int64(profile.MaxSegment) {
				return 0, false
			}
			d[i][j] = l
		}
	}
	switch r.p.Network.Topology {
	case "line":
		return path(d, false), n <= 12
	case "ring":
		return path(d, true), n <= 12
	case "tree":
		return tree(d), true
	}
	return 0, false
}

func (r *run) nodeAt(i int) string {
	if i == 0 {
		return r.nodePlace("")
	}
	return r.stations[i-1].Place
}

// path is the least length of a way from node 0 through all nodes, and back if closed: dynamic
// programming over sets of nodes (Held and Karp). 0 for more than 12 stations.
func path(d [][]int64, closed bool) int64 {
	n := len(d) - 1
	if n > 12 || n == 0 {
		return 0
	}
	best := make([][]int64, 1<<n)
	for s := range best {
		best[s] = make([]int64, n)
		for k := range n {
			best[s][k] = never
			if s == 1<<k {
				best[s][k] = d[0][k+1]
			} else if s&(1<<k) != 0 {
				for m := range n {
					if m != k && s&(1<<m) != 0 {
						best[s][k] = min(best[s][k], best[s&^(1<<k)][m]+d[m+1][k+1])
					}
				}
			}
		}
	}
	least := int64(never)
	for k, l := range best[1<<n-1] {
		if closed {
			l += d[k+1][0]
		}
		least = min(least, l)
	}
	return least
}

// tree is the least length of a tree over all nodes (Prim).
func tree(d [][]int64) int64 {
	in, sum := map[int]bool{0: true}, int64(0)
	for len(in) < len(d) {
		next, least := -1, int64(never)
		for i := range d {
			for j := range d {
				if in[i] && !in[j] && d[i][j] < least {
					next, least = j, d[i][j]
				}
			}
		}
		if next < 0 {
			return 0
		}
		in[next] = true
		sum += least
	}
	return sum
}

// nodes: each station has one address, all different.
func (r *run) nodes() {
	byStation, byNode, byAddress := map[string]int{}, map[int]string{}, map[string]string{}
	for _, a := range r.d.Network.Addresses {
		subject := "station:" + a.Station
		byStation[a.Station]++
		if r.station[a.Station] == nil {
			r.bad("NET", subject, "a station of the design", "an address for %q", a.Station)
		}
		if o := byNode[a.Node]; o != "" {
			r.bad("NET", subject, "each node number once", "node %d of %s too", a.Node, o)
		}
		if o := byAddress[a.Address]; o != "" || a.Address == "" {
			r.bad("NET", subject, "each address once", "address %q of %s too", a.Address, o)
		}
		byNode[a.Node], byAddress[a.Address] = a.Station, a.Station
	}
	for _, st := range r.stations {
		if byStation[st.ID] != 1 {
			r.bad("NET", st.subject, "one node address", "%d", byStation[st.ID])
		}
	}
}

// registers: a signal's registers are at its own station and share no number with another's.
func (r *run) registers() {
	taken, has := map[string]string{}, map[string]bool{}
	for _, g := range r.d.Network.Registers {
		subject := "signal:" + g.Signal
		has[g.Signal] = true
		if at := r.at[g.Signal]; len(at) != 1 || at[0].st.ID != g.Station {
			r.bad("NET", subject, "registers at its own station", "register at %q", g.Station)
		}
		for w := range min(max(1, g.Words), 64) {
			key := fmt.Sprintf("%s %s %d", g.Station, g.Table, g.Number+w)
			if o := taken[key]; o != "" {
				r.bad("NET", subject, "each register once", "%s of %s too", key, o)
			}
			taken[key] = g.Signal
		}
	}
	for _, x := range r.sigs {
		if len(has) > 0 && len(r.at[x.ID]) == 1 && !has[x.ID] {
			r.bad("NET", "signal:"+x.ID, "a register", "none")
		}
	}
}
