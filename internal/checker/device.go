package checker

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"railwright/internal/hardware"
)

// dcEdge are the upper edges of devices for DC as multiples of the rating.
//
// Source: IEC 60898-2 (B, C); Z and fuses as plan-rules.md states them. Typed in again.
var dcEdge = map[string]float64{"B": 7, "C": 15, "Z": 4.5, "fuse": 10}

// trips is the current in uA from which a device surely trips at once.
func trips(d *hardware.Protection, dc bool) int64 {
	if !dc {
		_, edge, _ := edgesOf(d)
		return edge
	}
	times, ok := dcEdge[d.Type]
	if !ok {
		times = 1.5
	}
	return int64(math.Round(times * float64(d.Rating)))
}

// short is a current in uA, whole mA rounded down, of a voltage behind a loop.
func short(volts, loop float64) int64 {
	if loop <= 0 {
		return math.MaxInt64
	}
	return int64(math.Floor(1000*volts/loop+1e-6)) * 1000
}

// shorts is the smallest and the largest current of a short at a group's infeed point, and the device of the
// feeder behind a mains group (section 4); largest 0: nobody knows.
func (r *run) shorts(st *station, g *group) (least, most int64, up *hardware.Protection) {
	infeed := 2 * r.p.Basis.Supply.InfeedLen.Metres() * hotOhmPerMetre(float64(r.p.Basis.Supply.InfeedArea), 5)
	class := "normal"
	if g.ups {
		class = "ups"
	}
	if isDC(g.volt) {
		source, volts := float64(r.p.Power.SupplyMin), 24.0
		if g.volt == "48vdc" {
			source, volts = 2*source, 48
		}
		least = short(source, infeed)
		for _, n := range r.needs(st) {
			if n.class != class || n.volts != volts {
				continue
			}
			if u, k := r.units(n.volts, st.env.ambient, r.wanted(n.load)); u != nil && u.ShortCurrent > 0 {
				each := int64(math.Round(float64(u.ShortCurrent) * 1e6))
				most = k * each
				least = min(least, (k-r.p.Basis.Supply.Spare)*each)
			}
		}
		return least, most, nil
	}
	for i := range r.d.Feeders {
		f := &r.d.Feeders[i]
		if f.Station != st.ID || f.Class != class {
			continue
		}
		laid, ok := r.linkLaid(f.From, st.Place)
		cable, device := r.feederPair(f, laid, st.env.ambient)
		if !ok || cable == nil {
			break
		}
		hot := 2 * float64(laid) / 1000 * hotOhmPerMetre(float64(cable.Area), cable.Class)
		cold := hot / (1 + 0.00393*50)
		b, v := &r.p.Basis, r.mainsOf(g.volt)
		least = short(v*float64(1000-b.Circuit.MainsLow)/1000, float64(b.Feeder.BoardLoop)+hot+infeed)
		most = short(v*float64(1000+b.Circuit.MainsHigh)/1000, cold)
		if limit := int64(math.Round(float64(b.Feeder.BoardFault) * 1e6)); limit > 0 {
			most = min(most, limit)
		}
		return least, most, device
	}
	return math.MaxInt64, 0, nil
}

// mainsOf is the nominal voltage of a mains group: the feeder's within 10 % of the modules', else theirs.
func (r *run) mainsOf(volt string) float64 {
	own, feeder := map[string]float64{"120vac": 120, "230vac": 230}[volt], float64(r.p.Power.FeederVoltage)
	if math.Abs(feeder-own) > 0.1*own+1e-6 {
		return own
	}
	return feeder
}

// selective reports whether a device below trips and the feeder's does not, up to the current.
func selective(up, down *hardware.Protection, most int64) bool {
	if up == nil || most == 0 {
		return true
	}
	holds, _, _ := edgesOf(up)
	return up.Rating > down.Rating && trips(down, false) < holds && most < holds
}

// groupDeviceFor is the device of section 4: the cheapest that is rated, trips, breaks and is selective,
// else without selectivity, then without the breaking capacity, then any that is rated.
func (r *run) groupDeviceFor(st *station, g *group) *hardware.Protection {
	dc := isDC(g.volt)
	least, most, up := r.shorts(st, g)
	for keep := 3; keep >= 0; keep-- {
		var best *hardware.Protection
		for i := range r.hw.Protections {
			d := &r.hw.Protections[i]
			switch {
			case r.unused[d.Code] || dc && !d.DC || !dc && !d.AC || int64(d.Rating) < g.load || g.bus > 0 && int64(d.Rating) > g.bus:
			case keep >= 1 && trips(d, dc) > least:
			case keep >= 2 && most > 0 && d.Breaking > 0 && most > int64(math.Round(float64(d.Breaking)*1e6)):
			case keep >= 3 && !selective(up, d, most):
			case best == nil || cmp.Or(cmp.Compare(d.Price, best.Price), cmp.Compare(d.Rating, best.Rating), cmp.Compare(d.Code, best.Code)) < 0:
				best = d
			}
		}
		if best != nil {
			return best
		}
	}
	return nil
}

// cabinet are the conductors that a cabinet is wired with.
var cabinet = []float64{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35}

// infeedArea is the conductor of a group's infeed (section 4): the basis's, or the smallest larger one that
// the device protects against overload in the air inside the enclosure.
func (r *run) infeedArea(st *station, g *group, d *hardware.Protection) float64 {
	basis := float64(r.p.Basis.Supply.InfeedArea)
	at := 0
	if !g.coupler {
		at = g.First
	}
	for _, x := range r.decisions(st.subject, fmt.Sprintf("infeed_mm2.%d", at)) {
		if area, err := strconv.ParseFloat(x.Value, 64); err == nil && x.Strength == "fixed" {
			return area
		}
	}
	if st.InsideMaxC == 0 {
		return basis
	}
	conventional := map[string]float64{"B": 1.45, "C": 1.45, "Z": 1.3, "fuse": 2.1}[d.Type]
	if conventional == 0 {
		conventional = 1.5
	}
	for _, a := range append([]float64{basis}, cabinet...) {
		iz := r.ampacity(a, st.InsideMaxC, "B1", r.p.Basis.Feeder.Inside)
		if a >= basis && int64(d.Rating) <= iz && math.Round(conventional*float64(d.Rating)) <= math.Round(1.45*float64(iz)) {
			return a
		}
	}
	return basis
}
