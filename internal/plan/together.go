package plan

import (
	"slices"

	"railwright/internal/siting"
)

// together is the siting problem with all bundles that are fixed to one station joined into one: siting
// takes the stations of a place as alike and could spread them over two.
type together struct {
	in      siting.Instance
	members [][]int // per joined bundle: the bundles of the problem, ascending
	owner   []int   // per bundle of the problem: its joined bundle
}

// join returns the joined problem, or nil where no station has two bundles fixed to it.
func (pr *problem) join() *together {
	t := &together{owner: make([]int, len(pr.bundles))}
	at := map[string]int{}
	for b := range pr.bundles {
		id := pr.stationOf(pr.bundles[b].Signals)
		n, known := at[id]
		if id == "" || !known {
			n = len(t.members)
			t.members = append(t.members, nil)
			if id != "" {
				at[id] = n
			}
		}
		t.members[n] = append(t.members[n], b)
		t.owner[b] = n
	}
	if len(t.members) == len(pr.bundles) {
		return nil
	}
	t.in = pr.in
	t.in.Bundles = make([]siting.Bundle, len(t.members))
	for n, list := range t.members {
		t.in.Bundles[n] = pr.in.Bundles[list[0]]
		if len(list) > 1 {
			t.in.Bundles[n] = sumOf(pr.in.Bundles, list)
		}
	}
	t.in.Conflicts = nil
	for _, c := range pr.in.Conflicts {
		if a, b := t.owner[c[0]], t.owner[c[1]]; a != b && !slices.Contains(t.in.Conflicts, [2]int{a, b}) {
			t.in.Conflicts = append(t.in.Conflicts, [2]int{a, b})
		}
	}
	t.in.Partners = make([]siting.Partners, len(pr.in.Partners))
	for i, set := range pr.in.Partners {
		for _, p := range set {
			t.in.Partners[i] = append(t.in.Partners[i], siting.Partner{Bundle: t.owner[p.Bundle], Class: p.Class})
		}
	}
	t.in.Confirm = func(place int, bundles []int) (int64, bool) { return pr.confirm(place, t.apart(bundles)) }
	return t
}

// sumOf adds bundles up: one that is forbidden at a place, or that a kind cannot serve, forbids it for all.
func sumOf(all []siting.Bundle, list []int) siting.Bundle {
	out := siting.Bundle{Cost: slices.Clone(all[list[0]].Cost), Demand: make([][]siting.Demand, len(all[list[0]].Demand))}
	for _, b := range list[1:] {
		for p, c := range all[b].Cost {
			out.Cost[p] = min(out.Cost[p]+c, siting.Forbidden)
		}
	}
	for k := range out.Demand {
		if !slices.ContainsFunc(list, func(b int) bool { return len(all[b].Demand[k]) == 0 }) {
			out.Demand[k] = demands(all, list, k)
		}
	}
	return out
}

func demands(all []siting.Bundle, list []int, kind int) []siting.Demand {
	var sum []siting.Demand
	for _, b := range list {
		for _, d := range all[b].Demand[kind] {
			i := slices.IndexFunc(sum, func(s siting.Demand) bool { return s.Class == d.Class })
			if i < 0 {
				sum = append(sum, d)
				continue
			}
			sum[i].Count += d.Count
			sum[i].LoadUA += d.LoadUA
		}
	}
	return sum
}

// apart returns the problem's bundles of joined ones, ascending.
func (t *together) apart(joined []int) []int {
	var out []int
	for _, n := range joined {
		out = append(out, t.members[n]...)
	}
	slices.Sort(out)
	return out
}

// solve sites the joined problem. It returns false where a joined bundle found no place: then the bundles
// are better looked at one by one.
func (t *together) solve(pr *problem, opt siting.Options) (siting.Result, bool, error) {
	joined := opt
	joined.Start = nil
	for _, s := range opt.Start {
		var list []int
		for _, b := range s.Bundles {
			if n := t.owner[b]; !slices.Contains(list, n) {
				list = append(list, n)
			}
		}
		slices.Sort(list)
		joined.Start = append(joined.Start, siting.Station{Place: s.Place, Bundles: list})
	}
	r, err := siting.Solve(t.in, joined)
	if err != nil || slices.ContainsFunc(r.Unplaced, func(u siting.Unplaced) bool { return len(t.members[u.Bundle]) > 1 }) {
		return r, false, err
	}
	of := make([]int, len(t.owner))
	for b, n := range t.owner {
		of[b] = r.Of[n]
	}
	r.Of = of
	for i := range r.Stations {
		r.Stations[i].Bundles = t.apart(r.Stations[i].Bundles)
	}
	for i := range r.Unplaced {
		r.Unplaced[i].Bundle = t.members[r.Unplaced[i].Bundle][0]
	}
	r.Multipliers = t.split(pr, r.Multipliers)
	r.Bound, err = siting.Certificate(pr.in, r.Multipliers)
	r.Proven = r.Bound
	return r, true, err
}

// split gives each bundle of a joined one its own cheapest cable and an equal part of the rest. Any split
// gives a valid bound.
func (t *together) split(pr *problem, joined []int64) []int64 {
	out := make([]int64, len(t.owner))
	for n, list := range t.members {
		left := joined[n]
		for _, b := range list {
			out[b] = min(slices.Min(pr.in.Bundles[b].Cost), siting.Forbidden-1)
			left -= out[b]
		}
		for i, b := range list {
			part := left / int64(len(list)-i)
			out[b] += part
			left -= part
		}
	}
	return out
}
