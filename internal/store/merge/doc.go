// Package merge joins what two people made of one state: tables cell by cell (Tables), texts line by
// line (Lines).
//
// Two edits of different cells are both taken, also where they are in one row. Two different edits of
// one cell, or an edit of a row that the other side took out, are a conflict: both versions are
// reported and the caller decides. The package knows neither signals nor files.
package merge
