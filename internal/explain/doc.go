// Package explain makes text of the calculations in a design: those behind a signal, a supply group, a
// station, a supply unit, a cable or a feeder, down to the values that somebody stated.
//
// Begin with Of, which gathers them, and Sheet.Text, which lays them out for 80 columns. The package
// evaluates nothing and never does I/O.
package explain
