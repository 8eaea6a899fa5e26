package siting

import (
	"cmp"
	"fmt"
	"slices"
	"testing"
)

// regime is a price level of a synthetic site; money in whole units here.
type regime struct {
	name     string
	metre    int64 // of field cable
	station  int64 // an empty station
	pools    int   // kinds and forms of signals
	scarcity int64 // most slots of a station
}

var regimes = []regime{
	{"cable-dear", 8, 1500, 8, 32},
	{"balanced", 3, 1500, 8, 32},
	{"stations-cheap-24", 3, 400, 24, 32},
}

// densities are the modules a synthetic pool can use: channels and price, base and mounting included. All invented.
var densities = [][]struct {
	channels int
	price    int64
}{
	{{16, 230}, {8, 140}, {4, 95}},  // two-state inputs
	{{16, 270}, {8, 165}, {4, 110}}, // two-state outputs
	{{8, 480}, {4, 290}},            // analogue inputs
	{{8, 560}, {4, 330}},            // analogue outputs
	{{4, 310}},                      // resistance thermometers
	{{4, 320}},                      // thermocouples
	{{2, 260}},                      // counters
	{{1, 280}},                      // serial
}

const cents = 10_000 // siting's money in one unit

// plantTariff prices modules by their least total, and a station by steps of rail, supply current and groups.
type plantTariff struct {
	pools   [][]priced // pool: by number of signals
	station int64
	slots   int64
	offers  [][][]Offer // pool, signals
}

func newPlantTariff(r regime, most int) *plantTariff {
	pt := &plantTariff{station: r.station * cents, slots: r.scarcity}
	for j := range r.pools {
		list := make([]priced, most+1)
		for n := 1; n <= most; n++ {
			best := priced{cost: Forbidden}
			for _, d := range densities[j%len(densities)] {
				rest := list[max(0, n-d.channels)]
				c := rest.cost + d.price*cents
				if c < best.cost {
					best = priced{cost: c, use: rest.use.Plus(Use{Slots: 1, RailMM: 15, LogicUA: 120_000, HeatMW: 900})}
				}
			}
			list[n] = best
		}
		pt.pools = append(pt.pools, list)
		pt.findOffers(j, min(most, 512))
	}
	return pt
}

func (pt *plantTariff) Pool(_, pool int, counts []int, apart int) (int64, Use) {
	n := 0
	for _, c := range counts {
		n += c
	}
	return pt.pools[pool][n].cost, pt.pools[pool][n].use
}

func (pt *plantTariff) Station(_ int, use Use, groups []GroupUse) (int64, bool) {
	cost := pt.station
	load := use.LogicUA
	for _, g := range groups {
		if g.Slots > 0 {
			cost += 45 * cents * (1 + g.LoadUA/8_000_000)
			load += g.LoadUA
		}
	}
	cost += 110 * cents * (1 + load/10_000_000)     // supply units of 10 A
	cost += 60 * cents * ((use.RailMM + 399) / 400) // enclosure, by 400 mm of rail
	return cost, use.Slots <= pt.slots
}

// Offers is exact: the least cost of at most so many modules, from the same list of modules.
func (pt *plantTariff) Offers(_, pool int, counts, apart []int) ([]Offer, bool) {
	n := counts[0]
	if n >= len(pt.offers[pool]) {
		return nil, true
	}
	list := pt.offers[pool][n]
	for len(list) > 0 && list[0].Modules < apart[0] {
		list = list[1:]
	}
	return list, true
}

// Frame counts the station, its enclosure for so many modules and the supply of their logic.
func (pt *plantTariff) Frame(_, modules int) int64 {
	if modules > int(pt.slots) {
		return Forbidden
	}
	n := int64(modules)
	return pt.station + 110*cents*(1+n*120_000/10_000_000) + 60*cents*((n*15+399)/400)
}

// findOffers fills offers: for each number of signals the undominated ways to hold them, by number of modules.
func (pt *plantTariff) findOffers(pool, most int) {
	list := make([][]Offer, most+1)
	for n := 1; n <= most; n++ {
		cost := map[int]int64{}
		for _, d := range densities[pool%len(densities)] {
			if n <= d.channels {
				cost[1] = min(cmp.Or(cost[1], Forbidden), d.price*cents)
				continue
			}
			for _, o := range list[n-d.channels] {
				if c := o.Cost + d.price*cents; cost[o.Modules+1] == 0 || c < cost[o.Modules+1] {
					cost[o.Modules+1] = c
				}
			}
		}
		cheapest := Forbidden
		for m := 1; m <= int(pt.slots); m++ {
			if c, ok := cost[m]; ok && c < cheapest {
				cheapest = c
				list[n] = append(list[n], Offer{m, c})
			}
		}
	}
	pt.offers = append(pt.offers, list)
}

// plant makes a synthetic site: places in clusters along trays in a field of 400 m by 250 m, candidates among them, signals in
// devices of one to three signals at the places.
func plant(signals, places, candidates int, seed uint64, r regime) Instance {
	rnd := newRandom(seed)
	type point struct{ x, y int64 }
	var clusters, at []point
	for range max(3, places/8) {
		clusters = append(clusters, point{int64(rnd.below(400)), int64(rnd.below(250))})
	}
	for range places {
		c := clusters[rnd.below(len(clusters))]
		at = append(at, point{c.x + int64(rnd.below(40)) - 20, c.y + int64(rnd.below(40)) - 20})
	}
	distance := func(a, b point) int64 { return max(a.x-b.x, b.x-a.x) + max(a.y-b.y, b.y-a.y) }
	pt := newPlantTariff(r, signals)
	in := Instance{Tariff: pt, Relaxed: pt, Kinds: []Kind{{Groups: 3}}}
	kind := &in.Kinds[0]
	for j := range r.pools {
		p := Pool{Group: j % 3}
		for n := range min(signals, 600) + 1 {
			p.Floor = append(p.Floor, pt.pools[j][n].cost)
		}
		p.Weight = p.Floor[16] / 16
		kind.Pools = append(kind.Pools, p)
		kind.Classes = append(kind.Classes, Class{Pool: j, Unit: p.Weight})
	}
	empty, _ := pt.Station(0, Use{}, make([]GroupUse, 3))
	for range candidates {
		in.Places = append(in.Places, Place{Copies: 2, Fixed: empty, OpenGroup: []int64{45 * cents, 45 * cents, 45 * cents}})
	}
	weight := []int{40, 22, 14, 6, 8, 4, 4, 2} // share of kinds of signals, in 100
	draw := func() int {
		x := rnd.below(100)
		for j, w := range weight {
			if x -= w; x < 0 {
				return (j + len(weight)*rnd.below((r.pools+len(weight)-1)/len(weight))) % r.pools
			}
		}
		return 0
	}
	rows := map[[3]int][]int64{}
	for left := signals; left > 0; {
		p := rnd.below(places)
		n := 1
		if rnd.below(5) == 0 {
			n = min(left, 2+rnd.below(2))
		}
		left -= n
		var demand []Demand
		for range n {
			j := draw()
			if i := slices.IndexFunc(demand, func(d Demand) bool { return d.Class == j }); i >= 0 {
				demand[i].Count++
				demand[i].LoadUA += 20_000
				continue
			}
			demand = append(demand, Demand{j, 1, []int64{8_000, 250_000, 22_000}[j%3]})
		}
		key := [3]int{p, n}
		if rows[key] == nil {
			for c := range candidates {
				metres := distance(at[p], at[c*places/candidates]) + 6
				rows[key] = append(rows[key], metres*(r.metre*cents*int64(n+1)/2))
			}
		}
		in.Bundles = append(in.Bundles, Bundle{Cost: rows[key], Demand: [][]Demand{demand}})
	}
	return in
}

func BenchmarkPlant(b *testing.B) {
	for _, size := range [][3]int{{1000, 40, 20}, {1000, 60, 30}, {5000, 200, 80}} {
		for _, r := range regimes {
			b.Run(fmt.Sprintf("%dx%dx%d/%s", size[0], size[1], size[2], r.name), func(b *testing.B) {
				for i := range b.N {
					in := plant(size[0], size[1], size[2], uint64(i)+1, r)
					res, err := Solve(in, Options{})
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(100*res.Gap(), "%gap")
					b.ReportMetric(float64(res.Cost)/cents, "cost")
					b.ReportMetric(float64(len(res.Stations)), "stations")
				}
			})
		}
	}
}
