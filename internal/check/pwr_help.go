package check

import (
	"strings"

	"railwright/internal/calc/conductor"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// sizes are the conductors that a cabinet is wired with.
var sizes = []float64{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35}

// methodOf is how the conductors of a subject lie: feeders as the basis says, infeed wires in trunking.
func methodOf(f *Facts, subject string) conductor.Method {
	if strings.HasPrefix(subject, "feeder:") {
		return conductor.Method(f.Project.Basis.Feeder.Method)
	}
	return conductor.MethodB1
}

// baseAmpacity is the table value of a size; 0 where the table has none.
func baseAmpacity(area float64, m conductor.Method) float64 {
	r, err := conductor.Rate(q.CrossSection(area), conductor.Laying{Method: m, Ambient: 40})
	if err != nil {
		return 0
	}
	return float64(r.Base)
}

// trips reports whether a device surely trips at the current, with its upper edge.
func trips(p *hardware.Protection, dc bool, i float64) (edge float64, ok bool) {
	t, err := figure.Device(p, dc).Trip()
	if err != nil {
		return 0, false
	}
	return amps(t.Trips), i >= amps(t.Trips)*(1-1e-9)
}

// tripping finds the cheapest device for a group whose upper edge the fault current reaches and which
// carries the load.
func tripping(f *Facts, st *design.Station, g *design.SupplyGroup, fault float64) *hardware.Protection {
	var best *hardware.Protection
	for i := range f.List.Protections {
		p := &f.List.Protections[i]
		if p.DC != figure.DC(g) && p.AC == figure.DC(g) || amps(p.Rating.Current()) < g.LoadMA/1000 || amps(p.Rating.Current()) > max(g.LimitMA/1000, g.LoadMA/1000)*4 {
			continue
		}
		if _, ok := trips(p, figure.DC(g), fault); !ok {
			continue
		}
		if best == nil || p.Price < best.Price || p.Price == best.Price && p.Code < best.Code {
			best = p
		}
	}
	return best
}

// slotOf is the number by which choices name the device of a group: its first slot, 0 at the coupler.
func slotOf(g *design.SupplyGroup) int {
	if n, ok := g.InfeedAt.(int); ok {
		return n
	}
	return 0
}
