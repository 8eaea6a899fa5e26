package project

import (
	"cmp"
	"slices"
)

// SortDecisions sorts by subject, property, value, strength, origin.
func SortDecisions(all []Decision) {
	slices.SortStableFunc(all, func(a, b Decision) int {
		return cmp.Or(
			cmp.Compare(a.Subject, b.Subject), cmp.Compare(a.Property, b.Property), cmp.Compare(a.Value, b.Value),
			cmp.Compare(a.Strength, b.Strength), cmp.Compare(a.Origin, b.Origin), cmp.Compare(a.Reason, b.Reason),
			cmp.Compare(a.By, b.By), cmp.Compare(a.ChangeCost, b.ChangeCost),
		)
	})
}

// Normalised returns a copy of the project with every list in its one order: signals, places and
// routes by id, choices as SortDecisions has them. Deciding rooms work on this copy only.
func (p *Project) Normalised() *Project {
	n := *p
	n.Signals = slices.Clone(p.Signals)
	slices.SortStableFunc(n.Signals, func(a, b Signal) int { return cmp.Compare(a.ID, b.ID) })
	n.Places = slices.Clone(p.Places)
	slices.SortStableFunc(n.Places, func(a, b Place) int { return cmp.Compare(a.ID, b.ID) })
	n.Routes = slices.Clone(p.Routes)
	slices.SortStableFunc(n.Routes, func(a, b Route) int { return cmp.Compare(a.ID, b.ID) })
	n.Choices = slices.Clone(p.Choices)
	SortDecisions(n.Choices)
	return &n
}
