// Package pdf writes sheets as one PDF file: vectors, embedded fonts, one page a sheet, bookmarks by
// chapter and title, links between sheets. Begin with Write.
//
// The same sheets give the same bytes: the only date is the one given.
package pdf
