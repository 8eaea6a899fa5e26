package siting

import (
	"testing"

	"pgregory.net/rapid"
)

// TestOnlyConfirmedStations lets Confirm refuse some stations and find others dearer than the tariff: whatever it says, every
// station of the answer is one that it accepted, at its price.
func TestOnlyConfirmedStations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t)
		harsh := rapid.Uint64Range(0, 8).Draw(t, "harsh")
		seed := rapid.Uint64().Draw(t, "seed")
		in.Confirm = func(place int, bundles []int) (int64, bool) {
			r := newRandom(seed + uint64(place))
			for _, b := range bundles {
				r = newRandom(r.next() + uint64(b))
			}
			cost, ok := evaluateStation(in, Station{Place: place, Bundles: bundles})
			if !ok || len(bundles) > 0 && r.next()%16 < harsh {
				return 0, false
			}
			return cost + int64(r.next()%20), true
		}
		res, err := Solve(in, Options{Steps: 20_000})
		if err != nil {
			t.Fatal(err)
		}
		sum := res.CableCost + res.NetworkCost
		for _, st := range res.Stations {
			cost, ok := in.Confirm(st.Place, st.Bundles)
			if !ok || cost != st.Cost {
				t.Fatalf("station %v: confirmed %d %v", st, cost, ok)
			}
			sum += cost
		}
		if sum != res.Cost || res.Bound > res.Cost {
			t.Fatalf("cost %d, sum of parts %d, bound %d", res.Cost, sum, res.Bound)
		}
		if harsh == 0 {
			if e := enumerate(in); len(in.Bundles)-len(res.Unplaced) != e.placed {
				t.Fatalf("%d unplaced, by enumeration %d could be placed", len(res.Unplaced), e.placed)
			}
		}
	})
}
