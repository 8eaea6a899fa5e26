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
