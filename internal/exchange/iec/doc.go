// Package iec writes a design as IEC 61131-3 source in Structured Text: one complete file that a compiler
// takes as it is.
//
// Build makes a Unit of the points: legal, unique names, located global variables, values in engineering
// units, functions that scale and a program that calls them. Text prints it; plcopen prints the same Unit
// as XML. Each variable keeps the signal's own tag in its comment. What an exported file must keep to is
// proved by iec/strict, which shares nothing with this package.
package iec
