package schedule

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"railwright/internal/design"
	q "railwright/internal/quantity"
)

// Use counts what a station holds.
type Use struct{ Modules, Groups, Signals, Spare int }

// Plus adds two counts.
func (u Use) Plus(v Use) Use {
	return Use{u.Modules + v.Modules, u.Groups + v.Groups, u.Signals + v.Signals, u.Spare + v.Spare}
}

// UseOf counts a station's modules (infeed modules, which have no channels, left out), supply groups,
// signals and spare channels.
func UseOf(s design.Station) Use {
	all, used := use(s)
	u := Use{Groups: len(s.SupplyGroups), Signals: used, Spare: all - used}
	for _, sl := range s.Slots {
		if len(sl.Channels) > 0 {
			u.Modules++
		}
	}
	return u
}

// StationCosts sums the parts and labour that the design lists for each station: those for the
// station itself, its supply groups and its feeders. Cables are not in it.
func StationCosts(d *design.Design) map[string]q.Money {
	owner := owners(d)
	costs := map[string]q.Money{}
	for _, p := range d.Parts {
		if id, ok := owner[p.For]; ok {
			costs[id] += sum(p)
		}
	}
	for _, l := range d.Labour {
		if id, ok := owner[l.For]; ok {
			costs[id] += q.ToMoney(l.Price)
		}
	}
	return costs
}

// owners maps "station:ID", "group:ID" and "feeder:ID" to the station they belong to.
func owners(d *design.Design) map[string]string {
	owner := map[string]string{}
	for _, s := range d.Stations {
		owner["station:"+s.ID] = s.ID
		for _, g := range s.SupplyGroups {
			owner["group:"+g.ID] = s.ID
		}
	}
	for _, f := range d.Feeders {
		owner["feeder:"+f.ID] = strings.TrimPrefix(f.Station, "station:")
	}
	return owner
}

// StationLoads returns the current that each station's supply units give, in milliamperes. Coupler
// and logic count once, although a unit of each class could carry them.
func StationLoads(d *design.Design) map[string]float64 {
	loads := map[string]float64{}
	for _, s := range d.Supplies {
		loads[strings.TrimPrefix(s.Station, "station:")] += s.LoadMA
	}
	return loads
}

// CostClasses returns the classes of the cost, the dearest first.
func CostClasses(d *design.Design) []string {
	classes := slices.Collect(maps.Keys(d.Cost.Parts))
	slices.SortFunc(classes, func(a, b string) int {
		return cmp.Or(cmp.Compare(d.Cost.Parts[b], d.Cost.Parts[a]), cmp.Compare(a, b))
	})
	return classes
}
