// Package typeface holds the fonts of every sheet and measures text in them. The fonts are the Go fonts
// (BSD licence, module golang.org/x/image): their letters follow DIN 1450, so that 0 and O, 1, l and I
// differ, and they carry the ohm, degree, squared and arrow signs.
//
// All lengths are millimetres; a text's size is its em height.
package typeface
