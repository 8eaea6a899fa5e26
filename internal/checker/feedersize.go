package checker

import (
	"math"

	"railwright/internal/hardware"
)

// edges are the multiples of its rating up to which an AC device holds and from which it surely trips.
//
// Source: IEC 60898-1 (B, C), IEC 60947-2 (Z as makers print it); miniature fuses and electronic
// devices as plan-rules.md states them. Typed in again, not taken from the planner's.
var edges = map[string][2]int64{"B": {3, 5}, "C": {5, 10}, "Z": {2, 3}, "fuse": {4, 10}}

// edgesOf returns both edges in uA; others are electronic: 1 and 1.5 times their rating.
func edgesOf(d *hardware.Protection) (holds, trips int64) {
	if e, ok := edges[d.Type]; ok {
		return e[0] * int64(d.Rating), e[1] * int64(d.Rating)
	}
	return int64(d.Rating), int64(d.Rating) * 3 / 2
}

// inrush is the inrush of all supply units behind a feeder, in uA.
func (r *run) inrush(f *docFeeder) int64 {
	sum := int64(0)
	for _, s := range r.d.Supplies {
		if u := r.parts.supply[s.Type]; u != nil && s.Feeder == f.ID {
			sum += int64(math.Round(float64(u.Inrush)*1e6)) * s.units()
		}
	}
	return sum
}

// boardDevice is the cheapest AC device that is rated for the feeder's current and holds its inrush;
// where none holds it, the cheapest that is rated.
func (r *run) boardDevice(f *docFeeder) *hardware.Protection {
	current, inrush := uAofA(f.CurrentA), r.inrush(f)
	if best := cheapestDevice(r, func(d *hardware.Protection) bool {
		holds, _ := edgesOf(d)
		return d.AC && int64(d.Rating) >= current && holds >= inrush
	}); best != nil {
		return best
	}
	return r.protectionFor(false, current, 0)
}

// cheapestDevice is the cheapest device (then lowest rating, then code) that will do.
func cheapestDevice(r *run, will func(*hardware.Protection) bool) *hardware.Protection {
	var best *hardware.Protection
	for i := range r.hw.Protections {
		d := &r.hw.Protections[i]
		if r.unused[d.Code] || !will(d) {
			continue
		}
		if best == nil || d.Price < best.Price || d.Price == best.Price && (d.Rating < best.Rating || d.Rating == best.Rating && d.Code < best.Code) {
			best = d
		}
	}
	return best
}

// feederSized is the cheapest cable that keeps the drop and lets a short at its end trip the device;
// where none keeps both, the cheapest.
func (r *run) feederSized(f *docFeeder, laid int64, device *hardware.Protection) *hardware.Cable {
	if device != nil {
		if best := cheapest(r, r.hw.Cables, func(c *hardware.Cable) string { return c.Code }, func(c *hardware.Cable) bool {
			return c.Use == "supply" && c.Family == "power" && c.Cores >= 3 && c.Area >= r.p.Basis.Supply.FeederArea && r.feederKeeps(f, c, laid, device)
		}); best != nil {
			return best
		}
	}
	return r.feederType()
}

func (r *run) feederKeeps(f *docFeeder, c *hardware.Cable, laid int64, device *hardware.Protection) bool {
	if copper[float64(c.Area)] == [2]float64{} {
		return false // no table knows it
	}
	ohm := 2 * float64(laid) / 1000 * hotOhmPerMetre(float64(c.Area), c.Class)
	volts := float64(r.p.Power.FeederVoltage)
	_, trips := edgesOf(device)
	drop, most := math.Round(ohm*f.CurrentA*1000), math.Round(volts*float64(r.p.Basis.Feeder.Drop))
	fault := volts * float64(1000-r.p.Basis.Circuit.MainsLow) / 1000 / (float64(r.p.Basis.Feeder.BoardLoop) + ohm)
	return drop <= most && math.Round(fault*1000) >= math.Round(float64(trips)/1000)
}
