// Package intake turns a foreign signal list, in whatever shape its author gave it, into signals.
//
// Begin with Read: it takes sheets of cells as plain values and returns signals, preferred
// decisions (from racks, slots, channels and addresses that the list carries), findings, and the
// rows it could not use. Every assumption is an info finding with a confidence from 0 to 1; every
// fault is a finding with file, sheet, cell, the value seen, what is allowed, and the remedy.
//
// How a list is understood, in this order:
//
//  1. Tables: the heading rows are found by their words (synonyms.go: English, German, French,
//     Spanish), under title rows, over two or three rows, again and again down the sheet.
//  2. Columns: each heading has one meaning or several; where several, or none, the content decides
//     (profile.go). A column map given by the user outranks both.
//  3. Rows: section rows set the place, equipment or station for what follows; repeated headings,
//     totals, notes and legends are passed over; the rest is data (rows.go).
//  4. Cells: kinds, forms, ranges, units, currents, voltages and contacts are read out of free text
//     (electrical.go, number.go, unit.go, kind.go).
//  5. Signals: one row may be one signal, several (marks or counts per kind, ZSC/O), or none.
//
// Compare and Merge bring an edited or revised list back: matched by id, then tag, then likeness
// (asked, not assumed), with every change shown before it is made.
//
// The package is pure: it opens no file and writes none. The room intake/fromtable turns a table
// file into its Book.
package intake
