package siting

import "math"

// Forbidden, as an entry of Bundle.Cost, says that the bundle must not be served from that place. Any cost at or above it
// counts as forbidden. It leaves room to add many such values without overflow.
const Forbidden int64 = math.MaxInt64 / 1024

// Instance is one siting problem. Slices are read, never changed; Bundles may share their Cost rows (bundles at one place
// usually do, and sharing keeps large sites small in memory).
type Instance struct {
	Places  []Place
	Kinds   []Kind   // the constructions in use; Place.Kind is an index into it
	Bundles []Bundle // signals that share one cable and therefore one station

	Conflicts [][2]int   // pairs of bundles (indices) that may not share a station
	Partners  []Partners // redundant signals that may share a station but no module

	Tariff  Tariff
	Relaxed Relaxed // nil: the bound uses Place.Fixed, Place.Cap and Pool.Floor
	Network Network // nil when the network's cost is additive and already in Tariff.Station
	Confirm Confirm // nil: the tariff is believed
}

// Place is a candidate place for stations.
type Place struct {
	Kind   int   // the construction used there
	Copies int   // most stations, 0 or more
	Must   int   // least stations (fixed by hand), at most Copies
	Fixed  int64 // least money a station costs here even when empty, with its least part of the network; for the bound only
	Cap    []int // per pool of the kind: most signals of that pool one station can hold; nil: no limit

	// What opening a group class, and a block of them, costs here at least, modules aside; for the bound with Relaxed only.
	OpenGroup, OpenBlock []int64
}

// Kind is what siting knows of a construction.
type Kind struct {
	Classes []Class
	Pools   []Pool
	Groups  int   // number of group classes; Pool.Group is below it
	Blocks  []int // per group class: the block whose opening it shares, -1: none; nil: no blocks; for the bound with Relaxed only
}

// Class is a set of signals that the hardware treats alike.
type Class struct {
	Pool      int   // the pool whose modules can hold it
	Surcharge int64 // at least 0: what each signal costs beyond the pool's floor; for the bound only
	Unit      int64 // at least 1: its price per signal, by which a bundle's reduced cost is shared over its classes; for the bound with Relaxed only
}

// Pool is a set of classes that may share modules.
type Pool struct {
	StationClass int // a station holds pools of one station class only
	Group        int // the group class its modules draw from

	// Floor is F(n), the least the modules for n signals of this pool cost, n = 0, 1, ...; F(0) = 0, nondecreasing.
	// Beyond the last entry the last entry holds. For the bound only.
	Floor []int64
	// Weight is the pool's price per signal, at least 1, by which a bundle's reduced cost is shared over its pools.
	Weight int64
}

// Bundle is a set of signals served by one station.
type Bundle struct {
	// Cost is the price of the field cable to each place, with preferences and costs of change added; Forbidden where the
	// bundle may not go. One entry a place.
	Cost []int64
	// Demand lists, per kind, what the bundle asks of a station of that kind, each class at most once. An empty list
	// (with at least one class elsewhere) means that the kind cannot serve the bundle.
	Demand [][]Demand
}

// Demand is one class's part of a bundle.
type Demand struct {
	Class  int
	Count  int   // signals, at least 1
	LoadUA int64 // field current drawn from the group's supply by these signals together
}

// Partners is a set of redundant signals, no two of which may share a module. Each member is a signal of a bundle; Class
// gives, per kind, the class it counts in.
type Partners []Partner

// Partner is one signal of a set of redundant ones.
type Partner struct {
	Bundle int
	Class  []int // per kind; -1 where the kind cannot serve it
}

// Use is what parts take from a station's limits. Siting only adds it up.
type Use struct {
	Slots    int64
	RailMM   int64
	LogicUA  int64
	BytesIn  int64
	BytesOut int64
	HeatMW   int64
}

// Plus returns the sum of two uses.
func (u Use) Plus(v Use) Use {
	return Use{
		u.Slots + v.Slots, u.RailMM + v.RailMM, u.LogicUA + v.LogicUA,
		u.BytesIn + v.BytesIn, u.BytesOut + v.BytesOut, u.HeatMW + v.HeatMW,
	}
}

// Minus returns u less v.
func (u Use) Minus(v Use) Use {
	return Use{
		u.Slots - v.Slots, u.RailMM - v.RailMM, u.LogicUA - v.LogicUA,
		u.BytesIn - v.BytesIn, u.BytesOut - v.BytesOut, u.HeatMW - v.HeatMW,
	}
}

// GroupUse is what one group class of a station holds.
type GroupUse struct {
	Slots  int64 // of the modules of its pools
	LoadUA int64 // field current of its signals
}

// Tariff tells what holding signals costs. Its methods are called very often and from several goroutines at once; they
// must be quick, safe for that, and give the same answer to the same question.
type Tariff interface {
	// Pool returns the least cost of modules, bases and labour, and their use, that hold counts[i] signals of the pool's
	// i-th class (in the order of Kind.Classes). apart is the largest number of redundant partners present, 0 or 1 when there are none: at least that
	// many modules are needed. A cost of Forbidden or more says that they cannot be held. counts must not be kept.
	Pool(kind, pool int, counts []int, apart int) (cost int64, use Use)

	// Station returns what a station at the place costs beyond its pools (coupler, enclosure, supply, feeder, groups,
	// labour, its additive part of the network) when its pools use and its groups are as given; ok is false when a limit
	// is broken. groups must not be kept. The cost should not fall when use or groups grow.
	Station(place int, use Use, groups []GroupUse) (cost int64, ok bool)
}

// Network tells what joining stations costs where that depends on the set of places (line, ring, tree).
type Network interface {
	// Cost returns the network's cost when stations[p] stations stand at place p, beyond what Tariff.Station holds.
	// It is called from several goroutines at once and must not keep the slice.
	Cost(stations []int) int64
}

// Confirm returns the true cost of one station at the place that serves the bundles (ascending indices), without field
// cables and network, and whether it can be built. Siting remembers its answers.
type Confirm func(place int, bundles []int) (cost int64, ok bool)
