package power

import (
	"cmp"
	"math"

	"railwright/internal/calc/conductor"
	"railwright/internal/calc/protect"
	"railwright/internal/figure"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// Behind is what the protective device of a supply group must keep.
type Behind struct {
	DC     bool
	Load   q.Microamps
	Bus    q.Microamps          // most that the infeed point takes; 0: no limit stated
	Least  q.Microamps          // smallest current of a short at the infeed point; math.MaxInt64: nothing limits it
	Most   q.Microamps          // largest current of a short; 0: nobody knows
	Feeder *hardware.Protection // device of the feeder behind a mains group; nil for DC
}

// Rated reports whether a device is of the right kind and load <= rating <= bus.
func (b Behind) Rated(d *hardware.Protection) bool {
	return (b.DC && d.DC || !b.DC && d.AC) && d.Rating >= b.Load && (b.Bus == 0 || d.Rating <= b.Bus)
}

// Trips reports whether the smallest short surely trips a device at once.
func (b Behind) Trips(d *hardware.Protection) bool {
	m, ok := figure.MultiplesOf(d, b.DC)
	return ok && q.Microamps(math.Round(m.Trips*float64(d.Rating))) <= b.Least
}

// Breaks reports whether a device breaks the largest short; one without a stated capacity is taken to.
func (b Behind) Breaks(d *hardware.Protection) bool {
	return b.Most == 0 || d.Breaking == 0 || b.Most <= q.ToMicroamps(d.Breaking)
}

// Selective reports whether the largest short trips a device and not the feeder's.
func (b Behind) Selective(d *hardware.Protection) bool {
	if b.Feeder == nil || b.Most == 0 {
		return true
	}
	s, err := protect.Selective(figure.Device(b.Feeder, false), figure.Device(d, b.DC))
	return err == nil && (s.Total || b.Most < q.ToMicroamps(s.UpTo))
}

// Device returns the protective device of a supply group: the cheapest (then of lowest rating, then by
// code) that is rated, trips, breaks and is selective. Where none does all that, selectivity is left out,
// then the breaking capacity, then the tripping; findings say what is broken. ok is false where none is
// rated.
func Device(list *hardware.List, b Behind, allowed func(code string) bool) (best *hardware.Protection, ok bool) {
	keeps := []func(*hardware.Protection) bool{b.Trips, b.Breaks, b.Selective}
	for n := len(keeps); n >= 0; n-- {
		for i := range list.Protections {
			d := &list.Protections[i]
			if !allowed(d.Code) || !b.Rated(d) || !all(keeps[:n], d) {
				continue
			}
			if best == nil || cmp.Or(cmp.Compare(d.Price, best.Price), cmp.Compare(d.Rating, best.Rating), cmp.Compare(d.Code, best.Code)) < 0 {
				best = d
			}
		}
		if best != nil {
			return best, true
		}
	}
	return nil, false
}

func all(keeps []func(*hardware.Protection) bool, d *hardware.Protection) bool {
	for _, k := range keeps {
		if !k(d) {
			return false
		}
	}
	return true
}

// Short is the current of a short behind a loop resistance, in whole milliamperes rounded down, and at
// most what the source gives (0: no limit of its own); math.MaxInt64 where neither limits it.
func Short(u q.Voltage, loop float64, limit q.Microamps) q.Microamps {
	most := q.Microamps(math.MaxInt64)
	if loop > 0 {
		most = q.Microamps(math.Floor(1000*float64(u)/loop+1e-6)) * 1000
	}
	if limit > 0 {
		most = min(most, limit)
	}
	return most
}

// Sizes are the conductors that a cabinet is wired with.
var Sizes = []q.CrossSection{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35}

// Infeed returns the conductor of a group's infeed: the basis's, or the smallest larger one of Sizes that
// the device protects against overload where it lies, in trunking beside the basis's circuits in the
// air inside. Where none does, and above 60 degC, where the tables end, it is the basis's.
func Infeed(d *hardware.Protection, dc bool, basis q.CrossSection, inside q.Temperature, circuits int) q.CrossSection {
	for _, a := range append([]q.CrossSection{basis}, Sizes...) {
		if a < basis {
			continue
		}
		iz, err := conductor.Ampacity(a, conductor.Laying{Method: conductor.MethodB1, Ambient: inside, Circuits: circuits})
		if err == nil && carriedOn(d, dc, q.Microamps(math.Round(1000*float64(iz)))*1000) {
			return a
		}
	}
	return basis
}

// carriedOn is carried for either kind of current.
func carriedOn(d *hardware.Protection, dc bool, iz q.Microamps) bool {
	m, ok := figure.MultiplesOf(d, dc)
	return ok && d.Rating <= iz && math.Round(m.Conventional*float64(d.Rating)) <= math.Round(1.45*float64(iz))
}
