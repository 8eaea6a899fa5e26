// Package synth makes up sites: places on a network of routes, devices with signals of every kind and
// form, and a design basis, of any size and by seed. Benchmarks and property tests plan them; nothing
// in them stands for a real works. The package is pure: its only chance comes from the Source that
// it is given.
package synth
