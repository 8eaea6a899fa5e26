// Package formula holds the one form in which railwright declares a formula and records its use.
//
// A Formula is declared once, as a package variable beside the Go function that computes it: name,
// text, inputs with units, source. Book.Eval evaluates it and leaves a Record: the inputs, each
// with its value, unit and origin ("from"), and the result. Text for people is built only in
// explain and report. The origin of an input is one of
//
//	project:PATH        signal:ID.COLUMN    hardware:CODE.KEY
//	calc:ID             cite:KEY#row        rule:CODE
//
// and following calc: to the leaves never ends in an unexplained number.
package formula
