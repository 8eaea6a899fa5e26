// Package exampletest holds the tests that export the built-in example: it is planned once for all formats,
// and each export is held against the design and against a judge. The formats' own tests work on random designs and do not
// need the planner.
package exampletest
