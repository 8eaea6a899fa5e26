package power

import (
	"cmp"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Ways tells the shortest way from a board to a place.
type Ways interface {
	LengthMM(place string) (int64, bool)
	Path(place string) ([]string, bool)
}

// Board is a distribution board that can feed stations.
type Board struct {
	Place string
	Ways  Ways
}

// Feeder is the cable that feeds the supply units of one station.
type Feeder struct {
	From    string // place of the board
	Cable   *hardware.Cable
	Laid    q.Millimetres
	Ordered q.Millimetres
	Route   []string
	Cost    q.Money // cable and labour, without the protective device
}

// Cable returns the cheapest supply cable of the power family with three cores or more and at
// least the basis's feeder area; ok is false when the list has none.
func Cable(list *hardware.List, basis project.Basis, allowed func(code string) bool) (*hardware.Cable, bool) {
	var best *hardware.Cable
	for i := range list.Cables {
		c := &list.Cables[i]
		if !feeds(c, basis, allowed) {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(c.Price, best.Price), cmp.Compare(c.Code, best.Code)) < 0 {
			best = c
		}
	}
	return best, best != nil
}

// feeds reports whether a cable may be a feeder.
func feeds(c *hardware.Cable, basis project.Basis, allowed func(code string) bool) bool {
	return c.Use == "supply" && c.Family == "power" && c.Cores >= 3 && c.Area >= basis.Supply.FeederArea && allowed(c.Code)
}

// Nearest returns the feeder of a station at the place from the board with the shortest way (then
// the lower place id); ok is false when no board reaches the place.
func Nearest(boards []Board, place string, local q.Millimetres, cable *hardware.Cable, basis project.Basis) (Feeder, bool) {
	var best Feeder
	for _, b := range boards {
		way, ok := b.Ways.LengthMM(place)
		if !ok {
			continue
		}
		if b.Place == place {
			way = int64(local)
		}
		laid := project.Laid(q.Millimetres(way), basis.Cable.AllowStation, basis.Cable.AllowStation)
		if best.Cable != nil && (laid > best.Laid || laid == best.Laid && b.Place >= best.From) {
			continue
		}
		route, _ := b.Ways.Path(place)
		best = Feeder{From: b.Place, Cable: cable, Laid: laid, Ordered: basis.Cable.Ordered(laid), Route: route}
	}
	if best.Cable == nil {
		return Feeder{}, false
	}
	pr := basis.Prices
	best.Cost = cable.Price.Of(best.Ordered) + pr.Labour(pr.PullPerMetre).Of(best.Laid) +
		2*pr.Labour(pr.CableEnd) + 6*pr.Labour(pr.Termination)
	return best, true
}

// Protection returns the cheapest AC device (then lowest rating, then code) rated for the current;
// ok is false when the list has none. A current of 0 gives the cheapest of all.
func Protection(list *hardware.List, current q.Microamps, allowed func(code string) bool) (*hardware.Protection, bool) {
	var best *hardware.Protection
	for i := range list.Protections {
		d := &list.Protections[i]
		if !d.AC || d.Rating < current || !allowed(d.Code) {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(d.Price, best.Price), cmp.Compare(d.Rating, best.Rating), cmp.Compare(d.Code, best.Code)) < 0 {
			best = d
		}
	}
	return best, best != nil
}

// InputCurrent returns what a supply unit draws from the feeder at full output, rounded up to whole
// microamperes: output x DC voltage / (efficiency x AC voltage).
func InputCurrent(u *hardware.SupplyUnit, feeder q.Voltage) q.Microamps {
	milliVoltOut, milliVoltIn := int64(float64(u.Voltage)*1000+0.5), int64(float64(feeder)*1000+0.5)
	if u.Efficiency <= 0 || milliVoltIn <= 0 {
		return 0
	}
	// output [uA] x voltage [mV] x 1000 fits int64 up to 9 kA at 1000 V
	return q.Microamps(q.CeilDiv(int64(u.Output)*milliVoltOut, milliVoltIn*u.Efficiency/1000))
}
