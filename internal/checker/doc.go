// Package checker recomputes a design from the project, the hardware list and the counting rules
// of docs/plan-rules.md, and says where design.json breaks a law.
//
// It is the second pair of eyes: it shares no code with the rooms that decide (siting, packing,
// routes, tariff, cost and the rest), reads design.json with structures of its own and trusts no
// figure in it. Begin with Check. Each file holds one family of laws; the law codes are listed in
// Laws. The package does no I/O and reports everything it finds in one run.
package checker
