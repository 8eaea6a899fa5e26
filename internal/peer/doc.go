// Package peer finds the programs not written here that tests ask for a second opinion: a PDF reader, an
// XML checker, a spreadsheet program, a database. ./test installs them; see list.go.
package peer
