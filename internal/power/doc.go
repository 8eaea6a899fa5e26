// Package power decides the feeders of the stations: which board feeds a place, over which cable,
// behind which protective device. (The supply units in a station are chosen with its modules, in
// packing, because they share its enclosure.) Rules: docs/plan-rules.md, sections 7 and 9. The
// package never does I/O.
package power
