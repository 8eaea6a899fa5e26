// Package protect relates conductors, protective devices and fault currents.
//
// Begin with Coordinate for overload (Ib <= In <= Iz and I2 <= 1.45 Iz), with Band for the currents
// at which a breaker trips at once, and with Device.Trip for any device. MinFault and MaxFault give
// the currents that a source drives through a dead short; LongestFor and ConductorFor turn that
// round. Always hold the smallest fault current against the upper edge of the band, and the largest
// against the breaking capacity.
//
// A current-limited supply may never reach the upper edge: then only an electronic protector, or a
// supply with a larger boost, will do. The package says so; it approves nothing. Protection of
// people (disconnection times, earthing) is for a licensed person under the local code.
package protect
