package bus

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"railwright/internal/calc"
	"railwright/internal/quantity"
)

// Medium is what carries the signals.
type Medium string

// The media.
const (
	Copper Medium = "copper pair" // Ethernet over twisted pairs
	Fibre  Medium = "fibre"
	RS485  Medium = "RS-485"
	CAN    Medium = "CAN"
)

// Rate is one row of a profile's table: what a bit rate allows.
type Rate struct {
	BitsPerSecond float64
	MaxLength     quantity.Length // of one segment or link
	MaxStub       quantity.Length // of one drop line; 0: none allowed, or not stated
	MaxStubs      quantity.Length // of all drop lines together
}

// Profile is what a network allows. Profiles are data: a new network is a new row.
type Profile struct {
	Name             string
	Medium           Medium
	Rates            []Rate  // rising by bit rate
	MaxNodes         int     // per segment, repeaters included; 0: no such limit (a link has two ends)
	MaxAddresses     int     // per network; 0: not stated
	UnitLoads        float64 // per segment; 0: no such limit
	MaxRepeaters     int     // in a row; 0: none
	Terminated       bool    // needs a terminator at both ends of each segment, and nowhere else
	BetweenEarths    bool    // may join places whose earths differ
	PatchCordsWithin bool    // MaxLength includes patch cords
	Source           string  // cite reference
}

// table3 is IEC 61158-2 type 3 with cable type A, seen on five pages that agree (one training note
// says 1000 m at low rates).
var table3A = []Rate{
	{9.6e3, 1200, 0, 0},
	{19.2e3, 1200, 0, 0},
	{45.45e3, 1200, 0, 0},
	{93.75e3, 1200, 0, 0},
	{187.5e3, 1000, 0, 0},
	{500e3, 400, 0, 0},
	{1.5e6, 200, 0, 0},
	{3e6, 100, 0, 0},
	{6e6, 100, 0, 0},
	{12e6, 100, 0, 0},
}

// table3B is the same with the older cable type B (DIN 19245-1), seen on one page.
var table3B = []Rate{{9.6e3, 1200, 0, 0}, {19.2e3, 1200, 0, 0}, {93.75e3, 1200, 0, 0}, {187.5e3, 600, 0, 0}, {500e3, 200, 0, 0}}

// tableCAN is CiA 301 / CiA 303-1: bus length, one stub, all stubs.
var tableCAN = []Rate{
	{10e3, 5000, 275, 1375},
	{20e3, 2500, 137.5, 687.5},
	{50e3, 1000, 55, 275},
	{125e3, 500, 22, 110},
	{250e3, 250, 11, 55},
	{500e3, 100, 5.5, 27.5},
	{800e3, 50, 2.5, 12.5},
	{1e6, 25, 1.5, 7.5},
}

// tableRS485 follows the length by bit rate of TIA-485 practice: 1200 m up to 100 kbit/s, then 1e8
// over the bit rate, 12 m at 10 Mbit/s.
var tableRS485 = []Rate{
	{1.2e3, 1200, 0, 0},
	{2.4e3, 1200, 0, 0},
	{4.8e3, 1200, 0, 0},
	{9.6e3, 1200, 0, 0},
	{19.2e3, 1200, 0, 0},
	{38.4e3, 1200, 0, 0},
	{57.6e3, 1200, 0, 0},
	{100e3, 1000, 0, 0},
	{115.2e3, 868, 0, 0},
	{250e3, 400, 0, 0},
	{500e3, 200, 0, 0},
	{1e6, 100, 0, 0},
	{10e6, 12, 0, 0},
}

// Profiles returns the built-in profiles. Ethernet links have two ends: devices in a line or ring are
// counted by Hops, not by MaxNodes.
func Profiles() []Profile {
	link := func(bps float64, l quantity.Length) []Rate { return []Rate{{BitsPerSecond: bps, MaxLength: l}} }
	return []Profile{
		{Name: "ethernet-copper-100", Medium: Copper, Rates: link(100e6, 100), PatchCordsWithin: true, Source: "ieee-802.3#25"},
		{Name: "ethernet-copper-1000", Medium: Copper, Rates: link(1e9, 100), PatchCordsWithin: true, Source: "ieee-802.3#40"},
		{Name: "ethernet-fibre-100-multimode", Medium: Fibre, Rates: link(100e6, 2000), BetweenEarths: true, Source: "ieee-802.3#26"},
		{Name: "ethernet-fibre-100-singlemode", Medium: Fibre, Rates: link(100e6, 10000), BetweenEarths: true, Source: "from-memory#ieee-802.3-100base-lx10"},
		{Name: "ethernet-fibre-1000-short", Medium: Fibre, Rates: link(1e9, 550), BetweenEarths: true, Source: "ieee-802.3#38-sx-50um-500MHzkm"},
		{Name: "ethernet-fibre-1000-short-62.5um", Medium: Fibre, Rates: link(1e9, 220), BetweenEarths: true, Source: "ieee-802.3#38-sx-62.5um-160MHzkm"},
		{Name: "ethernet-fibre-1000-long", Medium: Fibre, Rates: link(1e9, 5000), BetweenEarths: true, Source: "ieee-802.3#38-lx-single-mode"},
		{Name: "rs485-type-3-cable-a", Medium: RS485, Rates: table3A, MaxNodes: 32, MaxAddresses: 126, UnitLoads: 32, MaxRepeaters: 9, Terminated: true, Source: "iec-61158#type-3"},
		{Name: "rs485-type-3-cable-b", Medium: RS485, Rates: table3B, MaxNodes: 32, MaxAddresses: 126, UnitLoads: 32, MaxRepeaters: 9, Terminated: true, Source: "iec-61158#type-3-cable-b"},
		{Name: "rs485-serial", Medium: RS485, Rates: tableRS485, MaxNodes: 32, MaxAddresses: 247, UnitLoads: 32, MaxRepeaters: 3, Terminated: true, Source: "tia-485#length"},
		{Name: "can", Medium: CAN, Rates: tableCAN, MaxAddresses: 127, Terminated: true, Source: "cia-301#bit-timing"},
	}
}

// ProfileNamed returns the built-in profile of that name.
func ProfileNamed(name string) (Profile, error) {
	var names []string
	for _, p := range Profiles() {
		if p.Name == name {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return Profile{}, &calc.ChoiceError{Name: "network profile", Seen: fmt.Sprintf("%q", name), Allowed: strings.Join(names, ", ")}
}

// At returns the profile's row for a bit rate; a rate between rows takes the next faster row, whose
// lengths are shorter.
func (p Profile) At(bitsPerSecond float64) (Rate, error) {
	if len(p.Rates) == 0 {
		return Rate{}, &calc.ChoiceError{Name: "network profile", Seen: fmt.Sprintf("%q", p.Name), Allowed: "one with bit rates"}
	}
	if err := calc.Positive("bit rate", bitsPerSecond, p.Rates[len(p.Rates)-1].BitsPerSecond*(1+1e-9), "bit/s"); err != nil {
		return Rate{}, err
	}
	for _, r := range p.Rates {
		if bitsPerSecond <= r.BitsPerSecond*(1+1e-9) {
			return r, nil
		}
	}
	return p.Rates[len(p.Rates)-1], nil
}

// FastestFor returns the highest bit rate whose segment length covers l; found is false if none does.
func (p Profile) FastestFor(l quantity.Length) (r Rate, found bool) {
	for _, row := range p.Rates {
		if l <= row.MaxLength {
			r, found = row, true
		}
	}
	return r, found
}

// Segment is one segment of a bus, or one link.
type Segment struct {
	Length      quantity.Length   // of the trunk, patch cords included
	Stubs       []quantity.Length // drop lines
	Nodes       int               // everything connected, repeaters included
	UnitLoads   float64           // 0: one per node
	Terminators int               // fitted; only looked at where the profile wants them
	Earths      bool              // joins places whose earths differ
}

// Verdict is what Check finds; every false is a fault, with its figures in Why.
type Verdict struct {
	LengthFits, StubsFit, NodesFit, LoadsFit, TerminationFits, EarthsFit bool
	MaxLength                                                            quantity.Length
	Why                                                                  []string
}

// OK reports whether nothing is wrong.
func (v Verdict) OK() bool { return len(v.Why) == 0 }

// Check holds a segment against the profile at a bit rate.
//
// Source: the profile's own.
func (p Profile) Check(bitsPerSecond float64, s Segment) (Verdict, error) {
	r, err := p.At(bitsPerSecond)
	errs := []error{err, calc.Length("segment length", s.Length), calc.Count("nodes", s.Nodes, 0, 1_000_000), calc.Within("unit loads", s.UnitLoads, 0, 1e6, ""), calc.Count("terminators", s.Terminators, 0, 1000)}
	stubs, longest := quantity.Length(0), quantity.Length(0)
	for i, l := range s.Stubs {
		errs = append(errs, calc.Length(fmt.Sprintf("stub %d", i+1), l))
		stubs, longest = stubs+l, max(longest, l)
	}
	if err := errors.Join(errs...); err != nil {
		return Verdict{}, err
	}
	v := Verdict{MaxLength: r.MaxLength}
	hold := func(flag *bool, ok bool, format string, args ...any) {
		*flag = ok
		if !ok {
			v.Why = append(v.Why, fmt.Sprintf(format, args...))
		}
	}
	loads := s.UnitLoads
	if loads == 0 {
		loads = float64(s.Nodes)
	}
	const slack = 1 + 1e-9
	hold(&v.LengthFits, s.Length <= r.MaxLength*slack, "length %.6g m, allowed %.6g m", s.Length, r.MaxLength)
	hold(&v.StubsFit, r.MaxStubs == 0 && stubs == 0 || r.MaxStubs > 0 && longest <= r.MaxStub*slack && stubs <= r.MaxStubs*slack,
		"drop lines up to %.6g m, %.6g m together, allowed %.6g and %.6g m", longest, stubs, r.MaxStub, r.MaxStubs)
	hold(&v.NodesFit, p.MaxNodes == 0 || s.Nodes <= p.MaxNodes, "%d nodes on a segment, allowed %d", s.Nodes, p.MaxNodes)
	hold(&v.LoadsFit, p.UnitLoads == 0 || loads <= p.UnitLoads*slack, "%.6g unit loads, allowed %.6g", loads, p.UnitLoads)
	hold(&v.TerminationFits, !p.Terminated || s.Terminators == 2, "%d terminators, 2 needed, at the two ends", s.Terminators)
	hold(&v.EarthsFit, p.BetweenEarths || !s.Earths, "%s between places whose earths differ: use fibre", p.Medium)
	return v, nil
}

// Split is how many segments a bus needs.
type Split struct {
	Segments  int
	Repeaters int
	OK        bool // within the profile's repeaters in a row and addresses
	Why       string
}

// Segments returns how many segments and repeaters a line of the given length and number of devices
// needs at a bit rate. A repeater counts as a node on both sides: 32 nodes on a single segment (31
// devices and the controller), 31 beside one repeater, 30 between two.
//
// Source: IEC 61158 type 3 practice (31/31/30 seen); the number of repeaters in a row from memory.
func (p Profile) Segments(bitsPerSecond float64, l quantity.Length, devices int) (Split, error) {
	r, err := p.At(bitsPerSecond)
	if err := errors.Join(err, calc.Length("line length", l), calc.Count("devices", devices, 0, 100_000)); err != nil {
		return Split{}, err
	}
	n := max(1, int(math.Ceil(float64(l)/float64(r.MaxLength)-1e-9)))
	nodes := devices + 1 // the controller's own port
	for p.MaxNodes > 2 && nodes > capacity(p.MaxNodes, n) {
		n++
	}
	s := Split{Segments: n, Repeaters: n - 1, OK: true}
	switch {
	case s.Repeaters > p.MaxRepeaters:
		s.OK, s.Why = false, fmt.Sprintf("%d repeaters in a row, allowed %d", s.Repeaters, p.MaxRepeaters)
	case p.MaxAddresses > 0 && nodes > p.MaxAddresses:
		s.OK, s.Why = false, fmt.Sprintf("%d addresses, allowed %d", nodes, p.MaxAddresses)
	}
	return s, nil
}

// capacity is how many nodes n segments in a row hold besides their repeaters.
func capacity(perSegment, n int) int { return n*perSegment - 2*(n-1) }
