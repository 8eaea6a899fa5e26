// Package design holds what a plan is: plain data with stable ids, in the form of design.json.
//
// Design is filled by the plan pipeline and only read afterwards: checks, documents, checkout and
// modification take every figure from it and compute none again. Encode gives the one byte form;
// Decode reads it back and refuses other formats. The package never does I/O.
package design
