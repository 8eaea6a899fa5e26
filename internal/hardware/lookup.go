package hardware

import (
	"cmp"
	"slices"

	q "railwright/internal/quantity"
)

// find returns the entry with the code in a slice sorted by code.
func find[T any](all []T, code string, of func(*T) string) (*T, bool) {
	i, ok := slices.BinarySearchFunc(all, code, func(e T, c string) int { return cmp.Compare(of(&e), c) })
	if !ok {
		return nil, false
	}
	return &all[i], true
}

// Construction returns the construction with the code.
func (l *List) Construction(code string) (*Construction, bool) {
	return find(l.Constructions, code, func(e *Construction) string { return e.Code })
}

// Coupler returns the coupler with the code.
func (l *List) Coupler(code string) (*Coupler, bool) {
	return find(l.Couplers, code, func(e *Coupler) string { return e.Code })
}

// Module returns the module (or infeed module) with the code.
func (l *List) Module(code string) (*Module, bool) {
	return find(l.Modules, code, func(e *Module) string { return e.Code })
}

// Base returns the base with the code.
func (l *List) Base(code string) (*Base, bool) {
	return find(l.Bases, code, func(e *Base) string { return e.Code })
}

// Supply returns the supply unit with the code.
func (l *List) Supply(code string) (*SupplyUnit, bool) {
	return find(l.Supplies, code, func(e *SupplyUnit) string { return e.Code })
}

// Protection returns the protective device with the code.
func (l *List) Protection(code string) (*Protection, bool) {
	return find(l.Protections, code, func(e *Protection) string { return e.Code })
}

// Cable returns the cable type with the code.
func (l *List) Cable(code string) (*Cable, bool) {
	return find(l.Cables, code, func(e *Cable) string { return e.Code })
}

// Box returns the junction box with the code.
func (l *List) Box(code string) (*JunctionBox, bool) {
	return find(l.Boxes, code, func(e *JunctionBox) string { return e.Code })
}

// Enclosure returns the enclosure with the code.
func (l *List) Enclosure(code string) (*Enclosure, bool) {
	return find(l.Enclosures, code, func(e *Enclosure) string { return e.Code })
}

// Network returns the network profile with the code.
func (l *List) Network(code string) (*NetworkProfile, bool) {
	return find(l.Networks, code, func(e *NetworkProfile) string { return e.Code })
}

// Part returns the part with the code.
func (l *List) Part(code string) (*Part, bool) {
	return find(l.Parts, code, func(e *Part) string { return e.Code })
}

// Named is what any entry of the list has: a title, a price and the class it is listed under.
type Named struct {
	Title string
	Class string // "coupler", "module", "base", "supply unit", "protection", "cable", "junction box", "enclosure", "part"
	Price q.Money
}

// Any returns the entry with the code, whatever its class. Codes are unique over all classes.
func (l *List) Any(code string) (Named, bool) {
	if e, ok := l.Coupler(code); ok {
		return Named{e.Title, "coupler", e.Price}, true
	}
	if e, ok := l.Module(code); ok {
		return Named{e.Title, "module", e.Price}, true
	}
	if e, ok := l.Base(code); ok {
		return Named{e.Title, "base", e.Price}, true
	}
	if e, ok := l.Supply(code); ok {
		return Named{e.Title, "supply unit", e.Price}, true
	}
	if e, ok := l.Protection(code); ok {
		return Named{e.Title, "protection", e.Price}, true
	}
	if e, ok := l.Cable(code); ok {
		return Named{e.Title, "cable", e.Price}, true
	}
	if e, ok := l.Box(code); ok {
		return Named{e.Title, "junction box", e.Price}, true
	}
	if e, ok := l.Enclosure(code); ok {
		return Named{e.Title, "enclosure", e.Price}, true
	}
	if e, ok := l.Part(code); ok {
		return Named{e.Title, "part", e.Price}, true
	}
	return Named{}, false
}

// Sort puts every slice in the order of codes, as the lookups need.
func (l *List) Sort() {
	slices.SortFunc(l.Constructions, func(a, b Construction) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Couplers, func(a, b Coupler) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Modules, func(a, b Module) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Bases, func(a, b Base) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Supplies, func(a, b SupplyUnit) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Protections, func(a, b Protection) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Cables, func(a, b Cable) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Boxes, func(a, b JunctionBox) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Enclosures, func(a, b Enclosure) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Networks, func(a, b NetworkProfile) int { return cmp.Compare(a.Code, b.Code) })
	slices.SortFunc(l.Parts, func(a, b Part) int { return cmp.Compare(a.Code, b.Code) })
}

// suits reports whether the base can carry the module in the construction (docs/plan-rules.md,
// section 6).
func suits(b *Base, m *Module, construction string) bool {
	return slices.Contains(b.Constructions, construction) && slices.Contains(m.Constructions, construction) &&
		slices.Contains(b.Patterns, m.Pattern) && (b.SupplyKind == "" || b.SupplyKind == m.SupplyKind)
}

// CheapestBase returns the cheapest base (then the first by code) of the construction that suits the
// module: an infeed base or a through base.
func (l *List) CheapestBase(k *Construction, m *Module, infeed bool) (*Base, bool) {
	var best *Base
	for i := range l.Bases {
		b := &l.Bases[i]
		if b.Infeed == infeed && suits(b, m, k.Code) && (best == nil || b.Price < best.Price) {
			best = b
		}
	}
	return best, best != nil
}

// InfeedModules returns the construction's infeed modules for a voltage kind, cheapest first, then by
// code.
func (l *List) InfeedModules(k *Construction, kind string) []*Module {
	var out []*Module
	for i := range l.Modules {
		m := &l.Modules[i]
		if m.Infeed && m.SupplyKind == kind && slices.Contains(k.InfeedModules, m.Code) && slices.Contains(m.Constructions, k.Code) {
			out = append(out, m)
		}
	}
	slices.SortStableFunc(out, func(a, b *Module) int { return cmp.Compare(a.Price, b.Price) })
	return out
}

// ModulesOf returns the modules with channels that belong to the construction, by code.
func (l *List) ModulesOf(construction string) []*Module {
	var out []*Module
	for i := range l.Modules {
		if m := &l.Modules[i]; !m.Infeed && slices.Contains(m.Constructions, construction) {
			out = append(out, m)
		}
	}
	return out
}

// CouplersOf returns the couplers of a construction for a network profile, cheapest first, then by
// code.
func (l *List) CouplersOf(construction, network string) []*Coupler {
	var out []*Coupler
	for i := range l.Couplers {
		if c := &l.Couplers[i]; c.Construction == construction && c.Network == network {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b *Coupler) int { return cmp.Compare(a.Price, b.Price) })
	return out
}

// Codes returns the codes of all entries, by class in the order in which Encode writes them.
func (l *List) Codes() []string {
	var out []string
	for _, c := range classes {
		out = append(out, c.codes(l)...)
	}
	return out
}
