// Package sensor turns what a sensor measures into what a module reads, and back.
//
// Begin with RTD.Resistance and RTD.Temperature for resistance thermometers, EMF and Temperature for
// thermocouples with a cold junction, Linear for scaling between raw counts, current and engineering
// value. LeadError, ExtensionError, ModuleError and the tolerance functions give the errors that a
// Budget adds up. Temperatures are degrees Celsius, errors kelvins.
//
// Platinum follows IEC 60751, nickel the polynomial of the withdrawn DIN 43760 (from memory),
// thermocouples the ITS-90 functions of NIST Monograph 175. Inverse functions are solved to the
// last digits of the forward one, not approximated.
package sensor
