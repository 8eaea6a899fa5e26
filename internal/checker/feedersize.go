package checker

import (
	"math"

	"railwright/internal/hardware"
)

// edges are the multiples of its rating up to which an AC device holds, from which it surely trips at
// once, and (times 100) from which it surely trips in its conventional time.
//
// Source: IEC 60898-1 (B, C), IEC 60947-2 (Z as makers print it, 1.30); miniature fuses and electronic
// devices as plan-rules.md states them. Typed in again, not taken from the planner's.
var edges = map[string][3]int64{"B": {3, 5, 145}, "C": {5, 10, 145}, "Z": {2, 3, 130}, "fuse": {4, 10, 210}}

// edgesOf returns the edges in uA; a device that is none of these is electronic: 1, 1.5 and 1.5.
func edgesOf(d *hardware.Protection) (holds, trips, conventional int64) {
	if e, ok := edges[d.Type]; ok {
		return e[0] * int64(d.Rating), e[1] * int64(d.Rating), int64(math.Round(float64(e[2]) / 100 * float64(d.Rating)))
	}
	half := int64(math.Round(1.5 * float64(d.Rating)))
	return int64(d.Rating), half, half
}

// table6 is the ampacity of three loaded copper conductors, PVC, at 40 degC: B1, B2, C, E.
//
// Source: IEC 60204-1:2016 table 6; B1 from memory. Typed in again.
var table6 = []struct {
	mm2          float64
	b1, b2, c, e float64
}{
	{0.75, 8.6, 8.5, 9.8, 10.4},
	{1, 10.3, 10.1, 11.7, 12.4},
	{1.5, 13.5, 13.1, 15.2, 16.1},
	{2.5, 18.3, 17.4, 21, 22},
	{4, 24, 23, 28, 30},
	{6, 31, 30, 36, 37},
	{10, 44, 40, 50, 52},
	{16, 59, 54, 66, 70},
	{25, 77, 70, 84, 88},
	{35, 96, 86, 104, 110},
	{50, 117, 103, 125, 133},
	{70, 149, 130, 160, 171},
	{95, 180, 156, 194, 207},
	{120, 208, 179, 225, 240},
}

// airRows is IEC 60204-1 table D.1 from 30 degC on, every 5 K; below it stays, above 60 degC there is none.
var airRows = []float64{1.15, 1.08, 1.00, 0.91, 0.82, 0.71, 0.58}

// together is the factor for circuits that lie together: bunched, on a wall, on a tray.
//
// Source: IEC 60364-5-52 table B.52.17 items 1, 2 and 4, the last two from memory.
var together = []struct {
	n                   int
	bunched, wall, tray float64
}{
	{1, 1, 1, 1},
	{2, 0.8, 0.85, 0.88},
	{3, 0.7, 0.79, 0.82},
	{4, 0.65, 0.75, 0.77},
	{5, 0.6, 0.73, 0.75},
	{6, 0.57, 0.72, 0.73},
	{7, 0.54, 0.72, 0.73},
	{8, 0.52, 0.71, 0.72},
	{9, 0.5, 0.7, 0.72},
	{12, 0.45, 0.7, 0.72},
	{16, 0.41, 0.7, 0.72},
	{20, 0.38, 0.7, 0.72},
}

// bears is the current that a feeder's cable may carry as laid at an ambient temperature.
func (r *run) bears(area, ambient float64) int64 {
	return r.ampacity(area, ambient, r.p.Basis.Feeder.Method, r.p.Basis.Feeder.Together)
}

// ampacity is the current that a conductor may carry as laid at an ambient temperature beside others, in
// whole milliamperes given in uA; 0 where the tables have none.
func (r *run) ampacity(area, ambient float64, method string, circuits int) int64 {
	base := 0.0
	for _, row := range table6 {
		if row.mm2 <= area*(1+1e-9) {
			base = map[string]float64{"B1": row.b1, "B2": row.b2, "C": row.c, "E": row.e}[method]
		}
	}
	if ambient > 60 || ambient < -50 || area > 120 {
		return 0
	}
	air := airRows[0]
	if ambient > 30 {
		i := min(int((ambient-30)/5), len(airRows)-2)
		air = airRows[i] + (airRows[i+1]-airRows[i])*(ambient-30-5*float64(i))/5
	}
	group := 1 / math.Sqrt(float64(max(1, circuits)))
	last := together[len(together)-1]
	switch {
	case circuits <= last.n:
		for _, g := range together {
			if circuits <= g.n {
				group = map[string]float64{"B1": g.bunched, "B2": g.bunched, "C": g.wall, "E": g.tray}[method]
				break
			}
		}
	case method == "C":
		group = last.wall
	case method == "E":
		group = last.tray
	}
	return int64(math.Round(base*air*group*1000)) * 1000
}

// inrush is the inrush of all supply units behind a feeder, in uA.
func (r *run) inrush(f *docFeeder) int64 {
	sum := int64(0)
	for _, s := range r.d.Supplies {
		if u := r.parts.supply[s.Type]; u != nil && s.Feeder == f.ID {
			sum += int64(math.Round(float64(u.Inrush) * 1e6))
		}
	}
	return sum
}

// feederPair is the cable and device of a feeder by section 7: the pair of least price that keeps every
// condition, else every one but the inrush; where none does, the cheapest device that is rated with the
// cheapest cable.
func (r *run) feederPair(f *docFeeder, laid int64, ambient float64) (*hardware.Cable, *hardware.Protection) {
	for _, inrush := range []int64{r.inrush(f), 0} {
		if c, d := r.feederPairFor(f, laid, ambient, inrush); c != nil {
			return c, d
		}
	}
	return r.feederType(), r.protectionFor(false, uAofA(f.CurrentA), 0)
}

func (r *run) feederPairFor(f *docFeeder, laid int64, ambient float64, inrush int64) (cable *hardware.Cable, device *hardware.Protection) {
	current := uAofA(f.CurrentA)
	ordered := r.ordered(laid)
	least := int64(math.MaxInt64)
	for i := range r.hw.Cables {
		c := &r.hw.Cables[i]
		if c.Use != "supply" || c.Family != "power" || c.Cores < 3 || c.Area < r.p.Basis.Supply.FeederArea || r.unused[c.Code] || copper[float64(c.Area)] == [2]float64{} {
			continue
		}
		ohm := 2 * float64(laid) / 1000 * hotOhmPerMetre(float64(c.Area), c.Class)
		volts := float64(r.p.Power.FeederVoltage)
		if math.Round(ohm*f.CurrentA*1000) > math.Round(volts*float64(r.p.Basis.Feeder.Drop)) {
			continue
		}
		fault := int64(math.Round(1000*volts*float64(1000-r.p.Basis.Circuit.MainsLow)/1000/(float64(r.p.Basis.Feeder.BoardLoop)+ohm))) * 1000
		iz := r.bears(float64(c.Area), ambient)
		for k := range r.hw.Protections {
			d := &r.hw.Protections[k]
			holds, trips, conventional := edgesOf(d)
			if !d.AC || r.unused[d.Code] || int64(d.Rating) < current || holds < inrush || trips > fault || int64(d.Rating) > iz || conventional > int64(math.Round(1.45*float64(iz))) {
				continue
			}
			price := cableMoney(ordered, int64(c.Price)) + int64(d.Price)
			if price < least || price == least && (d.Rating < device.Rating || d.Rating == device.Rating && (d.Code < device.Code || d.Code == device.Code && c.Code < cable.Code)) {
				cable, device, least = c, d, price
			}
		}
	}
	return cable, device
}
