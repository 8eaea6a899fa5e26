// Package hardware holds the hardware list: the couplers, modules, bases, supplies, cables and other
// parts to choose from, and the constructions that say how a family is put together.
//
// A construction is data. No room outside this package knows one by name: rooms ask the
// Construction what opens a supply group, which base suits a module, what closes the rail.
//
// Begin with List and Builtin, the generic list that comes with the tool. Parse reads the TOML form
// (the built-in list is in that form too), Merge lays a project's own entries over a list, Check looks
// at what entries say of each other, and Load does all three for a project's hardware.toml. Encode
// writes the canonical form, from which SHA256 is made and which Parse reads back, so that a design
// can keep its hardware by value (see List.Only). The file format is described in docs/hardware.md.
//
// The package never does I/O; the built-in files are part of the program.
package hardware
