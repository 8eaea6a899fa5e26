// Package voltdrop computes the voltage at the far end of DC and AC feeders.
//
// Begin with AtLoad for one feeder and one load, Chain for loads (groups or devices) one after the
// other on one cable, Star for several cables from one point, Tree for any mixture, with loads of
// constant current, power or resistance. The worst case is for the caller to state: lowest supply
// voltage, hottest copper (conductor.At), full load. LongestFor and ConductorFor turn the question
// round. No function counts contact resistance unless it is given one.
package voltdrop
