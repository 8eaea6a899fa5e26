package scene

import "railwright/internal/typeface"

// Point is a spot on the sheet in mm.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Rect is an upright rectangle in mm: top left corner, width, height.
type Rect struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	W float64 `json:"w"`
	H float64 `json:"h"`
}

// Sheet is one sheet of paper, or one drawing on screen.
type Sheet struct {
	ID      string  `json:"id"`      // stable, unique in a pack: "loop/PT-101"
	Kind    string  `json:"kind"`    // "rail", "loop", "table" ...
	Number  string  `json:"number"`  // as printed: "A-03"
	Title   string  `json:"title"`   // bookmark
	Chapter string  `json:"chapter"` // bookmark above it
	Width   float64 `json:"width_mm"`
	Height  float64 `json:"height_mm"`
	Frame   Rect    `json:"frame"` // everything printed lies in it
	Layers  []Layer `json:"layers"`
}

// Layer is a named part of a sheet that a drawing program can switch off.
type Layer struct {
	Name  string `json:"name"`
	Items []Item `json:"items"`
}

// Item is one thing drawn: exactly one of Path, Circle, Arc and Text is set.
type Item struct {
	Subject string  `json:"subject,omitempty"` // "signal:ID", "wire:ID", "terminal:...": what it shows
	Role    string  `json:"role,omitempty"`    // what it is of the subject: "tag", "terminal", "load bar"
	Path    *Path   `json:"path,omitempty"`
	Circle  *Circle `json:"circle,omitempty"`
	Arc     *Arc    `json:"arc,omitempty"`
	Text    *Text   `json:"text,omitempty"`
}

// Path is a line through points, or an area when closed.
type Path struct {
	Points []Point `json:"points"`
	Closed bool    `json:"closed,omitempty"`
	Stroke Stroke  `json:"stroke"`
	Fill   Ink     `json:"fill,omitempty"` // "" = none
}

// Circle is a whole circle.
type Circle struct {
	Center Point   `json:"center"`
	Radius float64 `json:"radius_mm"`
	Stroke Stroke  `json:"stroke"`
	Fill   Ink     `json:"fill,omitempty"`
}

// Arc is a part of a circle, from Start through Sweep degrees clockwise; 0 points right.
type Arc struct {
	Center Point   `json:"center"`
	Radius float64 `json:"radius_mm"`
	Start  float64 `json:"start_deg"`
	Sweep  float64 `json:"sweep_deg"`
	Stroke Stroke  `json:"stroke"`
}

// Text is one line of text.
type Text struct {
	At     Point          `json:"at"`   // on the base line, at the anchor
	Size   float64        `json:"size"` // em height, mm
	Anchor Anchor         `json:"anchor,omitempty"`
	Style  typeface.Style `json:"style"`
	Ink    Ink            `json:"ink,omitempty"`
	Turn   float64        `json:"turn_deg,omitempty"` // 0 or -90 (reads upwards)
	Words  string         `json:"words"`
	Box    *Rect          `json:"box,omitempty"`   // cell or symbol it must stay in
	Sheet  string         `json:"sheet,omitempty"` // ID of the sheet it refers to: a link
}

// Anchor says which end of a text stands at its point.
type Anchor string

// The anchors; the empty one is Left.
const (
	Left   Anchor = ""
	Middle Anchor = "middle"
	Right  Anchor = "right"
)

// Ink is a colour that stays told apart in black and white and by colour-blind people; meaning never
// hangs on it alone.
type Ink string

// The inks. None leaves a shape unfilled or unstroked; Black is the default of lines and texts.
const (
	None   Ink = ""
	Black  Ink = "black"
	Dark   Ink = "dark"   // 35 % grey value
	Mid    Ink = "mid"    // 60 %
	Light  Ink = "light"  // 82 %: hatching, grid
	Pale   Ink = "pale"   // 94 %: backgrounds
	White  Ink = "white"  // covers what lies below
	Accent Ink = "accent" // one blue, for what the reader looks for
	Warn   Ink = "warn"   // one vermilion, for cautions and errors
)

// Stroke is how a line is drawn; Width 0 draws none.
type Stroke struct {
	Width float64 `json:"width_mm,omitempty"` // ISO 128: 0.18, 0.25, 0.35, 0.5, 0.7
	Ink   Ink     `json:"ink,omitempty"`      // "" = black
	Dash  Dash    `json:"dash,omitempty"`
}

// Dash is the pattern of a line.
type Dash string

// The patterns; the empty one is a whole line.
const (
	Whole  Dash = ""
	Dashed Dash = "dashed" // 3 on, 1.5 off
	Dotted Dash = "dotted" // 0.5 on, 1 off
	Chain  Dash = "chain"  // 6 on, 1.2 off, 0.6 on, 1.2 off
	Fine   Dash = "fine"   // 1.2 on, 0.7 off: small symbols
)

// The widths of ISO 128-2, mm.
const (
	Hair   = 0.18
	Thin   = 0.25
	Medium = 0.35
	Thick  = 0.5
	Heavy  = 0.7
)

// Bounds returns the box that a text's ink lies in, from its font's widths.
func (t *Text) Bounds() Rect {
	w := typeface.Width(t.Style, t.Words, t.Size)
	left := 0.0
	switch t.Anchor {
	case Middle:
		left = -w / 2
	case Right:
		left = -w
	}
	up, down := typeface.CapHeight*t.Size, typeface.Descent*t.Size
	if t.Turn == -90 {
		return Rect{t.At.X - up, t.At.Y - left - w, up + down, w}
	}
	return Rect{t.At.X + left, t.At.Y - up, w, up + down}
}

// Within reports whether r lies in outer, with a hundredth of a millimetre to spare for rounding.
func (r Rect) Within(outer Rect) bool {
	const e = 0.01
	return r.X >= outer.X-e && r.Y >= outer.Y-e && r.X+r.W <= outer.X+outer.W+e && r.Y+r.H <= outer.Y+outer.H+e
}

// Overlaps reports whether two rectangles share more than a border.
func (r Rect) Overlaps(o Rect) bool {
	const e = 0.01
	return r.X+e < o.X+o.W && o.X+e < r.X+r.W && r.Y+e < o.Y+o.H && o.Y+e < r.Y+r.H
}

// Inset returns the rectangle smaller by d on each side.
func (r Rect) Inset(d float64) Rect {
	return Rect{r.X + d, r.Y + d, max(r.W-2*d, 0), max(r.H-2*d, 0)}
}
