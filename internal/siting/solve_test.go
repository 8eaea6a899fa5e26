package siting

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// testTariff is a small tariff with what real ones have: module steps, several classes a pool, groups, limits.
type testTariff struct {
	size     [][]int   // kind, pool: channels of a module
	price    [][]int64 // kind, pool: of a module
	classFee int64     // for each further class in a pool
	fixed    []int64   // per place
	group    int64     // each group in use, and each started 1000 uA beyond the first
	slots    int64     // most
}

func (tt *testTariff) Pool(kind, pool int, counts []int, apart int) (int64, Use) {
	n, classes := 0, 0
	for _, c := range counts {
		n += c
		if c > 0 {
			classes++
		}
	}
	modules := max((n+tt.size[kind][pool]-1)/tt.size[kind][pool], apart)
	return int64(modules)*tt.price[kind][pool] + tt.classFee*int64(max(0, classes-1)), Use{Slots: int64(modules)}
}

func (tt *testTariff) Station(place int, use Use, groups []GroupUse) (int64, bool) {
	cost := tt.fixed[place]
	for _, g := range groups {
		if g.Slots > 0 {
			cost += tt.group * (1 + g.LoadUA/1000)
		}
	}
	return cost, use.Slots <= tt.slots
}

// Offers makes testTariff a Relaxed too: without the class fee.
func (tt *testTariff) Offers(kind, pool int, counts, apart []int) ([]Offer, bool) {
	n, least := 0, 0
	for i, c := range counts {
		n += c
		if c > 0 {
			least = max(least, apart[i])
		}
	}
	modules := max((n+tt.size[kind][pool]-1)/tt.size[kind][pool], least)
	return []Offer{{modules, int64(modules) * tt.price[kind][pool]}}, true
}

func (tt *testTariff) Frame(place, modules int) int64 {
	if int64(modules) > tt.slots {
		return Forbidden
	}
	return tt.fixed[place]
}

// lineNetwork costs the span of the places used.
type lineNetwork int64

func (l lineNetwork) Cost(stations []int) int64 {
	first, last := -1, 0
	for p, n := range stations {
		if n > 0 {
			if first < 0 {
				first = p
			}
			last = p
		}
	}
	return int64(l) * int64(last-max(first, 0))
}

func drawInstance(t *rapid.T) Instance {
	places := rapid.IntRange(1, 3).Draw(t, "places")
	bundles := rapid.IntRange(0, 5).Draw(t, "bundles")
	kinds := rapid.IntRange(1, 2).Draw(t, "kinds")
	tt := &testTariff{
		classFee: rapid.Int64Range(0, 5).Draw(t, "class fee"), group: rapid.Int64Range(0, 20).Draw(t, "group"),
		slots: rapid.Int64Range(1, 5).Draw(t, "slots"),
	}
	in := Instance{Tariff: tt}
	if rapid.Bool().Draw(t, "relaxed") {
		in.Relaxed = tt
	}
	for range kinds {
		size := []int{rapid.IntRange(1, 3).Draw(t, "size"), rapid.IntRange(1, 3).Draw(t, "size")}
		price := []int64{rapid.Int64Range(0, 40).Draw(t, "price"), rapid.Int64Range(0, 40).Draw(t, "price")}
		tt.size, tt.price = append(tt.size, size), append(tt.price, price)
		kind := Kind{
			Classes: []Class{{Pool: 0, Unit: max(1, price[0])}, {Pool: 1, Unit: max(1, price[1])}, {Pool: 0, Unit: max(1, price[0])}},
			Pools:   []Pool{{Weight: max(1, price[0])}, {Weight: max(1, price[1]), StationClass: rapid.IntRange(0, 1).Draw(t, "class"), Group: 1}},
			Groups:  2,
		}
		for j := range kind.Pools {
			for n := range 8 {
				kind.Pools[j].Floor = append(kind.Pools[j].Floor, int64((n+size[j]-1)/size[j])*price[j])
			}
		}
		in.Kinds = append(in.Kinds, kind)
	}
	for range places {
		copies := rapid.IntRange(0, 2).Draw(t, "copies")
		tt.fixed = append(tt.fixed, rapid.Int64Range(0, 60).Draw(t, "fixed"))
		in.Places = append(in.Places, Place{
			Kind: rapid.IntRange(0, kinds-1).Draw(t, "kind"), Copies: copies, Must: rapid.IntRange(0, min(1, copies)).Draw(t, "must"),
			Fixed: tt.fixed[len(tt.fixed)-1], OpenGroup: []int64{tt.group, tt.group},
		})
	}
	for range bundles {
		b := Bundle{}
		for range places {
			b.Cost = append(b.Cost, rapid.OneOf(rapid.Int64Range(0, 50), rapid.Just(Forbidden)).Draw(t, "cost"))
		}
		for range kinds {
			var d []Demand
			for c := range 3 {
				if rapid.IntRange(0, 2).Draw(t, "has") == 0 {
					d = append(d, Demand{c, rapid.IntRange(1, 2).Draw(t, "count"), rapid.Int64Range(0, 900).Draw(t, "load")})
				}
			}
			b.Demand = append(b.Demand, d)
		}
		in.Bundles = append(in.Bundles, b)
	}
	if bundles > 1 && rapid.Bool().Draw(t, "conflict") {
		in.Conflicts = append(in.Conflicts, [2]int{0, 1})
	}
	if bundles > 2 && rapid.Bool().Draw(t, "partners") {
		var set Partners
		for _, b := range []int{1, 2} {
			p := Partner{Bundle: b}
			for k := range kinds {
				p.Class = append(p.Class, -1)
				if d := in.Bundles[b].Demand[k]; len(d) > 0 {
					p.Class[k] = d[0].Class
				}
			}
			set = append(set, p)
		}
		in.Partners = append(in.Partners, set)
	}
	if rapid.Bool().Draw(t, "network") {
		in.Network = lineNetwork(rapid.Int64Range(0, 30).Draw(t, "metre"))
	}
	return in
}

// TestSolveAgainstEnumeration compares the solver with trying every assignment of bundles to stations: same number placed
// and same cost; and the bound holds.
func TestSolveAgainstEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t)
		res, err := Solve(in, Options{Steps: 20000, Curve: rapid.Bool().Draw(t, "curve")})
		if err != nil {
			t.Fatal(err)
		}
		e := enumerate(in)
		checkResult(t, in, res)
		placed := len(in.Bundles) - len(res.Unplaced)
		if placed != e.placed || res.Cost != e.cost {
			t.Fatalf("placed %d at %d, by enumeration %d at %d", placed, res.Cost, e.placed, e.cost)
		}
		for _, u := range res.Unplaced {
			if want := map[bool]Proof{true: ProofNone, false: ProofSet}[e.nowhere[u.Bundle]]; u.Proof != want {
				t.Fatalf("bundle %d: proof %q, want %q", u.Bundle, u.Proof, want)
			}
		}
	})
}

// checkResult recomputes the answer from the instance by plain means.
func checkResult(t *rapid.T, in Instance, res Result) {
	cost, ok := evaluate(in, res.Stations)
	if !ok || cost != res.Cost {
		t.Fatalf("the answer costs %d (allowed: %v), it says %d", cost, ok, res.Cost)
	}
	if res.Cost != res.CableCost+res.StationCost+res.NetworkCost {
		t.Fatalf("cost %d is not the sum of its parts", res.Cost)
	}
	bound, err := Certificate(in, res.Multipliers)
	if err != nil || bound != res.Bound || res.Bound > res.Cost || res.Proven > res.Cost || res.Proven < res.Bound {
		t.Fatalf("bound %d, certificate %d (%v), proven %d, cost %d", res.Bound, bound, err, res.Proven, res.Cost)
	}
	seen := map[int]bool{}
	for i, st := range res.Stations {
		for _, b := range st.Bundles {
			if seen[b] || res.Of[b] != i {
				t.Fatalf("bundle %d: in station %d, listed at %d, twice: %v", b, i, res.Of[b], seen[b])
			}
			seen[b] = true
		}
	}
	if len(seen)+len(res.Unplaced) != len(in.Bundles) {
		t.Fatalf("%d placed and %d unplaced of %d", len(seen), len(res.Unplaced), len(in.Bundles))
	}
}

// evaluate prices a whole design from the instance, without any of the solver's bookkeeping.
func evaluate(in Instance, stations []Station) (int64, bool) {
	stand := make([]int, len(in.Places))
	cost := int64(0)
	for _, st := range stations {
		stand[st.Place]++
		for _, b := range st.Bundles {
			if in.Bundles[b].Cost[st.Place] >= Forbidden {
				return 0, false
			}
			cost += in.Bundles[b].Cost[st.Place]
		}
		c, ok := evaluateStation(in, st)
		if !ok {
			return 0, false
		}
		cost += c
	}
	for p, n := range stand {
		if n < in.Places[p].Must || n > in.Places[p].Copies {
			return 0, false
		}
	}
	if in.Network != nil {
		cost += in.Network.Cost(stand)
	}
	return cost, true
}

func evaluateStation(in Instance, st Station) (int64, bool) {
	k := in.Places[st.Place].Kind
	kind := in.Kinds[k]
	counts := make([]int, len(kind.Classes))
	groups := make([]GroupUse, max(1, kind.Groups))
	class := -1
	for _, b := range st.Bundles {
		if len(in.Bundles[b].Demand[k]) == 0 {
			return 0, false
		}
		for _, d := range in.Bundles[b].Demand[k] {
			pool := kind.Pools[kind.Classes[d.Class].Pool]
			if class >= 0 && class != pool.StationClass {
				return 0, false
			}
			class = pool.StationClass
			counts[d.Class] += d.Count
			groups[pool.Group].LoadUA += d.LoadUA
		}
	}
	for _, c := range in.Conflicts {
		if slices.Contains(st.Bundles, c[0]) && slices.Contains(st.Bundles, c[1]) {
			return 0, false
		}
	}
	cost, use := int64(0), Use{}
	for j, pool := range kind.Pools {
		var list []int
		sum := 0
		for c, n := range counts {
			if kind.Classes[c].Pool == j {
				list = append(list, n)
				sum += n
			}
		}
		if limit := in.Places[st.Place].Cap; limit != nil && sum > limit[j] {
			return 0, false
		}
		if sum == 0 {
			continue
		}
		c, u := in.Tariff.Pool(k, j, list, apartIn(in, st.Bundles, k, j))
		if c >= Forbidden {
			return 0, false
		}
		cost += c
		use = use.Plus(u)
		groups[pool.Group].Slots += u.Slots
	}
	base, ok := in.Tariff.Station(st.Place, use, groups)
	return cost + base, ok
}

func apartIn(in Instance, bundles []int, k, pool int) int {
	most := 0
	for _, set := range in.Partners {
		n := 0
		for _, p := range set {
			if p.Class[k] >= 0 && in.Kinds[k].Classes[p.Class[k]].Pool == pool && slices.Contains(bundles, p.Bundle) {
				n++
			}
		}
		most = max(most, n)
	}
	if most < 2 {
		return 0
	}
	return most
}

type enumeration struct {
	placed  int
	cost    int64
	nowhere map[int]bool
}

// enumerate tries every way to put bundles into stations.
func enumerate(in Instance) enumeration {
	var slots []Station
	for p, place := range in.Places {
		for range place.Copies {
			slots = append(slots, Station{Place: p})
		}
	}
	e := enumeration{placed: -1, cost: math.MaxInt64, nowhere: map[int]bool{}}
	for b := range in.Bundles {
		e.nowhere[b] = true
		for _, st := range slots {
			st.Bundles = []int{b}
			if _, ok := evaluateStation(in, st); ok && in.Bundles[b].Cost[st.Place] < Forbidden {
				e.nowhere[b] = false
			}
		}
	}
	e.assign(in, slots, 0, 0)
	return e
}

func (e *enumeration) assign(in Instance, slots []Station, b, placed int) {
	if b < len(in.Bundles) {
		for i := range slots {
			slots[i].Bundles = append(slots[i].Bundles, b)
			e.assign(in, slots, b+1, placed+1)
			slots[i].Bundles = slots[i].Bundles[:len(slots[i].Bundles)-1]
		}
		e.assign(in, slots, b+1, placed)
		return
	}
	if placed < e.placed {
		return
	}
	var open []Station
	stand := map[int]int{}
	for _, st := range slots {
		if len(st.Bundles) > 0 {
			open = append(open, st)
			stand[st.Place]++
		}
	}
	e.withMust(in, open, stand, 0, placed)
}

// withMust adds empty stations where some must stand.
func (e *enumeration) withMust(in Instance, open []Station, stand map[int]int, p, placed int) {
	for ; p < len(in.Places); p++ {
		for n := stand[p]; n < in.Places[p].Must; n++ {
			open = append(open, Station{Place: p})
		}
	}
	if cost, ok := evaluate(in, open); ok && (placed > e.placed || cost < e.cost) {
		e.placed, e.cost = placed, cost
	}
}

func (e enumeration) String() string { return fmt.Sprintf("%d placed, %d", e.placed, e.cost) }

// TestAnyMultipliersBound checks the promise of the certificate: whatever the multipliers, the bound is at most the cost of
// the best design, found by enumeration.
func TestAnyMultipliersBound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInstance(t)
		e := enumerate(in)
		if e.placed != len(in.Bundles) {
			t.Skip("not all bundles can be placed")
		}
		multipliers := rapid.SliceOfN(rapid.Int64Range(-20, 120), len(in.Bundles), len(in.Bundles)).Draw(t, "multipliers")
		if bound, err := Certificate(in, multipliers); err != nil || bound > e.cost {
			t.Fatalf("bound %d (%v), best design %d", bound, err, e.cost)
		}
	})
}
