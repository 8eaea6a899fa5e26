package checker

import "math"

// shortest finds the length of the shortest way between any two places by letting each place in
// turn be a stop in between (Floyd and Warshall).
//
// Source: textbook method; any shortest-path method gives the same lengths.
func (r *run) shortest() {
	d := map[string]map[string]int64{}
	for _, a := range r.p.Places {
		d[a.ID] = map[string]int64{a.ID: 0}
	}
	for _, e := range r.p.Routes {
		if d[e.From] == nil || d[e.To] == nil {
			continue
		}
		for _, ab := range [][2]string{{e.From, e.To}, {e.To, e.From}} {
			if old, known := d[ab[0]][ab[1]]; !known || int64(e.Length) < old {
				d[ab[0]][ab[1]] = int64(e.Length)
			}
		}
	}
	for _, k := range r.p.Places {
		for _, i := range r.p.Places {
			ik, ok := d[i.ID][k.ID]
			if !ok {
				continue
			}
			for _, j := range r.p.Places {
				kj, ok := d[k.ID][j.ID]
				if !ok {
					continue
				}
				if old, known := d[i.ID][j.ID]; !known || ik+kj < old {
					d[i.ID][j.ID] = ik + kj
				}
			}
		}
	}
	r.ways = d
}

// between is the way from a to b, mm; within one place its local length. false: no way.
func (r *run) between(a, b string) (int64, bool) {
	if a == b {
		pl, ok := r.places[a]
		if !ok {
			return 0, false
		}
		if pl.Local > 0 {
			return int64(pl.Local), true
		}
		return int64(r.p.Basis.Cable.Local), true
	}
	l, ok := r.ways[a][b]
	return l, ok
}

// up rounds a length up to 0.1 m.
func up(l int64) int64 { return (l + 99) / 100 * 100 }

// fieldLaid is the laid length of a field cable, linkLaid that of a feeder or network cable.
func (r *run) fieldLaid(device, station string) (int64, bool) {
	l, ok := r.between(device, station)
	return up(l + int64(r.p.Basis.Cable.AllowDevice) + int64(r.p.Basis.Cable.AllowStation)), ok
}

func (r *run) linkLaid(a, b string) (int64, bool) {
	l, ok := r.between(a, b)
	return up(l + 2*int64(r.p.Basis.Cable.AllowStation)), ok
}

// ordered is what is bought for a laid length.
func (r *run) ordered(laid int64) int64 {
	return up((laid*(1000+r.p.Basis.Cable.Waste) + 999) / 1000)
}

// routeLength adds up a list of routes if it leads from a to b, or from b to a.
func (r *run) routeLength(route []string, a, b string) (int64, bool) {
	for _, ends := range [][2]string{{a, b}, {b, a}} {
		here, sum, ok := ends[0], int64(0), true
		for _, id := range route {
			next := ""
			for _, e := range r.p.Routes {
				if e.ID == id && e.From == here {
					next, sum = e.To, sum+int64(e.Length)
				} else if e.ID == id && e.To == here {
					next, sum = e.From, sum+int64(e.Length)
				}
			}
			if next == "" {
				ok = false
				break
			}
			here = next
		}
		if ok && here == ends[1] {
			return sum, true
		}
	}
	return 0, false
}

// checkRoute reports a route list that does not lead from a to b by a shortest way.
func (r *run) checkRoute(law, subject string, route []string, a, b string) {
	if a == b {
		same(r, law, subject, "routes in one place", len(route), 0)
		return
	}
	want, ok := r.ways[a][b]
	sum, leads := r.routeLength(route, a, b)
	switch {
	case !ok:
		r.bad(law, subject, "a way", "no way from %s to %s", a, b)
	case !leads:
		r.bad(law, subject, "a way from "+a+" to "+b, "route %v", route)
	case sum != want:
		r.bad(law, subject, "the shortest way", "route of %d mm, shortest %d mm", sum, want)
	}
}

const never = math.MaxInt64 / 4
