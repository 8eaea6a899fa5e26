// Package project holds what an engineer states: signals, places, routes, design basis, network
// and power wishes, and choices. It is plain data; reading it from files is the folder room's
// work, deciding on it that of the rooms above.
//
// Begin with Project. Columns lists the canonical columns of the signal list, each with its parser,
// unit, default and allowed values: the one place that readers, writers and documentation share.
// Decisions brings hand choices, list columns and installed or previous parts into one form.
package project
