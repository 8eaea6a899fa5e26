package protect

import (
	"errors"
	"fmt"
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// Curve is the letter of a breaker's instantaneous trip.
type Curve string

// The curves that Band knows.
const (
	CurveB Curve = "B"
	CurveC Curve = "C"
	CurveD Curve = "D"
	CurveK Curve = "K"
	CurveZ Curve = "Z"
)

// TripBand is the range of currents, as multiples of In, within which a breaker starts to trip at
// once: below Low it does not, from High on it surely does.
type TripBand struct {
	Low, High float64
	Source    string
}

// bands holds AC and DC bands.
//
// AC: B, C, D of IEC 60898-1; K and Z of IEC 60947-2 are the maker's, K is printed as 8 to 12 and
// as 10 to 14, so the widest reading is used. DC: B and C of IEC 60898-2 (from memory); for D, K, Z
// no standard gives one, and the handbook rule "AC upper edge times 1.5" is used (from memory).
var bands = map[Curve]struct{ ac, dc TripBand }{
	CurveB: {TripBand{3, 5, "iec-60898-1#instantaneous"}, TripBand{4, 7, "from-memory#iec-60898-2-instantaneous"}},
	CurveC: {TripBand{5, 10, "iec-60898-1#instantaneous"}, TripBand{7, 15, "from-memory#iec-60898-2-instantaneous"}},
	CurveD: {TripBand{10, 20, "iec-60898-1#instantaneous"}, TripBand{10, 30, "from-memory#ac-band-times-1.5"}},
	CurveK: {TripBand{8, 14, "iec-60947-2#K"}, TripBand{8, 21, "from-memory#ac-band-times-1.5"}},
	CurveZ: {TripBand{2, 3, "iec-60947-2#Z"}, TripBand{2, 4.5, "from-memory#ac-band-times-1.5"}},
}

// Band returns the band of currents at which a breaker trips at once, as multiples of its rated
// current. Hold a smallest fault current against High, an inrush against Low.
//
// Source: IEC 60898-1, IEC 60898-2, IEC 60947-2; each band names its own. A maker's own figure for
// DC outranks it.
func Band(c Curve, dc bool) (TripBand, error) {
	b, ok := bands[c]
	if !ok {
		return TripBand{}, &calc.ChoiceError{Name: "trip curve", Seen: fmt.Sprintf("%q", string(c)), Allowed: "B, C, D, K, Z"}
	}
	if dc {
		return b.dc, nil
	}
	return b.ac, nil
}

// Kind is a kind of protective device.
type Kind string

// The kinds that Device knows.
const (
	Household    Kind = "iec-60898"  // circuit breaker, conventional 1.13 / 1.45
	Industrial   Kind = "iec-60947"  // circuit breaker, conventional 1.05 / 1.30
	FuseGG       Kind = "gG"         // general-purpose fuse of IEC 60269
	FuseQuick    Kind = "fuse-F"     // miniature fuse, quick-acting, IEC 60127
	FuseTimeLag  Kind = "fuse-T"     // miniature fuse, time-lag, IEC 60127
	Electronic   Kind = "electronic" // semiconductor protector for DC circuits
	CurrentLimit Kind = "limit"      // a channel or supply that limits its own output
)

// Device is a protective device as the formulas see it.
type Device struct {
	Kind     Kind
	Rated    quantity.Current
	Curve    Curve            // breakers
	DC       bool             // used on DC
	Factor   float64          // Electronic, CurrentLimit: trips from Factor * Rated; 0: 1.5 (common practice)
	Breaking quantity.Current // rated breaking capacity; 0: not stated
}

// ConventionalFactor returns I2/In: the multiple that surely trips a device within its conventional
// time, as overload coordination needs it.
//
// Source: IEC 60898-1 (1.45), IEC 60947-2 (1.30), IEC 60269-1 (gG: 1.6 from 16 A on, 1.9 above 4
// A, 2.1 up to 4 A, the last from memory), IEC 60127-2 (2.1, from memory: fuses of that kind are
// rated close to their limit). Electronic protectors: their own factor.
func (d Device) ConventionalFactor() (float64, error) {
	if err := d.check(); err != nil {
		return 0, err
	}
	switch d.Kind {
	case Household:
		return 1.45, nil
	case Industrial:
		return 1.30, nil
	case FuseGG:
		switch {
		case d.Rated >= 16:
			return 1.6, nil
		case d.Rated > 4:
			return 1.9, nil
		}
		return 2.1, nil
	case FuseQuick, FuseTimeLag:
		return 2.1, nil
	}
	return d.factor(), nil
}

func (d Device) factor() float64 {
	if d.Factor == 0 {
		return 1.5
	}
	return d.Factor
}

func (d Device) check() error {
	switch d.Kind {
	case Household, Industrial, FuseGG, FuseQuick, FuseTimeLag, Electronic, CurrentLimit:
	default:
		return &calc.ChoiceError{Name: "protective device", Seen: fmt.Sprintf("%q", string(d.Kind)), Allowed: "iec-60898, iec-60947, gG, fuse-F, fuse-T, electronic, limit"}
	}
	return errors.Join(calc.Positive("rated current", d.Rated, 6300, "A"), calc.Within("trip factor", d.factor(), 1, 30, ""),
		calc.Current("breaking capacity", d.Breaking))
}

// gates is the gG table of currents that surely melt the fuse within 5 s and within 0.1 s, and that
// surely do not within 10 s: IEC 60269-1 table 3 and IEC 60269-3, from memory.
var gates = []struct{ in, hold10, melt5, melt01 float64 }{
	{2, 3.7, 9.2, 23},
	{4, 7.8, 18.5, 47},
	{6, 11, 28, 72},
	{8, 16, 35.2, 92},
	{10, 22, 46.5, 110},
	{12, 24, 55.2, 140.4},
	{16, 33, 65, 150},
	{20, 42, 85, 200},
	{25, 52, 110, 260},
	{32, 75, 150, 350},
	{40, 95, 190, 450},
	{50, 125, 250, 610},
	{63, 160, 320, 820},
	{80, 215, 425, 1100},
	{100, 290, 580, 1450},
	{125, 355, 715, 1910},
}

// TripCurrents are a device's prompt edges: up to Holds it carries a short surge, from Trips on it
// clears within Within.
type TripCurrents struct {
	Holds, Trips quantity.Current
	Within       quantity.Duration
	Source       string
}

// Trip returns the currents between which a device may or may not clear promptly: a breaker at once
// (0.1 s), a gG fuse within 5 s, a miniature fuse within 0.3 s, an electronic protector at its own
// threshold. Hold the smallest fault current against Trips.
//
// Source: Band for breakers; IEC 60269 gates for gG fuses (from memory; a rating between rows takes
// the next larger row); IEC 60127-2 for miniature fuses, 10 In for quick-acting and time-lag ones
// (from memory); electronic protectors: their own factor, 1.5 where none is stated (common
// practice).
func (d Device) Trip() (TripCurrents, error) {
	if err := d.check(); err != nil {
		return TripCurrents{}, err
	}
	switch d.Kind {
	case Household, Industrial:
		b, err := Band(d.Curve, d.DC)
		return TripCurrents{quantity.Current(b.Low) * d.Rated, quantity.Current(b.High) * d.Rated, 0.1, b.Source}, err
	case FuseGG:
		for _, g := range gates {
			if float64(d.Rated) <= g.in {
				return TripCurrents{quantity.Current(g.hold10), quantity.Current(g.melt5), 5, "from-memory#iec-60269-gates"}, nil
			}
		}
		return TripCurrents{}, &calc.RangeError{Name: "rated current of a gG fuse", Value: float64(d.Rated), Unit: "A", Max: 125, Above: true}
	case FuseQuick:
		return TripCurrents{d.Rated * 1.5, d.Rated * 10, 0.02, "from-memory#iec-60127-2"}, nil
	case FuseTimeLag:
		return TripCurrents{d.Rated * 4, d.Rated * 10, 0.3, "from-memory#iec-60127-2"}, nil
	}
	t := quantity.Current(d.factor()) * d.Rated
	return TripCurrents{d.Rated, t, 0.1, "common-practice#electronic-protector"}, nil
}

// FormulaTripCurrent gives the upper edge of a breaker's trip band.
var FormulaTripCurrent = &formula.Formula{
	Name: "protect.trip_current",
	Text: "multiple * rated",
	Inputs: []formula.Input{
		{Name: "multiple", Unit: "1", Doc: "upper edge of the trip band"},
		{Name: "rated", Unit: "A", Doc: "rated current of the device"},
	},
	Result: formula.Input{Name: "i_trip", Unit: "A", Doc: "surely trips at once"},
	Source: "iec-60898-1#instantaneous",
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

// FormulaHoldCurrent gives the lower edge of a breaker's trip band.
var FormulaHoldCurrent = &formula.Formula{
	Name: "protect.hold_current",
	Text: "multiple * rated",
	Inputs: []formula.Input{
		{Name: "multiple", Unit: "1", Doc: "lower edge of the trip band"},
		{Name: "rated", Unit: "A", Doc: "rated current of the device"},
	},
	Result: formula.Input{Name: "i_hold", Unit: "A", Doc: "surely held for a moment"},
	Source: "iec-60898-1#instantaneous",
	Eval:   func(x []float64) float64 { return x[0] * x[1] },
}

// Preferred returns the preferred rated currents of breakers, ascending.
//
// Source: IEC 60898-1 (6 A and up, seen); 0.5 to 4 A are common practice for 24 V circuits.
func Preferred() []quantity.Current {
	return []quantity.Current{0.5, 1, 2, 3, 4, 6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125}
}

// NextRated returns the smallest preferred rating that carries ib; found is false above 125 A.
func NextRated(ib quantity.Current) (in quantity.Current, found bool) {
	if math.IsNaN(float64(ib)) || ib < 0 {
		return 0, false
	}
	for _, in := range Preferred() {
		if atMost(ib, in) {
			return in, true
		}
	}
	return 0, false
}
