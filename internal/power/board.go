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
	Ambient q.Temperature // highest, round the cable
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

// Pair is a feeder's cable with the protective device before it.
type Pair struct {
	Device *hardware.Protection
	Cable  *hardware.Cable
}

// Sized returns the cable and device of a feeder: the pair of least price (cable for the ordered length,
// and device; then by rating, device code and cable code) of which the device is rated for the current
// and holds the inrush, the cable keeps the basis's drop and may carry the device's rating as laid, and a
// short at the cable's end trips the device. Where no pair keeps all that, the inrush is left out; where
// still none does, it is the cheapest device that is rated with what Cable returns. ok is false when the
// list has no device that is rated, or no cable.
func Sized(list *hardware.List, p *project.Project, n Need, ordered q.Millimetres, allowed func(code string) bool) (Pair, bool) {
	best := n.pair(list, p, ordered, allowed)
	if best.Cable == nil {
		quiet := n
		quiet.Inrush = 0
		best = quiet.pair(list, p, ordered, allowed)
	}
	if best.Cable != nil {
		return best, true
	}
	var ok1, ok2 bool
	best.Device, ok1 = Protection(list, n.Current, allowed)
	best.Cable, ok2 = Cable(list, p.Basis, allowed)
	return best, ok1 && ok2
}

// pair is the pair of least price that keeps everything; none where no pair does.
func (n Need) pair(list *hardware.List, p *project.Project, ordered q.Millimetres, allowed func(code string) bool) (best Pair) {
	var least q.Money
	for i := range list.Cables {
		c := &list.Cables[i]
		if !feeds(c, p.Basis, allowed) || !n.drops(c, p) {
			continue
		}
		iz, trips := n.bears(c, p), n.fault(c, p)
		for k := range list.Protections {
			d := &list.Protections[k]
			if !d.AC || !allowed(d.Code) || d.Rating < n.Current || edge(d, false) < n.Inrush || !carried(d, iz) || edge(d, true) > trips {
				continue
			}
			price := c.Price.Of(ordered) + d.Price
			if best.Cable == nil || cmp.Or(cmp.Compare(price, least), cmp.Compare(d.Rating, best.Device.Rating), cmp.Compare(d.Code, best.Device.Code), cmp.Compare(c.Code, best.Cable.Code)) < 0 {
				best, least = Pair{d, c}, price
			}
		}
	}
	return best
}

// loop is the resistance of a cable's two cores, hot; false for a size that no table knows.
func (n Need) loop(c *hardware.Cable) (float64, bool) {
	r, err := conductor.ResistancePerLength(c.Area, conductor.Class(strconv.Itoa(c.Class)), figure.HotCopper)
	return 2 * n.Laid.Metres() * float64(r), err == nil
}

// drops reports whether a cable loses no more than the basis allows, in whole millivolts.
func (n Need) drops(c *hardware.Cable, p *project.Project) bool {
	loop, ok := n.loop(c)
	return ok && math.Round(1000*loop*float64(n.Current.Current())) <= math.Round(float64(p.Power.FeederVoltage)*float64(p.Basis.Feeder.Drop))
}

// fault is the current of a short at the end of a cable with the mains at their lowest, in whole
// milliamperes.
func (n Need) fault(c *hardware.Cable, p *project.Project) q.Microamps {
	loop, _ := n.loop(c)
	low := float64(p.Power.FeederVoltage) * float64(1000-p.Basis.Circuit.MainsLow) / 1000
	before := float64(p.Basis.Feeder.BoardLoop) + loop
	if before <= 0 {
		return math.MaxInt64
	}
	return q.Microamps(math.Round(1000*low/before)) * 1000
}

// bears is the current that a cable may carry as laid, in whole milliamperes; 0 where the table has none.
func (n Need) bears(c *hardware.Cable, p *project.Project) q.Microamps {
	iz, err := conductor.Ampacity(c.Area, conductor.Laying{Method: conductor.Method(p.Basis.Feeder.Method), Ambient: n.Ambient, Circuits: p.Basis.Feeder.Together})
	if err != nil {
		return 0
	}
	return q.Microamps(math.Round(1000*float64(iz))) * 1000
}

// carried reports whether a device's rating is at most the ampacity, and its conventional trip current at
// most 1.45 times it.
func carried(d *hardware.Protection, iz q.Microamps) bool { return carriedOn(d, false, iz) }
