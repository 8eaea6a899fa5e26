package project

import (
	q "railwright/internal/quantity"
)

// Basis is the design basis: the stated assumptions. Every field has a default in DefaultBasis;
// the defaults belong to the format number and are listed in docs/project-folder.md.
type Basis struct {
	Currency     string
	Construction string // code of the construction of every station whose place names none
	AmbientMax   q.Temperature
	AmbientMin   q.Temperature
	Altitude     q.Length

	Spare       map[Kind]int64 // spare channels of each kind, per mille of the used ones, rounded up
	FreeSlots   int            // slots kept free at the right end of each station
	CoreSpare   int64          // spare cores of multicores, per mille, rounded up
	MaxCable    map[Kind]q.Millimetres
	Cable       CableBasis
	Group       GroupBasis
	Supply      SupplyBasis
	Feeder      FeederBasis
	Climate     ClimateBasis
	Circuit     CircuitBasis
	Prices      Prices
	Address     AddressBasis
	Segregation map[string]Level // class named in column segregate -> what it may not share
	Redundancy  Level            // what redundant partners may not share: at least the module

	DefaultCurrent map[string]q.Current // by "KIND form": what a signal draws where the list says nothing
	Earthing       string               // of the 24 V supply: "earthed" or "isolated"
	Reserve        map[string]int64     // other reserves, per mille: "enclosure" (rail length), "spare_parts" (pieces to hold)
}

// Level is what two things may not share.
type Level string

// The levels, each including the ones before it: what does not share a group shares no module.
const (
	LevelNone    Level = "none"
	LevelModule  Level = "module"
	LevelGroup   Level = "group"
	LevelStation Level = "station"
)

// CableBasis holds the assumptions on field cables.
type CableBasis struct {
	AllowDevice  q.Millimetres // added at the device end
	AllowStation q.Millimetres // added at the station end
	Local        q.Millimetres // device and station at one place that states no length of its own
	Waste        int64         // per mille of the length, bought but cut off
	Area         map[Kind]q.CrossSection
	SpareCores   int             // extra cores wanted in each field cable
	Drums        []q.Millimetres // lengths in which cable is delivered
}

// GroupBasis says when a new supply group is begun and what one group may carry.
type GroupBasis struct {
	MaxCurrent    q.Microamps // most load of one group; the hardware's limit holds as well
	SplitInOut    bool        // inputs apart from outputs
	SplitAnalogue bool        // analogue apart from switched loads
	SplitByPart   bool        // each equipment has groups of its own
}

// SupplyBasis holds the assumptions on supply units and their feeders.
type SupplyBasis struct {
	Margin      int64          // per mille kept free on the supply unit
	Coincidence int64          // per mille of the summed load that the supply unit is sized for; 1000 = all
	InfeedArea  q.CrossSection // conductors from the supply unit to an infeed point
	InfeedLen   q.Millimetres  // their length, one way
	FeederArea  q.CrossSection
	Spare       int64 // supply units of a feed that may fail without loss (n+1: 1)
	Minutes     int64 // for which supply class ups must bridge a loss of the mains; 0 = not asked
}

// FeederBasis holds the assumptions on mains feeders and on the wires behind protective devices.
type FeederBasis struct {
	Drop       int64        // most drop at the feeder's current, per mille of the mains voltage
	Method     string       // of laying the feeder, IEC 60204-1: "B1", "B2", "C", "E"
	Together   int          // loaded circuits that lie together with it, itself included
	BoardFault q.Current    // largest fault current at a distribution board
	BoardLoop  q.Resistance // largest resistance of the fault loop up to a board
	Inside     int          // loaded infeed pairs that lie together in an enclosure
}

// ClimateBasis holds the assumptions on enclosures and the air round them.
type ClimateBasis struct {
	Mounting string  // which faces are covered, as heat.Mountings names them
	K        float64 // heat transfer of the enclosure's wall, W/m2K
	Humidity int64   // highest relative humidity of the air at its coldest, per mille
	Dry      int64   // highest relative humidity wanted inside, per mille
	Sun      float64 // irradiance on an outdoor enclosure without a roof, W/m2
	Inward   int64   // per mille of the sun's heat on the sunlit face that goes inwards
}

// CircuitBasis holds the assumptions on the circuits between devices and channels.
type CircuitBasis struct {
	TransmitterMin q.Voltage    // that a two-wire transmitter needs where the list states none
	HARTMin        q.Resistance // least resistance of a HART loop
	HARTDevice     q.Capacitance
	RTDError       q.TemperatureRise // most error from the leads of a resistance thermometer
	LeadMismatch   int64             // per mille by which two cores differ
	Frequency      q.Frequency       // of the mains
	MainsHigh      int64             // per mille by which the mains may be above its nominal voltage
	MainsLow       int64             // per mille by which it may be below
}

// Prices holds labour times and the rate. Times are in seconds.
type Prices struct {
	Rate         q.Money // per hour of labour
	Termination  int64   // one conductor end, s
	CableEnd     int64   // one cable end: gland, strip, label, s
	PullPerMetre int64   // one metre of cable pulled, s
	StationMount int64   // one station: enclosure, rail, coupler, feeder, test, s
	ModuleMount  int64   // one module or infeed module with its base, s
	GroupWire    int64   // one supply group: infeed wires and protection, s
	NetworkEnd   int64   // one network cable end, s
	SignalCheck  int64   // one signal's checkout, s
	GroupOff     int64   // one supply group in service switched off for work: permit, locks, tests, s
	StationOff   int64   // one station in service switched off for work, s
}

// AddressBasis says how addresses are counted and printed.
type AddressBasis struct {
	Convention string // "byte": %IW4 begins at byte 4; "word": %IW4 is the word at bytes 8 and 9
	FirstIn    int    // first input byte of the first station
	FirstOut   int    // first output byte of the first station
	Align      int    // each station begins at a multiple of this many bytes: 1, 2, 4, 8, ...
	Reserve    int64  // per mille of a station's bytes kept free behind it
	ModbusBase int    // 0 or 1
	MaxIn      int    // bytes of process image that the controller has for inputs; 0 = not stated
	MaxOut     int    // the same for outputs
}

// DefaultBasis returns the defaults of format 1. Source: common practice unless the line says
// otherwise; each value is listed in docs/project-folder.md.
func DefaultBasis() Basis {
	m := func(v float64) q.Millimetres { return q.ToMillimetres(q.Length(v)) }
	per := func(kinds []Kind, v q.Millimetres) map[Kind]q.Millimetres {
		out := map[Kind]q.Millimetres{}
		for _, k := range kinds {
			out[k] = v
		}
		return out
	}
	b := Basis{
		Currency:   "EUR",
		AmbientMax: 40, AmbientMin: 0, Altitude: 500,
		Spare:      map[Kind]int64{DI: 100, DO: 100, AI: 100, AO: 100, RTD: 100, TC: 100, CNT: 0, SER: 0},
		CoreSpare:  100,
		MaxCable:   per(Kinds, m(500)),
		Redundancy: LevelModule,
		Cable: CableBasis{
			AllowDevice: m(2), AllowStation: m(2), Local: m(10), Waste: 70, Drums: []q.Millimetres{m(100), m(250), m(500), m(1000)},
			Area: map[Kind]q.CrossSection{DI: 0.75, DO: 1.5, AI: 0.75, AO: 0.75, RTD: 0.75, TC: 0.75, CNT: 0.75, SER: 0.5},
		},
		Group:   GroupBasis{MaxCurrent: 8_000_000, SplitInOut: true, SplitAnalogue: true},
		Supply:  SupplyBasis{Margin: 200, Coincidence: 1000, InfeedArea: 1.5, InfeedLen: m(2), FeederArea: 2.5},
		Feeder:  FeederBasis{Drop: 50, Method: "C", Together: 3, BoardFault: 6000, BoardLoop: 0.5, Inside: 1},
		Climate: ClimateBasis{Mounting: "single, wall", K: 5.5, Humidity: 800, Dry: 650, Sun: 1000, Inward: 250},
		Circuit: CircuitBasis{
			TransmitterMin: 12, HARTMin: 230, HARTDevice: 5e-9, RTDError: 2, LeadMismatch: 20, Frequency: 50, MainsHigh: 100, MainsLow: 100,
		},
		Address: AddressBasis{Convention: "byte", FirstIn: 0, FirstOut: 0, Align: 2, Reserve: 200, ModbusBase: 0},
		Prices: Prices{
			Rate: 65 * q.MoneyUnit, Termination: 180, CableEnd: 900, PullPerMetre: 60, StationMount: 8 * 3600, GroupOff: 3600, StationOff: 4 * 3600,
			ModuleMount: 600, GroupWire: 1200, NetworkEnd: 1800, SignalCheck: 1800,
		},
		Segregation: map[string]Level{},
		Earthing:    "earthed",
		Reserve:     map[string]int64{"enclosure": 200, "spare_parts": 50},
		DefaultCurrent: map[string]q.Current{
			"DI pnp": 0.015, "DI npn": 0.015, "DI 2-wire": 0.005, "DI namur": 0.008,
			"DO 24v": 0.25, "CNT pulse-24v": 0.030, "CNT pulse-namur": 0.008, "CNT encoder-24v": 0.100, "CNT encoder-rs422": 0.150,
		},
	}
	b.MaxCable[TC], b.MaxCable[RTD] = m(250), m(250)
	return b
}
