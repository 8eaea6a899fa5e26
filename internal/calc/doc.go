// Package calc holds what the formula packages below it share: the refusal of absurd input.
//
// The handbook itself is in the folders beneath: conductor, voltdrop, protect, supply, heat, loop,
// sensor, exi and bus. Each takes numbers and returns a number or a small result, knows nothing of
// projects, and does no I/O. Each also lists its declared formulas with Formulas, so that a design
// can point at them; package all gathers the lists.
//
// A result that is bad news for a design ("9 V at the valve") is a result, not an error. An error
// means that the question made no sense: a negative length, a NaN, a conductor that no table knows.
package calc
