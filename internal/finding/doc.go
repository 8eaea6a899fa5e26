// Package finding holds the one message type of railwright: what a check or a reader says about a
// list, a project, a hardware list or a design.
//
// A finding is no error: the tool has done its work and found something doubtful. Errors (the
// tool could not work) stay Go errors. Findings are collected, sorted and printed all together;
// Sort gives them the one order that files and screens show. The package never does I/O.
package finding
