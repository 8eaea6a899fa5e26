package loop

import (
	"fmt"

	"railwright/internal/calc"
)

// Role is what a device or a channel does in its circuit: it feeds the loop, or it is fed.
type Role string

// The roles of a current loop: an active end drives the current, a passive one does not.
const (
	Active  Role = "active"
	Passive Role = "passive"
)

// Match is the answer to "do these two ends work together".
type Match string

// The answers.
const (
	Fits       Match = "fits"
	TwoSources Match = "two sources"
	NoSource   Match = "no source"
	Opposed    Match = "opposed" // both switch or both expect the same side
)

// Powered compares the roles of a device and a channel in one current loop. Exactly one end must be
// active: two sources fight or add up, none leaves the loop dead. It is the commonest loop error.
//
// Source: Kirchhoff's laws; the words are common practice.
func Powered(device, channel Role) (Match, error) {
	for _, r := range []Role{device, channel} {
		if r != Active && r != Passive {
			return "", &calc.ChoiceError{Name: "role in a current loop", Seen: fmt.Sprintf("%q", string(r)), Allowed: "active, passive"}
		}
	}
	switch {
	case device == Active && channel == Active:
		return TwoSources, nil
	case device == Passive && channel == Passive:
		return NoSource, nil
	}
	return Fits, nil
}

// Side is which pole a switching end uses.
type Side string

// The sides: a PNP sensor or a sourcing output switches plus, an NPN sensor or a sinking output
// switches minus; a sinking input expects plus, a sourcing input expects minus; a contact does both.
const (
	SwitchesPlus  Side = "switches plus"
	SwitchesMinus Side = "switches minus"
	ExpectsPlus   Side = "expects plus"
	ExpectsMinus  Side = "expects minus"
	Contact       Side = "contact"
)

// Polarity compares the side that a switching end uses with the side that the other end expects.
//
// Source: IEC 61131-2 (current-sinking and current-sourcing).
func Polarity(switching, expecting Side) (Match, error) {
	switch switching {
	case SwitchesPlus, SwitchesMinus, Contact:
	default:
		return "", &calc.ChoiceError{Name: "switching end", Seen: fmt.Sprintf("%q", string(switching)), Allowed: "switches plus, switches minus, contact"}
	}
	if expecting != ExpectsPlus && expecting != ExpectsMinus {
		return "", &calc.ChoiceError{Name: "expecting end", Seen: fmt.Sprintf("%q", string(expecting)), Allowed: "expects plus, expects minus"}
	}
	if switching == Contact || switching == SwitchesPlus && expecting == ExpectsPlus || switching == SwitchesMinus && expecting == ExpectsMinus {
		return Fits, nil
	}
	return Opposed, nil
}

// EarthFaultReadsOne reports whether one earth fault on the signal core makes a "1" although the
// switch is open: with the 0 V side earthed, that is so for whatever switches minus.
//
// Source: IEC 60204-1 9.4.3 (one earth fault must neither start a machine nor keep it from stopping).
func EarthFaultReadsOne(zeroVoltEarthed bool, switching Side) bool {
	return zeroVoltEarthed && switching == SwitchesMinus
}
