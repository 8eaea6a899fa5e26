// Package cite names the published sources of numbers, each once, so that a figure, a rule and a
// formula point at the same entry. A key in text is written KEY or KEY#row (a row, clause or
// table within the source). The package never does I/O.
package cite
