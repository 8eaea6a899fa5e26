// Package routes finds the shortest ways between places over the site's routes (trays, ducts, conduits).
//
// Begin at New, which checks a network of places and routes and reports every fault, then Network.From (all ways from one
// place) or Network.Ways (several sources). Lengths are whole millimetres; among ways of equal length the one with fewer
// routes wins, then the one whose route ids, read from the source, come first in text order. So the answer depends on
// neither the order of the rows nor the machine.
//
// The package never rounds, adds no allowance and knows no cost: those belong to cabling.
package routes
