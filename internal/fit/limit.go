package fit

import (
	"cmp"

	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Ceiling returns the most load of a group whose infeed point allows bus: the smaller of it and the
// basis's most. A limit of 0 means none was stated.
func Ceiling(bus q.Microamps, b *project.Basis) q.Microamps {
	switch most := b.Group.MaxCurrent; {
	case most <= 0:
		return bus
	case bus <= 0:
		return most
	default:
		return min(bus, most)
	}
}

// ProtectionFor returns the protective device of a group of that voltage kind: the cheapest, then of
// lowest rating, then by code, of the right kind with load <= rating <= bus. off holds forbidden
// codes. ok is false if there is none.
func ProtectionFor(l *hardware.List, kind string, load, bus q.Microamps, off map[string]bool) (*hardware.Protection, bool) {
	var best *hardware.Protection
	for i := range l.Protections {
		p := &l.Protections[i]
		right := p.DC && DC(kind) || p.AC && !DC(kind)
		if !right || off[p.Code] || p.Rating < load || bus > 0 && p.Rating > bus {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(p.Price, best.Price), cmp.Compare(p.Rating, best.Rating), cmp.Compare(p.Code, best.Code)) < 0 {
			best = p
		}
	}
	return best, best != nil
}
