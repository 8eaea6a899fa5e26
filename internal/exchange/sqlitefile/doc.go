// Package sqlitefile writes tables into an SQLite file, and reads them back.
//
// Bytes returns the whole file, so that the caller can put it in place at once; equal tables give equal
// bytes for one version of the library. The file has primary and foreign keys, and a table about that explains every table and column.
package sqlitefile
