// Package tabular brings spreadsheets in and out: CSV, XLSX, ODS and Markdown tables become a Book
// of Sheets whose cells have addresses ("F12"), and Tables become CSV or XLSX files.
//
// Begin with Read (bytes) or ReadFile (path), and with WriteCSV or WriteXLSX.
//
// # What a cell's text is
//
// Text stays exactly as it was written: "007" stays "007". A number of a spreadsheet is written
// with the fewest digits that read back to the same value, after the binary noise that a
// spreadsheet hides has been taken off (0.30000000000000004 is 0.3); a percent format gives "50%",
// a format of zeros pads ("007"), and literal text in a format is kept ("10 bar"). Dates are ISO
// 8601. A formula gives the value that the spreadsheet stored beside it; one without a stored
// value is empty, flagged, and listed in Book.Notes. Macros, links and scripts are never run.
//
// # Formula injection
//
// A text that begins with = + - @ tab or carriage return would be run as a formula by many
// spreadsheets. In CSV such a text is written with one apostrophe before it, unless it is a plain
// number such as -5; a text that begins with apostrophes followed by one of those characters gets
// one apostrophe more. Reading takes that one apostrophe off again, so the round trip is exact. In
// XLSX the cell is typed as text and carries the format's own "quoted text" mark, so the text itself
// is unchanged (designations such as =A1+B2-K3 stay readable).
//
// # Hostile files
//
// Limits are the constants of this package (MaxFileBytes and following). A file beyond them, cut
// off, encrypted, of another kind, or not text ends in an *Error that says what is wrong and how to
// mend it. XML with a document type declaration is refused, so no entity is ever expanded.
//
// Output is byte-deterministic: no clock, no machine names, sorted parts.
package tabular
