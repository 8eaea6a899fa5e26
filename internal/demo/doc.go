// Package demo holds the example project as files by value: an invented drinking-water works with
// signals of every kind and form.
//
// Begin with Files. The files under files/ are the source and are written by hand; whoever needs
// them on a disk writes them there. The package never does I/O.
package demo
