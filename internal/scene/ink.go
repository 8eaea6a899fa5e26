package scene

// RGB returns the ink's colour, each part 0 to 255. The two colours keep their distance in lightness from
// each other and from black for every kind of colour vision (contrast on white at least 4.5 to 1).
func (i Ink) RGB() (r, g, b uint8) {
	switch i {
	case Dark:
		return 89, 89, 89
	case Mid:
		return 150, 150, 150
	case Light:
		return 209, 209, 209
	case Pale:
		return 240, 240, 240
	case White:
		return 255, 255, 255
	case Accent:
		return 0, 82, 150
	case Warn:
		return 190, 60, 0
	}
	return 0, 0, 0
}

// Lengths returns the dashes and gaps of a pattern in mm; nil for a whole line.
func (d Dash) Lengths() []float64 {
	switch d {
	case Dashed:
		return []float64{3, 1.5}
	case Dotted:
		return []float64{0.5, 1}
	case Fine:
		return []float64{1.2, 0.7}
	case Chain:
		return []float64{6, 1.2, 0.6, 1.2}
	}
	return nil
}
