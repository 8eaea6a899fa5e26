// Package siting decides which places get a station and which station serves each bundle of signals, at least cost,
// and proves by a lower bound how far from the best that decision can be.
//
// Begin at Instance (the problem in plain integers) and Solve. Certificate evaluates the lower bound that any integer
// multipliers give; docs/certificate.md describes the same rule so that somebody else can check it.
//
// The room is pure: no clock, disk, network or randomness beyond the given seed, and budgets are counted in steps, so the
// same instance, seed and budget give the same answer on any number of cores. It never sees a project, a hardware list or
// a module: a Tariff tells what holding signals costs, Confirm (the packing room) tells the true cost of one station, and
// no design leaves Solve with a station that Confirm has refused.
//
// Money is in 1/10,000 of the basis's currency everywhere. The order of places and bundles breaks ties, so callers give
// them in an order that does not depend on the rows of a file (by id).
package siting
