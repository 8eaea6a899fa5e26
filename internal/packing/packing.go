package packing

import (
	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// Order asks for one station.
type Order struct {
	Place   *tariff.Place
	Signals []int // indices into the book's signals, in any order; fixed ones included
	Fixed   Fixed
	Prefer  Prefer
	Steps   int64 // budget of the search; 0 = the usual one
}

// Fixed is what must not be touched. The zero value is a station of which nothing is fixed.
type Fixed struct {
	Coupler       string      // code; "" = free
	Enclosure     string      // code; "" = free
	MaxIn, MaxOut int         // most bytes of process image, 0 = no limit but the coupler's
	Slots         []FixedSlot // from slot 1 without gaps, in order
	Protect       map[int]string
}

// FixedSlot is a slot that exists.
type FixedSlot struct {
	Module   string
	Base     string      // "" = the cheapest that suits (constructions with bases)
	Infeed   bool        // a supply group begins here
	Channels map[int]int // printed channel number -> signal
	Built    bool        // as-built: its free channels may be used below the spare
}

// Prefer is what is kept where keeping is cheaper than changing.
type Prefer struct {
	Slots       []PreferSlot    // from slot 1, in order
	Channels    []PreferChannel // by signal
	Coupler     string
	CouplerCost q.Money
}

// PreferSlot is the module that a slot had.
type PreferSlot struct {
	Module string
	Infeed bool
	Cost   q.Money // of having another module there
}

// PreferChannel is the channel that a signal had.
type PreferChannel struct {
	Signal, Slot, Channel int
	Cost                  q.Money // of moving the signal
}

// Station is a completed station.
type Station struct {
	Coupler   *hardware.Coupler
	Enclosure *hardware.Enclosure
	EndPiece  string
	Slots     []Slot
	Groups    []Group
	Supplies  []tariff.SupplyPick
	Rail      q.Millimetres
	Logic     q.Microamps
	InBytes   int // header and gaps included
	OutBytes  int
	Heat      int64 // milliwatts
	Cost      Bill
	Bound     q.Money // no station with these signals and fixed parts costs less; equal to Cost.Total if Proven
	Proven    bool
	Warnings  []Warning
	Steps     int64
}

// Slot is one position on the rail, from 1.
type Slot struct {
	Module *hardware.Module
	Base   *hardware.Base // nil where the construction has none
	Infeed bool           // a supply group begins here
	Group  int            // index into Station.Groups
	Used   []Channel      // in order of channel set and channel
	Fixed  bool           // it was there before
}

// Channel is a signal on a channel.
type Channel struct {
	Set     int // channel set of the module
	Index   int // from 0 within the set
	Printed int // number as printed on the module
	Signal  int
}

// Group is one supply group.
type Group struct {
	Key        fit.GroupKey
	AtCoupler  bool
	InfeedSlot int // slot number from 1; 0 = coupler
	First      int // slot numbers of its run, infeed module included
	Last       int
	Load       q.Microamps
	Ceiling    q.Microamps // the infeed point's and the basis's
	Limit      q.Microamps // the smaller of ceiling and rating
	Protection *hardware.Protection
	Reason     string // why it was begun
	Fixed      bool
}

// Bill is what a station costs, exactly.
type Bill struct {
	Total   q.Money
	Parts   []PartCount // by code
	Labour  []TaskCount // station, module, group
	Feeder  q.Money     // feeders as stated by the site
	Fixed   q.Money     // the place's fixed cost
	Changes q.Money     // of preferences that are not kept; not in Total
}

// PartCount is a number of like parts.
type PartCount struct {
	Code  string
	Class string // "coupler", "module", "base", "end piece", "enclosure", "supply unit", "protection"
	Count int
	Price q.Money // each
}

// TaskCount is a number of like tasks.
type TaskCount struct {
	Task  string
	Count int
	Price q.Money // each
}

// Warning is something that a person should look at.
type Warning struct {
	Code   string // "spare"
	Kind   string
	Group  string
	Value  int64
	Wanted int64
	Text   string
}

// Refusal says why a station cannot be completed.
type Refusal struct {
	Limit          string
	Value, Allowed int64
	Unit           string
	Text           string
	Remedy         string
	Signals        []int // signals it is about; empty = the station
	Proof          bool  // it is proven; otherwise the search found no way within its budget
}

// SupplyPick is the supply units chosen for one feed of a station.
type SupplyPick = tariff.SupplyPick
