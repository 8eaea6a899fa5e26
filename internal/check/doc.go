// Package check holds the rules that read a finished design and say what is doubtful about it.
//
// A rule is one file: a permanent code, a title, the reason, an example, its source, who may mend
// it, and a function from the facts to findings. Run applies them all. Rules never feed back into
// a decision: the deciding rooms ask fit up front. docs/rules.md is generated from All. The
// package never does I/O.
package check
