// Package packing completes one station: modules, bases, slots, channels, supply groups, coupler,
// enclosure and supply units for the signals it serves. An empty station is the smallest case of a
// partial one; what is fixed stays, what is preferred is kept where keeping is cheaper.
//
// Begin with Complete. Cost is the same decision without writing the station out, for siting, which
// asks thousands of times. Both are pure, count in whole numbers and give the same answer to the
// same question in any order of the signals; a budget in steps bounds the work, and Result.Bound
// says what is proven: no station that keeps the rules costs less.
package packing
