package power

import (
	"cmp"
	"math"
	"strconv"

	"railwright/internal/calc/conductor"
	"railwright/internal/figure"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Need is what a feeder must carry.
type Need struct {
	Current q.Microamps   // steady
	Inrush  q.Microamps   // of all supply units behind it, switched on together
	Laid    q.Millimetres // length
}

// AtBoard returns the protective device at the board: the cheapest AC device (then lowest rating, then
// code) that is rated for the current and whose lower edge holds the inrush; where none holds it, the
// cheapest that is rated. ok is false when the list has none that is rated.
func AtBoard(list *hardware.List, n Need, allowed func(code string) bool) (*hardware.Protection, bool) {
	var best *hardware.Protection
	for i := range list.Protections {
		d := &list.Protections[i]
		if !d.AC || d.Rating < n.Current || !allowed(d.Code) || edge(d, false) < n.Inrush {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(d.Price, best.Price), cmp.Compare(d.Rating, best.Rating), cmp.Compare(d.Code, best.Code)) < 0 {
			best = d
		}
	}
	if best == nil {
		return Protection(list, n.Current, allowed)
	}
	return best, true
}

// edge is the current up to which an AC device holds (upper false), or from which it surely trips.
func edge(d *hardware.Protection, upper bool) q.Microamps {
	m, ok := figure.MultiplesOf(d, false)
	if !ok {
		return 0
	}
	times := m.Holds
	if upper {
		times = m.Trips
	}
	return q.Microamps(math.Round(times * float64(d.Rating)))
}

// Sized returns the feeder's cable: the cheapest per metre (then by code) of those that Cable may take
// that keeps the basis's drop at the feeder's current and lets a short at its end trip the device;
// where none keeps both, what Cable returns.
func Sized(list *hardware.List, p *project.Project, n Need, d *hardware.Protection, allowed func(code string) bool) (*hardware.Cable, bool) {
	var best *hardware.Cable
	for i := range list.Cables {
		c := &list.Cables[i]
		if !feeds(c, p.Basis, allowed) || !keeps(c, p, n, d) {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(c.Price, best.Price), cmp.Compare(c.Code, best.Code)) < 0 {
			best = c
		}
	}
	if best == nil {
		return Cable(list, p.Basis, allowed)
	}
	return best, true
}

// keeps reports whether a cable loses no more than the basis allows and trips its device. Voltages are
// compared in whole millivolts and currents in whole milliamperes, so that no rounding decides.
func keeps(c *hardware.Cable, p *project.Project, n Need, d *hardware.Protection) bool {
	r, err := conductor.ResistancePerLength(c.Area, conductor.Class(strconv.Itoa(c.Class)), figure.HotCopper)
	if err != nil {
		return false
	}
	loop, u := 2*n.Laid.Metres()*float64(r), float64(p.Power.FeederVoltage)
	drop, most := math.Round(1000*loop*float64(n.Current.Current())), math.Round(u*float64(p.Basis.Feeder.Drop))
	low := u * float64(1000-p.Basis.Circuit.MainsLow) / 1000
	before := float64(p.Basis.Feeder.BoardLoop) + loop
	if before <= 0 {
		return drop <= most
	}
	return drop <= most && math.Round(1000*low/before) >= math.Round(float64(edge(d, true))/1000)
}
