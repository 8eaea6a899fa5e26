// Package exchange is the way out to, and in from, the open formats that the neighbours use: what the
// controller's programmer compiles, what device descriptions say of hardware, what the plant's archive
// keeps. docs/exchange.md says of each format what is mapped and what is not.
//
// This package holds what the formats share: Points lists every channel of a design with its located
// address, data type and scaling, and Check proves the addresses (form, size, overlap) without
// help of the room that gave them out. One package below for each format: iec (IEC 61131-3 text) with
// iec/strict (a reader of it that forgives nothing), plcopen (PLCopen XML), tagcsv (CSV by a column
// template), regmap (Modbus), caex (CAEX and AutomationML), tables (relational; sqlitefile writes it),
// gsdml and eds (device descriptions to hardware entries, gathered by device).
//
// Writers return bytes and findings; they know no clock and no disk, so equal designs give equal files.
package exchange
