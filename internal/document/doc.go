// Package document makes the sheets that leave the tool besides the drawings: the calculation report, the
// assembly guide of each station, its verification and energising sheets, a loop sheet for every signal,
// labels with QR codes, and the schedules on paper; and the pack of all of them in its order.
//
// Begin with Pack. Every figure comes from the design; only the values that a test is expected to show
// (milliamperes, ohms, millivolts, counts) are computed here, from published tables, because they are no
// part of a design. The package never does I/O.
package document
