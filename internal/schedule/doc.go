// Package schedule turns a design into tables as values: what a workshop, a site, a programmer and a buyer
// work from. The issued signal list with revisions and holds; stations, slots, channels and terminal
// plans of modules, infeed points and boxes; addresses and settings; cables with drums, cuts and the order
// of pulling; wires core by core with ferrule and strip length; ferrules and glands to buy; parts, labour
// and cost; labels; findings; what changed since the accepted design.
//
// Begin with Make. Every figure is the design's; made here are only the totals of the rows that a table
// lists, the cuts of its metres from drums, and what a handbook says of a conductor's end or a cable's
// gland. From the terminal plans, the wire schedule and the cable schedule alone every connection from
// device to channel can be found again; a test does so.
//
// A column's head carries its unit ("length_m"), because the tables are read back by other programs too:
// columns keep their names and places, new ones come at the end. The package never does I/O: writing
// the tables as files is the work of whoever asked for them.
package schedule
