package figure

import (
	"railwright/internal/calc/protect"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// Device returns a protective device of the hardware list as the formulas see it. Breakers are taken as
// IEC 60898 ones (B, C) or IEC 60947-2 ones (Z), fuses in fuse terminals as miniature time-lag fuses of
// IEC 60127, electronic devices as tripping at 1.5 times their rating (common practice).
func Device(p *hardware.Protection, dc bool) protect.Device {
	d := protect.Device{Rated: p.Rating.Current(), DC: dc, Breaking: p.Breaking}
	switch p.Type {
	case "B", "C":
		d.Kind, d.Curve = protect.Household, protect.Curve(p.Type)
	case "Z":
		d.Kind, d.Curve = protect.Industrial, protect.CurveZ
	case "fuse":
		d.Kind = protect.FuseTimeLag
	default:
		d.Kind = protect.Electronic
	}
	return d
}

// Multiples are a device's edges and its conventional trip current as multiples of its rating.
type Multiples struct {
	Holds, Trips, Conventional float64
	Within                     q.Duration
	Source                     string // cite reference of the edges
}

// MultiplesOf returns the multiples of a device; false for one that the formulas do not know.
func MultiplesOf(p *hardware.Protection, dc bool) (Multiples, bool) {
	d := Device(p, dc)
	t, err := d.Trip()
	factor, err2 := d.ConventionalFactor()
	if err != nil || err2 != nil {
		return Multiples{}, false
	}
	in := float64(d.Rated)
	return Multiples{Holds: float64(t.Holds) / in, Trips: float64(t.Trips) / in, Conventional: factor, Within: t.Within, Source: t.Source}, true
}
