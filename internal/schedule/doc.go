// Package schedule turns a design into tables as values: the issued signal list, stations, slots,
// channels, terminals, addresses, supply groups, cables, wires, power, network, parts, labour, cost,
// findings.
//
// Begin with All. Every figure is the design's; the only sums made here are the totals of the rows
// that a table lists. A column's head carries its unit ("length_m"), because the tables are read
// back by other programs too. The package never does I/O: writing the tables as files is the work
// of whoever asked for them.
package schedule
