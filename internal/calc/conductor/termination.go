package conductor

import (
	"fmt"
	"math"

	"railwright/internal/calc"
	"railwright/internal/quantity"
)

// Ferrule is a wire end ferrule with plastic collar.
type Ferrule struct {
	Area    quantity.CrossSection
	Twin    bool
	Colour  string                // of the collar, DIN 46228-4; "" below 0.5 mm2, where colours are not agreed
	Sleeve  quantity.Length       // metal sleeve of the usual length
	Strip   quantity.Length       // strip the wire to this length
	Source  string                // cite reference
	ClampAs quantity.CrossSection // nominal size to compare with a clamp's range for ferruled wires
}

// ferrules is DIN 46228-4. Colours 0.5 to 25 mm2 were seen on three pages that agree, 35 and 50 are
// from memory, as are all sleeve lengths. Twin sleeves from memory.
var ferrules = []struct {
	mm2    float64
	colour string
	sleeve float64 // mm
	twin   float64 // mm, 0: no twin ferrule
}{
	{0.5, "white", 8, 8},
	{0.75, "grey", 8, 8},
	{1, "red", 8, 8},
	{1.5, "black", 8, 8},
	{2.5, "blue", 8, 10},
	{4, "grey", 10, 12},
	{6, "yellow", 12, 14},
	{10, "red", 12, 14},
	{16, "blue", 12, 16},
	{25, "yellow", 16, 0},
	{35, "red", 16, 0},
	{50, "blue", 20, 0},
}

// FerruleFor returns the ferrule for one flexible wire, or for two wires of the same size in one
// twin ferrule. A size between rows takes the next larger one.
//
// The strip length is the sleeve's plus 2 mm. Below 0.5 mm2 the standard has no ferrule and its
// colour series none either: the result then has an empty Colour and the 8 mm sleeve. The colour
// alone does not tell a size: grey, blue, red and yellow each return.
//
// Source: DIN 46228-4:1990/2020 (colours); sleeve lengths from memory; strip length common practice.
func FerruleFor(area quantity.CrossSection, twin bool) (Ferrule, error) {
	if err := calc.Within("wire for a ferrule", area, 0.14, 50, "mm2"); err != nil {
		return Ferrule{}, err
	}
	if area < 0.5 {
		return Ferrule{Area: area, Twin: twin, Sleeve: 0.008, Strip: 0.010, Source: "common-practice#ferrule-below-0.5", ClampAs: clampAs(area, twin)}, nil
	}
	for _, f := range ferrules {
		if float64(area) > f.mm2*(1+1e-9) {
			continue
		}
		sleeve := f.sleeve
		if twin {
			if sleeve = f.twin; sleeve == 0 {
				return Ferrule{}, &calc.RangeError{Name: "wire for a twin ferrule", Value: float64(area), Unit: "mm2", Min: 0.14, Max: 16}
			}
		}
		return Ferrule{
			Area: quantity.CrossSection(f.mm2), Twin: twin, Colour: f.colour,
			Sleeve: quantity.Length(sleeve / 1000), Strip: quantity.Length((sleeve + 2) / 1000),
			Source: "din-46228-4#colours", ClampAs: clampAs(quantity.CrossSection(f.mm2), twin),
		}, nil
	}
	return Ferrule{}, &calc.RangeError{Name: "wire for a ferrule", Value: float64(area), Unit: "mm2", Min: 0.14, Max: 50}
}

// clampAs is the metal that a clamp sees: two wires are twice the section.
func clampAs(area quantity.CrossSection, twin bool) quantity.CrossSection {
	if twin {
		return 2 * area
	}
	return area
}

// WiresPerFerrule returns how many wires a ferrule may take: one, or two in a twin ferrule.
//
// Source: common practice (IEC 60204-1 13.1.1: two conductors in one terminal only if it is made
// for that).
func WiresPerFerrule(twin bool) int {
	if twin {
		return 2
	}
	return 1
}

// ClampRange is what a clamp takes, by kind of wire. Zero limits mean "not stated".
type ClampRange struct {
	SolidMin, SolidMax       quantity.CrossSection
	FlexibleMin, FlexibleMax quantity.CrossSection
	FerruleMin, FerruleMax   quantity.CrossSection
}

// WireEnd is how a wire arrives at a clamp.
type WireEnd string

// The wire ends that clamps distinguish.
const (
	Solid    WireEnd = "solid"
	Flexible WireEnd = "flexible" // bare strands
	Ferruled WireEnd = "ferruled"
)

// Takes reports whether the clamp is made for the wire. Where the range for ferruled wires is not
// stated, the flexible one counts.
func (c ClampRange) Takes(area quantity.CrossSection, end WireEnd) (bool, error) {
	if err := calc.Section("cross-section", area); err != nil {
		return false, err
	}
	var low, high quantity.CrossSection
	switch end {
	case Solid:
		low, high = c.SolidMin, c.SolidMax
	case Flexible:
		low, high = c.FlexibleMin, c.FlexibleMax
	case Ferruled:
		low, high = c.FerruleMin, c.FerruleMax
		if high == 0 {
			low, high = c.FlexibleMin, c.FlexibleMax
		}
	default:
		return false, &calc.ChoiceError{Name: "wire end", Seen: fmt.Sprintf("%q", string(end)), Allowed: "solid, flexible, ferruled"}
	}
	return float64(area) >= float64(low)*(1-1e-9) && float64(area) <= float64(high)*(1+1e-9), nil
}

// standardClamps is IEC 61439-1 annex A, as printed in EN 60439-1 table A.1.
var standardClamps = []struct {
	rated                                float64
	solidMin, solidMax, flexMin, flexMax float64
}{
	{6, 0.75, 1.5, 0.5, 1.5}, {12, 1, 2.5, 0.75, 2.5}, {25, 2.5, 6, 1.5, 4}, {63, 6, 25, 6, 16}, {125, 25, 70, 25, 50},
}

// StandardClamp returns the conductors that a terminal of the given rated current must at least
// take where its maker states nothing. A current between rows takes the next larger row.
//
// Source: EN 60439-1 annex A table A.1, now IEC 61439-1 annex A (some rows of the table were not seen).
func StandardClamp(rated quantity.Current) (ClampRange, error) {
	if err := calc.Positive("rated current of the terminal", rated, 125, "A"); err != nil {
		return ClampRange{}, err
	}
	for _, r := range standardClamps {
		if float64(rated) <= r.rated {
			a := func(x float64) quantity.CrossSection { return quantity.CrossSection(x) }
			return ClampRange{SolidMin: a(r.solidMin), SolidMax: a(r.solidMax), FlexibleMin: a(r.flexMin), FlexibleMax: a(r.flexMax)}, nil
		}
	}
	return ClampRange{}, nil // not reached: the range check above ends at the last row
}

// Gland is a cable gland with metric thread.
type Gland struct {
	Thread   string // "M20"
	Min, Max quantity.Length
	Hole     quantity.Length // in the gland plate
	Source   string
}

// glands are the usual sealing ranges of metric glands; makers differ by a millimetre or two.
var glands = []struct{ thread, min, max float64 }{
	{12, 3, 6.5}, {16, 5, 10}, {20, 8, 13}, {25, 11, 17}, {32, 15, 21}, {40, 19, 28}, {50, 27, 35}, {63, 34, 45},
}

// GlandFor returns the smallest metric gland that seals a cable of the outer diameter.
//
// Source: threads IEC 62444; sealing ranges common practice. The gland's own IP rating must be at
// least the enclosure's, and holds only within the maker's range.
func GlandFor(outer quantity.Length) (Gland, error) {
	mm := float64(outer) * 1000
	if math.IsNaN(mm) || mm < glands[0].min || mm > glands[len(glands)-1].max {
		return Gland{}, &calc.RangeError{Name: "cable diameter for a gland", Value: mm, Unit: "mm", Min: glands[0].min, Max: glands[len(glands)-1].max}
	}
	for _, g := range glands {
		if mm <= g.max {
			return Gland{
				Thread: fmt.Sprintf("M%g", g.thread), Min: quantity.Length(g.min / 1000), Max: quantity.Length(g.max / 1000),
				Hole: quantity.Length((g.thread + 0.3) / 1000), Source: "common-practice#gland-range",
			}, nil
		}
	}
	return Gland{}, nil // not reached
}
