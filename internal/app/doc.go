// Package app holds what a user can do, as functions: write the example, plan a project folder, check
// it. The command line and later the web call these and nothing below them.
//
// Begin with Plan. The package brings files in and out (folder, tabular) and hands values to the
// pure pipeline (plan) in between; it decides nothing about a design. What went wrong comes back as
// a *Fault that says whose turn it is: the caller's (usage), the project's (no design) or the
// tool's. Doubts about the design are findings in the result, never an error.
package app
