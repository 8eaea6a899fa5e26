package exchange

import (
	"math"
	"strings"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// Scale joins two raw counts with the two values they stand for; between and beyond them the line is
// straight. Why says what is missing where there is none.
type Scale struct {
	Known           bool
	RawLow, RawHigh int64
	Low, High       float64 // in the signal's unit
	MALow, MAHigh   float64 // current at the two ends, for 4-20 mA inputs; 0 and 0 otherwise
	Why             Missing
}

// Missing says why a point has no scaling.
type Missing string

// What can be missing.
const (
	NotAnalogue Missing = ""
	NoSignal    Missing = "signal" // the list does not hold the signal any more
	NoRange     Missing = "range"  // the list states no range, or one without width
	NoRaw       Missing = "raw"    // the hardware list states no raw counts
	NoUnit      Missing = "unit"   // a temperature in a unit that is neither degC, K nor degF
)

// scaleOf gives the scaling of an analogue channel: for currents and voltages from the range of the list
// and the module's counts at its ends, for temperatures from the module's kelvins for one count.
func scaleOf(set *hardware.ChannelSet, sig *project.Signal) Scale {
	switch set.Kind {
	case project.AI, project.AO:
		return linear(set, sig)
	case project.RTD, project.TC:
		return temperature(set, sig)
	}
	return Scale{}
}

func linear(set *hardware.ChannelSet, sig *project.Signal) Scale {
	switch {
	case set.RawHigh <= set.RawLow || !holds(set.Bits, set.RawLow) || !holds(set.Bits, set.RawHigh):
		return Scale{Why: NoRaw}
	case !sig.RangeLow.Set || !sig.RangeHigh.Set || sig.RangeLow.Value == sig.RangeHigh.Value:
		return Scale{Why: NoRange}
	}
	s := Scale{Known: true, RawLow: set.RawLow, RawHigh: set.RawHigh, Low: sig.RangeLow.Value, High: sig.RangeHigh.Value}
	switch sig.Form {
	case "10v-bipolar":
		s.RawLow = -set.RawHigh
	case "4-20ma":
		s.MALow, s.MAHigh = 4, 20
	}
	return s
}

// holds reports whether a signed number of so many bits can be v.
func holds(bits int, v int64) bool {
	return bits > 1 && bits <= 32 && v >= -(1<<(bits-1)) && v < 1<<(bits-1)
}

// thousand counts are enough to give the line; the value is rounded to 1/1,000,000 so that 0.1 x 1000 is 100.
const thousand = 1000

func temperature(set *hardware.ChannelSet, sig *project.Signal) Scale {
	if set.RawStep <= 0 {
		return Scale{Why: NoRaw}
	}
	s := Scale{Known: true, RawHigh: thousand, High: tidy(set.RawStep * thousand)}
	switch strings.TrimLeft(strings.ToLower(strings.TrimSpace(sig.Unit)), "°") {
	case "", "c", "degc", "deg c", "celsius":
	case "k", "kelvin":
		s.Low, s.High = 273.15, tidy(s.High+273.15)
	case "f", "degf", "deg f", "fahrenheit":
		s.Low, s.High = 32, tidy(s.High*1.8+32)
	default:
		return Scale{Why: NoUnit}
	}
	return s
}

func tidy(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// At returns the value that a raw count stands for.
func (s Scale) At(raw int64) float64 {
	return s.Low + float64(raw-s.RawLow)*(s.High-s.Low)/float64(s.RawHigh-s.RawLow)
}
