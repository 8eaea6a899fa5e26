// Package loop judges the circuit between a device and its channel: 4-20 mA loops, voltage signals,
// digital inputs and outputs, NAMUR sensors, counters and long AC lines.
//
// Begin with TwoWire.Solve for a loop-powered transmitter, Classify for a current by NAMUR NE 43,
// ByType and SwitchedInput.Solve for a digital input, Output.Solve for a digital output,
// MaxFrequency for a counter, CoupledVoltage for a mains input at the end of a long cable, and
// Powered and Polarity for who sources what. Cable resistance is that of both cores, hot, where a
// volt may be missing; see conductor.
package loop
