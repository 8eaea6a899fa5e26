// Package safexml reads XML that strangers wrote, and writes XML that others read.
//
// Decode refuses what an attack needs before anything is built of it: a document type (external entities,
// entities that multiply), more bytes, levels, elements or attributes than any honest file has, and
// character sets that it cannot read. Writer writes elements in the order given, escapes what must be, and leaves out what XML 1.0
// cannot hold.
package safexml
