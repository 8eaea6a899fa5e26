// Package tables lays a whole design out as relational tables, for anyone's own queries.
//
// All walks design.json's own types, so no key is ever forgotten: a list becomes a table named after its
// path (stations_slots_channels), an object inside a row becomes columns (remedy_text), a list or a map inside a
// row becomes a table of its own that names its parent row by the parent's key (stations_id, slots_n). Rows without an id
// are numbered by n from 1. One table beside them, points, is what a controller sees: every channel with tag, address,
// type and scaling. The notes are those of the published schema of design.json. sqlitefile writes the tables into a file.
package tables
