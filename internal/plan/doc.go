// Package plan runs the decisions in their order and turns a project into a design.
//
// Run is the one entry: places and cables priced, stations sited, each station packed, then feeders,
// network, addresses, wires, cost, home run and checks. It is pure and deterministic: the same
// project, hardware list and previous design give the same design, whatever the order of rows and
// the number of cores. Progress and cancelling go through Options.
package plan
