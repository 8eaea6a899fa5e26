package siting

// Certificate returns the lower bound that the multipliers (one integer per bundle) give: no design that serves every
// bundle with a multiplier other than 0 costs less. Any integers give a valid bound; docs/certificate.md has the rule.
// Bundles that no place can serve do not count.
func Certificate(in Instance, multipliers []int64) (int64, error) {
	m, err := newModel(in)
	if err != nil {
		return 0, err
	}
	bound := int64(0)
	for b, t := range m.typeOf {
		if t >= 0 {
			bound += multipliers[b]
		}
	}
	var f filling
	sb := newStationBound(m)
	for p := range in.Places {
		v := int64(0)
		if in.Relaxed != nil {
			v = m.certifyStation(p, multipliers, sb)
		} else {
			v = m.certifyPlace(p, multipliers, &f)
		}
		place := &in.Places[p]
		bound += int64(place.Must)*v + int64(place.Copies-place.Must)*min(0, v)
	}
	return bound, nil
}

// certifyStation is certifyPlace with the relaxed tariff.
func (m *model) certifyStation(p int, multipliers []int64, sb *stationBound) int64 {
	place := &m.in.Places[p]
	if place.Copies == 0 {
		return 0
	}
	sb.begin(place.Kind)
	for t := range m.types {
		a := &m.types[t]
		if a.cost[p] >= Forbidden {
			continue
		}
		for _, b := range a.members {
			if r := a.cost[p] - multipliers[b]; r < 0 {
				sb.bid(place.Kind, int32(t), 1, r)
			}
		}
	}
	return sb.solve(p, nil)
}

// certifyPlace returns v_p: the least reduced cost of one station at the place.
func (m *model) certifyPlace(p int, multipliers []int64, f *filling) int64 {
	place := &m.in.Places[p]
	if place.Copies == 0 {
		return 0
	}
	kind := &m.in.Kinds[place.Kind]
	bids := make([][]bid, len(kind.Pools))
	split := make([]int64, len(kind.Pools))
	for t := range m.types {
		a := &m.types[t]
		if a.cost[p] >= Forbidden {
			continue
		}
		tk := &a.kinds[place.Kind]
		for _, b := range a.members {
			shares(a.cost[p]+tk.surcharge-multipliers[b], tk.pools, split)
			for i, pp := range tk.pools {
				if split[i] < 0 {
					bids[pp.pool] = append(bids[pp.pool], bid{int32(b), pp.count, 1, split[i]})
				}
			}
		}
	}
	byClass := map[int]int64{}
	for j := range kind.Pools {
		byClass[kind.Pools[j].StationClass] += f.solve(bids[j], kind.Pools[j].Floor, m.cap(p, int32(j)), false)
	}
	least := int64(0)
	for _, w := range byClass { // a minimum does not depend on the order
		least = min(least, w)
	}
	return place.Fixed + least
}
