package plan

import (
	"slices"

	"railwright/internal/siting"
)

// squeeze puts bundles that the search left out wherever packing can still take them: first into the
// stations of the answer, else into a new one. The search believes its tariff, which knows neither the
// free channels of what is installed nor the bytes behind a fixed address; packing knows both.
func (pr *problem) squeeze(r *siting.Result) error {
	moved := pr.keepFixed(r)
	var left []siting.Unplaced
	placed := false
	for _, u := range r.Unplaced {
		if u.Proof != siting.ProofNone && pr.squeezeOne(r, u.Bundle) {
			placed = true
			continue
		}
		left = append(left, u)
	}
	r.Unplaced = left
	if !placed && !moved {
		return nil
	}
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

// keepFixed puts the stations that choices fix back as they are fixed, where the search could not keep them
// together with all that it was asked to add: then the additions give way, not what is fixed. It reports
// whether it changed the answer.
func (pr *problem) keepFixed(r *siting.Result) bool {
	fixed := map[string][]int{}
	var ids []string
	whole := true
	for b := range pr.bundles {
		id := pr.stationOf(pr.bundles[b].Signals)
		if id == "" {
			continue
		}
		if fixed[id] == nil {
			ids = append(ids, id)
		}
		fixed[id] = append(fixed[id], b)
		whole = whole && r.Of[b] >= 0 && r.Of[b] == r.Of[fixed[id][0]]
	}
	if whole {
		return false
	}
	slices.Sort(ids)
	var stations []siting.Station
	for _, id := range ids {
		if st, ok := pr.asFixed(fixed[id]); ok {
			stations = append(stations, st)
		}
	}
	for _, st := range r.Stations {
		if !slices.ContainsFunc(st.Bundles, func(b int) bool { return pr.stationOf(pr.bundles[b].Signals) != "" }) {
			stations = append(stations, st)
		}
	}
	pr.restate(r, stations)
	return true
}

// asFixed is a station with what is fixed to it and nothing else, at the place where that may be.
func (pr *problem) asFixed(bundles []int) (siting.Station, bool) {
	for p := range pr.sites {
		if slices.ContainsFunc(bundles, func(b int) bool { return pr.in.Bundles[b].Cost[p] >= siting.Forbidden }) {
			continue
		}
		if cost, ok := pr.confirm(p, bundles); ok {
			return siting.Station{Place: p, Bundles: bundles, Cost: cost}, true
		}
	}
	return siting.Station{}, false
}

// restate gives the answer other stations; bundles that none of them serves are left out.
func (pr *problem) restate(r *siting.Result, stations []siting.Station) {
	none := map[int]bool{}
	for _, u := range r.Unplaced {
		none[u.Bundle] = u.Proof == siting.ProofNone
	}
	r.Stations, r.Unplaced = stations, nil
	for b := range r.Of {
		r.Of[b] = -1
	}
	for i, st := range stations {
		for _, b := range st.Bundles {
			r.Of[b] = i
		}
	}
	for b, at := range r.Of {
		switch {
		case at >= 0:
		case none[b]:
			r.Unplaced = append(r.Unplaced, siting.Unplaced{Bundle: b, Proof: siting.ProofNone})
		default:
			r.Unplaced = append(r.Unplaced, siting.Unplaced{Bundle: b, Proof: siting.ProofNotProven})
		}
	}
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
