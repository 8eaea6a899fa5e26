package routes

import (
	"fmt"
	"slices"
	"strings"
)

// Route is an undirected cable way between two places.
type Route struct {
	ID       string
	A, B     string // ids of the places it joins
	LengthMM int64  // at least 0
}

// Fault is what is wrong with one place or route handed to New; the row is left out.
type Fault struct {
	Place, Route string // one of them is set: the id of the faulty row
	Why          string // plain words, without the id
}

func (f Fault) String() string {
	if f.Route != "" {
		return fmt.Sprintf("route %s: %s", f.Route, f.Why)
	}
	return fmt.Sprintf("place %s: %s", f.Place, f.Why)
}

// Network is a checked set of places and routes. It never changes after New and may be used from several goroutines.
type Network struct {
	places []string       // sorted
	index  map[string]int // place id to index
	routes []Route        // sorted by id
	arcs   [][]arc        // per place, by route id
}

type arc struct{ to, route int }

// longestMM bounds one route's length (100,000 km) so that sums cannot overflow.
const longestMM = 100_000_000_000

// New returns the network of the given places and routes, and the faults of the rows it left out: doubled ids (all rows of
// the set are left out, as with any doubled row), routes to unknown places, lengths below 0 or beyond 100,000 km. A route
// from a place to itself and parallel routes are allowed.
func New(places []string, routes []Route) (*Network, []Fault) {
	n := &Network{index: map[string]int{}}
	var faults []Fault
	n.places, faults = sortPlaces(places)
	for i, p := range n.places {
		n.index[p] = i
	}
	n.routes = slices.Clone(routes)
	slices.SortFunc(n.routes, func(a, b Route) int { return strings.Compare(a.ID, b.ID) })
	kept := n.routes[:0:0]
	for i, r := range n.routes {
		if why := n.fault(i); why != "" {
			faults = append(faults, Fault{Route: r.ID, Why: why})
			continue
		}
		kept = append(kept, r)
	}
	n.routes = kept
	n.arcs = make([][]arc, len(n.places))
	for i, r := range n.routes {
		a, b := n.index[r.A], n.index[r.B]
		n.arcs[a] = append(n.arcs[a], arc{b, i})
		if a != b {
			n.arcs[b] = append(n.arcs[b], arc{a, i})
		}
	}
	return n, faults
}

func sortPlaces(places []string) (unique []string, faults []Fault) {
	sorted := slices.Sorted(slices.Values(places))
	for i, p := range sorted {
		if i > 0 && p == sorted[i-1] {
			if i < 2 || sorted[i-2] != p {
				faults = append(faults, Fault{Place: p, Why: "the id is given more than once; it stands for one place"})
			}
			continue
		}
		unique = append(unique, p)
	}
	return unique, faults
}

// fault says what is wrong with the i-th of the sorted routes, or "".
func (n *Network) fault(i int) string {
	r := n.routes[i]
	if i > 0 && n.routes[i-1].ID == r.ID || i+1 < len(n.routes) && n.routes[i+1].ID == r.ID {
		return "the id is given more than once"
	}
	for _, p := range []string{r.A, r.B} {
		if _, ok := n.index[p]; !ok {
			return fmt.Sprintf("it leads to %q, which is no place of the project", p)
		}
	}
	if r.LengthMM < 0 || r.LengthMM > longestMM {
		return fmt.Sprintf("its length of %d mm is not between 0 and %d mm", r.LengthMM, int64(longestMM))
	}
	return ""
}

// Places returns the ids of the places in ascending order.
func (n *Network) Places() []string { return slices.Clone(n.places) }

// Has reports whether the place is part of the network.
func (n *Network) Has(place string) bool {
	_, ok := n.index[place]
	return ok
}
