package checker

import (
	"math"

	"railwright/internal/hardware"
)

// coveredFaces are the factors of rear, both sides together and top of an enclosure by its mounting.
//
// Source: IEC TR 60890 table 3: exposed 0.9, covered 0.5, top 1.4 or covered 0.7. Typed in again.
var coveredFaces = map[string][3]float64{
	"single, free": {0.9, 1.8, 1.4}, "single, wall": {0.5, 1.8, 1.4}, "end of row, free": {0.9, 1.4, 1.4}, "end of row, wall": {0.5, 1.4, 1.4},
	"middle of row, free": {0.9, 1, 1.4}, "middle of row, wall": {0.5, 1, 1.4}, "middle of row, wall, top covered": {0.5, 1, 0.7},
}

// losses is what a station gives off with all loads on, in watts.
func (r *run) losses(st *station) float64 {
	milliwatts := st.coupler.Heat
	for _, sl := range st.slots {
		if sl.module != nil {
			milliwatts += sl.module.Heat
		}
	}
	for _, g := range st.groups {
		if d := r.parts.protection[g.Protection]; d != nil {
			milliwatts += d.Heat
		}
	}
	watts := float64(milliwatts) / 1000
	for _, n := range r.needs(st) {
		if u, _ := r.units(n.volts, st.env.ambient, r.wanted(n.load)); u != nil && u.Efficiency > 0 {
			watts += float64(n.load) / 1e6 * float64(u.Voltage) * (1000/float64(u.Efficiency) - 1)
		}
	}
	return watts
}

// cool is section 9: the air inside stays within what every part bears, in whole hundredths of a kelvin, and
// (feeds) the supply units give in it what they must.
func (r *run) cool(st *station, e *hardware.Enclosure, feeds bool) bool {
	c := &r.p.Basis.Climate
	f, known := coveredFaces[c.Mounting]
	if !known || c.K <= 0 {
		return true
	}
	watts := r.losses(st)
	if e.MaxHeat > 0 && math.Round(1000*watts) > float64(e.MaxHeat) {
		return false
	}
	bears := float64(st.coupler.AmbientMax)
	for _, sl := range st.slots {
		if sl.module != nil {
			bears = min(bears, float64(sl.module.AmbientMax))
		}
	}
	for _, n := range r.needs(st) {
		if u, _ := r.units(n.volts, st.env.ambient, r.wanted(n.load)); u != nil {
			bears = min(bears, float64(u.AmbientMax))
		}
	}
	bears -= 0.005 * max(0, float64(r.p.Basis.Altitude)-2000)
	h, w, d := float64(e.Height)/1000, float64(e.Width)/1000, float64(e.Depth)/1000
	inside := st.env.ambient + watts/(c.K*(h*w*(0.9+f[0])+h*d*f[1]+w*d*f[2]))
	if math.Round(100*inside) > math.Round(100*bears) {
		return false
	}
	if !feeds {
		return true
	}
	for _, n := range r.needs(st) {
		if u, k := r.units(n.volts, st.env.ambient, r.wanted(n.load)); u != nil && derated(u, inside)*(k-r.p.Basis.Supply.Spare) < r.wanted(n.load) {
			return false
		}
	}
	return true
}

// derated is what a unit gives in air of a temperature, whatever it is allowed at most.
func derated(u *hardware.SupplyUnit, air float64) int64 {
	over := int64(math.Round(max(0, air-float64(u.DerateFrom)) * 1000)) // mK
	return max(0, int64(u.Output)*(1_000_000-u.DeratePerK*over)/1_000_000)
}
