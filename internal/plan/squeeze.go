package plan

import (
	"slices"

	"railwright/internal/siting"
)

// squeeze puts bundles that the search left out wherever packing can still take them: first into the
// stations of the answer, else into a new one. The search believes its tariff, which knows neither the
// free channels of what is installed nor the bytes behind a fixed address; packing knows both.
func (pr *problem) squeeze(r *siting.Result) error {
	var left []siting.Unplaced
	placed := false
	for _, u := range r.Unplaced {
		if u.Proof != siting.ProofNone && pr.squeezeOne(r, u.Bundle) {
			placed = true
			continue
		}
		left = append(left, u)
	}
	if !placed {
		return nil
	}
	r.Unplaced = left
	slices.SortStableFunc(r.Stations, func(a, b siting.Station) int { return a.Place - b.Place })
	for i, st := range r.Stations {
		for _, b := range st.Bundles {
			r.Of[b] = i
		}
	}
	var err error
	r.Bound, err = siting.Certificate(pr.in, r.Multipliers)
	r.Proven = r.Bound
	return err
}

// squeezeOne adds a bundle where that costs least.
func (pr *problem) squeezeOne(r *siting.Result, b int) bool {
	best, at := siting.Forbidden, -1
	var bestStation siting.Station
	count := make([]int, len(pr.sites))
	try := func(i int, st siting.Station, before int64) {
		cable := pr.in.Bundles[b].Cost[st.Place]
		if cable >= siting.Forbidden || pr.conflicting(st.Bundles, b) {
			return
		}
		list := append(slices.Clone(st.Bundles), b)
		slices.Sort(list)
		cost, ok := pr.confirm(st.Place, list)
		if ok && cost-before+cable < best {
			best, at, bestStation = cost-before+cable, i, siting.Station{Place: st.Place, Bundles: list, Cost: cost}
		}
	}
	for i, st := range r.Stations {
		count[st.Place]++
		try(i, st, st.Cost)
	}
	for p := range pr.sites {
		if at < 0 && count[p] < pr.sites[p].copies {
			try(len(r.Stations), siting.Station{Place: p}, 0)
		}
	}
	switch {
	case at < 0:
		return false
	case at == len(r.Stations):
		r.Stations = append(r.Stations, bestStation)
	default:
		r.Stations[at] = bestStation
	}
	return true
}

// conflicting reports whether the bundle may not share a station with one of the others.
func (pr *problem) conflicting(others []int, b int) bool {
	return slices.ContainsFunc(pr.in.Conflicts, func(c [2]int) bool {
		return c[0] == b && slices.Contains(others, c[1]) || c[1] == b && slices.Contains(others, c[0])
	})
}
