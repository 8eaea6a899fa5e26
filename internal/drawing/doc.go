// Package drawing turns a design into drawings: sheets of the scene room, each with frame, title block and
// legend. Begin with All.
//
// Layout goes by rule: every kind of sheet has fixed columns and rows that depend on its own subject alone, so
// that a change of one loop moves nothing on another's sheet. What does not fit one sheet goes on to the next,
// with a reference both ways. Meaning hangs on line type, shape and letters; colour only repeats it.
//
// A path with the role "wire" and the subject "wire:ID" is a wire of the design; every wire is drawn so exactly
// once in the pack. Figures are the design's: the room computes none.
package drawing
