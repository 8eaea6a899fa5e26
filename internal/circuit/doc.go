// Package circuit computes what the circuit of each signal comes to in a finished design: the voltage
// left at a device or an input, the load of a loop, the error of a lead, the speed of a pulse line, the
// cable of an intrinsically safe circuit.
//
// Begin with Figures. Each figure leaves its working as a record "signal:ID.NAME"; what a signal's own
// records mean is said beside the function that makes them. Worst case throughout: lowest supply, hot
// copper, every load on. The package decides nothing and never does I/O.
package circuit
