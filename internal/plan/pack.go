package plan

import (
	"cmp"
	"runtime"
	"strings"
	"sync"

	"railwright/internal/packing"
	q "railwright/internal/quantity"
	"railwright/internal/siting"
	"railwright/internal/tariff"
)

// packed is what packing made of one order.
type packed struct {
	station *packing.Station
	refusal *packing.Refusal
}

// packAll packs the stations on several cores; the result is in the order of the orders.
func packAll(orders []packing.Order) []packed {
	out := make([]packed, len(orders))
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), len(orders)) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				out[i].station, out[i].refusal = packing.Complete(orders[i])
			}
		}()
	}
	for i := range orders {
		next <- i
	}
	close(next)
	wg.Wait()
	return out
}

// priceList is siting's view of the tariff.
type priceList struct{ pr *problem }

// Pool implements siting.Tariff.
func (l priceList) Pool(kind, pool int, counts []int, apart int) (int64, siting.Use) {
	cost, use := l.pr.envs[kind].PoolCost(pool, counts, apart)
	if cost >= tariff.Forbidden {
		return siting.Forbidden, siting.Use{}
	}
	return int64(cost), siting.Use{
		Slots: use.Slots, RailMM: int64(use.Rail), LogicUA: int64(use.Logic), BytesIn: use.In, BytesOut: use.Out, HeatMW: use.Heat,
	}
}

// Station implements siting.Tariff.
func (l priceList) Station(place int, use siting.Use, groups []siting.GroupUse) (int64, bool) {
	cost, bar := l.pr.sites[place].prices.StationCost(useOf(use), groupsOf(groups))
	return int64(cost), bar == nil
}

// compareWires orders wire ids as people count: runs of digits by their number, everything else by its
// bytes.
func compareWires(a, b string) int {
	for a != "" && b != "" {
		na, nb := digits(a), digits(b)
		if na > 0 && nb > 0 {
			x, y := strings.TrimLeft(a[:na], "0"), strings.TrimLeft(b[:nb], "0")
			if c := cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(x, y)); c != 0 {
				return c
			}
			a, b = a[na:], b[nb:]
			continue
		}
		if a[0] != b[0] {
			return cmp.Compare(a[0], b[0])
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

func compareText(a, b string) int { return cmp.Compare(a, b) }

func useOf(u siting.Use) tariff.Use {
	return tariff.Use{Slots: u.Slots, Rail: q.Millimetres(u.RailMM), Logic: q.Microamps(u.LogicUA), In: u.BytesIn, Out: u.BytesOut, Heat: u.HeatMW}
}

func groupsOf(groups []siting.GroupUse) []tariff.GroupUse {
	out := make([]tariff.GroupUse, len(groups))
	for i, g := range groups {
		out[i] = tariff.GroupUse{Slots: g.Slots, Load: q.Microamps(g.LoadUA)}
	}
	return out
}
