// Package hardware holds the hardware list: the couplers, modules, bases, supplies, cables and other
// parts to choose from, and the constructions that say how a family is put together.
//
// A construction is data. No room outside this package knows one by name: rooms ask the
// Construction what opens a supply group, which base suits a module, what closes the rail. Begin
// with List and Construction; Parse reads the TOML form (the built-in list is in that form too),
// Merge lays a project's own entries over it. The package never does I/O.
package hardware
