package checker

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// catalogue finds parts by code.
type catalogue struct {
	construction map[string]*hardware.Construction
	coupler      map[string]*hardware.Coupler
	module       map[string]*hardware.Module
	base         map[string]*hardware.Base
	supply       map[string]*hardware.SupplyUnit
	protection   map[string]*hardware.Protection
	cable        map[string]*hardware.Cable
	enclosure    map[string]*hardware.Enclosure
	network      map[string]*hardware.NetworkProfile
	part         map[string]*hardware.Part
	price        map[string]int64 // of everything bought, per piece or metre
}

func index[T any](list []T, code func(*T) string) map[string]*T {
	m := make(map[string]*T, len(list))
	for i := range list {
		m[code(&list[i])] = &list[i]
	}
	return m
}

func (r *run) catalogue() {
	h, c := r.hw, &r.parts
	c.construction = index(h.Constructions, func(x *hardware.Construction) string { return x.Code })
	c.coupler = index(h.Couplers, func(x *hardware.Coupler) string { return x.Code })
	c.module = index(h.Modules, func(x *hardware.Module) string { return x.Code })
	c.base = index(h.Bases, func(x *hardware.Base) string { return x.Code })
	c.supply = index(h.Supplies, func(x *hardware.SupplyUnit) string { return x.Code })
	c.protection = index(h.Protections, func(x *hardware.Protection) string { return x.Code })
	c.cable = index(h.Cables, func(x *hardware.Cable) string { return x.Code })
	c.enclosure = index(h.Enclosures, func(x *hardware.Enclosure) string { return x.Code })
	c.network = index(h.Networks, func(x *hardware.NetworkProfile) string { return x.Code })
	c.part = index(h.Parts, func(x *hardware.Part) string { return x.Code })
	c.price = map[string]int64{}
	for _, x := range h.Couplers {
		c.price[x.Code] = int64(x.Price)
	}
	for _, x := range h.Modules {
		c.price[x.Code] = int64(x.Price)
	}
	for _, x := range h.Bases {
		c.price[x.Code] = int64(x.Price)
	}
	for _, x := range h.Supplies {
		c.price[x.Code] = int64(x.Price)
	}
	for _, x := range h.Protections {
		c.price[x.Code] = int64(x.Price)
	}
	for _, x := range h.Cables {
		c.price[x.Code] = int64(x.Price)
	}
	for _, x := range h.Boxes {
		c.price[x.Code] = int64(x.Price)
	}
	for _, x := range h.Enclosures {
		c.price[x.Code] = int64(x.Price)
	}
	for _, x := range h.Parts {
		c.price[x.Code] = int64(x.Price)
	}
	r.decided = map[string][]project.Decision{}
	for _, d := range r.p.Decisions() {
		k := d.Subject + "\x00" + d.Property
		r.decided[k] = append(r.decided[k], d)
		if len(d.Subject) > 5 && d.Subject[:5] == "part:" && d.Property == "use" && d.Strength != project.Preferred &&
			(d.Value == "no" || d.Value == "yes" && d.Strength == project.Forbidden) {
			r.unused[d.Subject[5:]] = true
		}
	}
	r.keepInstalled()
}

// cheapest returns the cheapest element that ok allows, the smaller code among equals; nil if none.
func cheapest[T any](r *run, list []T, code func(*T) string, ok func(*T) bool) *T {
	var best *T
	for i := range list {
		x := &list[i]
		if r.unused[code(x)] || !ok(x) {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(r.parts.price[code(x)], r.parts.price[code(best)]), cmp.Compare(code(x), code(best))) < 0 {
			best = x
		}
	}
	return best
}

// baseFor is the cheapest base that suits the module; infeed nil: of any sort.
func (r *run) baseFor(m *hardware.Module, construction string, infeed *bool) *hardware.Base {
	return cheapest(r, r.hw.Bases, func(b *hardware.Base) string { return b.Code }, func(b *hardware.Base) bool {
		return (infeed == nil || b.Infeed == *infeed) && baseSuits(b, m, construction)
	})
}

func baseSuits(b *hardware.Base, m *hardware.Module, construction string) bool {
	return slices.Contains(b.Constructions, construction) && slices.Contains(b.Patterns, m.Pattern) &&
		(b.SupplyKind == "" || b.SupplyKind == m.SupplyKind)
}

// protectionFor is the cheapest device of the right kind with a rating from low to high (0 = no
// ceiling), then the lowest rating, then the smaller code.
func (r *run) protectionFor(dc bool, low, high int64) *hardware.Protection {
	var best *hardware.Protection
	for i := range r.hw.Protections {
		p := &r.hw.Protections[i]
		if r.unused[p.Code] || dc && !p.DC || !dc && !p.AC || int64(p.Rating) < low || high > 0 && int64(p.Rating) > high {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(p.Price, best.Price), cmp.Compare(p.Rating, best.Rating), cmp.Compare(p.Code, best.Code)) < 0 {
			best = p
		}
	}
	return best
}

func isDC(volt string) bool { return volt == "24vdc" || volt == "48vdc" }

// keepInstalled lets modules that must not be used any more stay where they are installed.
func (r *run) keepInstalled() {
	r.kept = map[string]bool{}
	for _, d := range r.p.Choices {
		if code, _, _ := strings.Cut(d.Value, "@"); d.Origin == project.FromBuilt && strings.HasPrefix(d.Property, "slot.") && r.unused[code] {
			r.kept[code] = true
		}
	}
	for code := range r.kept {
		delete(r.unused, code)
	}
}

// boughtAnew counts the slots with a kept module that no installed slot accounts for.
func (r *run) boughtAnew() {
	for _, st := range r.stations {
		for _, sl := range st.slots {
			if !r.kept[sl.Module] {
				continue
			}
			installed := slices.ContainsFunc(r.decisions(st.subject, fmt.Sprintf("slot.%d", sl.Slot)), func(d project.Decision) bool {
				return d.Origin == project.FromBuilt
			})
			if !installed {
				r.bad("DEC", "part:"+sl.Module, "only where it is installed", "slot %d of %s", sl.Slot, st.ID)
			}
		}
	}
}
