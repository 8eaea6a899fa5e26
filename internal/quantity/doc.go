// Package quantity holds the typed numbers that the rest of railwright computes with.
//
// There are two families. Physical quantities (Voltage, Current, Length, ...) are float64 in SI
// units and carry their physics as methods, so that swapped arguments do not compile. Counts
// (Money, Millimetres, Microamps) are int64: the rooms that decide something compare only counts,
// because a tie must not depend on how a processor rounds. ToMicroamps, ToMillimetres and ToMoney
// are the named border between the two.
//
// Begin with the type of the quantity at hand; each has Parse (unit required or defaulted as its
// comment says) and String, which reads back to the same value. The package never does I/O.
package quantity
