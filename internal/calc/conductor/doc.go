// Package conductor knows copper conductors: resistance, current-carrying capacity, gauges, and
// what lands in a clamp.
//
// Begin with ResistancePerLength for voltage and fault calculations and with Ampacity for what a
// conductor may carry. The tables are those of IEC 60228 (resistance), IEC 60204-1 (ampacity at
// 40 degC with its own factors), IEC 60364-5-52 (ampacity at 30 degC with its own factors),
// ASTM B258 (gauges), DIN 46228-4 (ferrules) and IEC 60757 (colours). A row that was written down
// from memory says so in its source. The two ampacity systems are never mixed: each function takes
// the factors of its own standard.
//
// Copper only. Skin effect and reactance are left out; they do not matter below 50 mm2 and 60 Hz.
package conductor
