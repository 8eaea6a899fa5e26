// Package cost adds up what a finished design costs: its parts list, its labour list and their
// sums, and the same job done without stations (the home run).
//
// Sum reads the stations, cables, supplies and protections of the design and prices each piece
// once; it decides nothing. Rules: docs/plan-rules.md, sections 1 and 9. The package never does
// I/O.
package cost
