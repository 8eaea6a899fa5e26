package paper

import (
	"railwright/internal/words"
)

// Size is a paper format.
type Size string

// The formats: ISO 216 and ANSI Y14.1.
const (
	A4      Size = "A4"
	A3      Size = "A3"
	Letter  Size = "letter"
	Tabloid Size = "tabloid"
)

// Sizes are the formats in the order in which help lists them.
var Sizes = []Size{A4, A3, Letter, Tabloid}

// Portrait returns width and height upright, mm.
func (s Size) Portrait() (width, height float64) {
	switch s {
	case A3:
		return 297, 420
	case Letter:
		return 215.9, 279.4
	case Tabloid:
		return 279.4, 431.8
	}
	return 210, 297
}

// Half is the format of lists and forms that go with drawings of this one: half of A3 and tabloid, else
// the format itself.
func (s Size) Half() Size {
	switch s {
	case A3:
		return A4
	case Tabloid:
		return Letter
	}
	return s
}

// The ways to print a conductor's size.
const (
	MM2 = "mm2" // 2.5 mm²
	AWG = "awg" // AWG 14, with the area of the design beside it where there is room
)

// Setting is what holds for every sheet of a pack. The zero value prints in English on A4 with metric
// conductors.
type Setting struct {
	Size     Size           // of drawings; lists and forms take its Half
	Wire     string         // MM2 or AWG
	Language words.Language // of headings and captions
	Draft    bool           // stamps every sheet "not for construction"

	Project    string
	Controller string
	Revision   string
	Date       string // as the project states it; "" leaves the field for the pen
	Design     string // first signs of the design's hash: which design this paper shows
}

// Say returns a text of the catalogue in the setting's language.
func (s Setting) Say(key string, args ...any) string { return s.Language.Say(key, args...) }

// Text sizes: em heights in mm whose capitals have the heights of ISO 3098 (1.8, 2.5, 3.5, 5).
const (
	Small   = 2.5 // the least: capitals of 1.8 mm
	Normal  = 3.4
	Heading = 4.8
	Title   = 6.9
)
