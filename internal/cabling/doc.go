// Package cabling decides the field cables: the type, length and cost of each bundle's cable to each
// place, and which core lands on which terminal. Rules: docs/plan-rules.md, section 7. The package
// never does I/O.
package cabling
