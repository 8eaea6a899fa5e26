package hardware

import (
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// List is a hardware list. Slices are sorted by code; codes are unique over all parts.
type List struct {
	Constructions []Construction
	Couplers      []Coupler
	Modules       []Module
	Bases         []Base
	Supplies      []SupplyUnit
	Protections   []Protection
	Cables        []Cable
	Boxes         []JunctionBox
	Enclosures    []Enclosure
	Networks      []NetworkProfile
	Parts         []Part // everything else that is bought by the piece: end pieces, network parts, glands

	spots  map[string]spots // where entries and their keys were read, by code
	faulty map[string]bool  // codes of entries that were left out because of their faults
	drop   []dropped        // what the file takes out of the list it is laid over
}

// Opening says what begins a supply group in a construction.
type Opening string

// The ways in which a supply group is opened.
const (
	ByBase   Opening = "base"   // an infeed base: the group's first module sits on it
	ByModule Opening = "module" // an infeed module in a slot of its own, left of the group's modules
	ByEach   Opening = "each"   // every module has its own infeed point and is a group by itself
)

// Construction says how a family of parts is put together. All limits are per station.
type Construction struct {
	Code          string
	Title         string
	Opening       Opening
	CouplerFeeds  bool        // the coupler is the infeed point of the first group (which then needs no other opening)
	CouplerLimit  q.Microamps // most load of the group that the coupler feeds; used if CouplerFeeds
	HasBases      bool        // modules sit on bases
	EndPiece      string      // code of the part that closes the right end; "" = none
	FirstSlot     string      // "infeed": slot 1 must open a group (always so unless CouplerFeeds); "" otherwise
	Order         []string    // ranks of modules from left to right; a station's modules never go back in it
	MaxSlots      int         // slots, infeed modules included
	MaxGroups     int
	MaxRail       q.Millimetres // coupler, modules, infeed modules, end piece
	InfeedModules []string      // codes of the infeed modules (Opening == ByModule), cheapest suitable is taken
	Source        string        // origin of the figures
}

// Coupler is a station's network module.
type Coupler struct {
	Code, Title  string
	Construction string
	Network      string // code of the network profile it joins
	Width        q.Millimetres
	LogicLimit   q.Microamps // what it can give to the modules' electronics
	Supply       q.Microamps // what it draws from its own 24 V supply, logic excluded
	LogicFactor  int64       // per mille: supply current drawn at 24 V for each unit of logic current
	MaxSlots     int
	MaxIn        int // bytes of process image, inputs; fixed header bytes excluded
	MaxOut       int
	HeaderIn     int // bytes that the station sends before the first module's
	HeaderOut    int
	Heat         int64 // milliwatts
	AmbientMax   q.Temperature
	AmbientMin   q.Temperature
	Cycle        q.Duration // longest time between reading the modules and being ready to send
	Watchdog     q.Duration // shortest time after which outputs go to their safe state when the link is dead; 0 = has none
	Price        q.Money
	Source       string
}

// Module is one I/O card, or an infeed module (no channel sets, Infeed true).
type Module struct {
	Code, Title   string
	Constructions []string // codes of the constructions it belongs to
	Width         q.Millimetres
	Rank          string      // place in Construction.Order; "" = the first
	Logic         q.Microamps // drawn from the logic supply
	Supply        q.Microamps // drawn from its supply group, signals excluded
	SupplyKind    string      // "24vdc", "48vdc", "120vac", "230vac": the voltage of its group
	MaxTotal      q.Microamps // most current of all its channels together; 0 = no limit
	In, Out       int         // bytes of process image
	Pattern       string      // terminal pattern: a base must offer it (constructions with bases)
	Infeed        bool        // an infeed module
	BusLimit      q.Microamps // infeed modules: most load of the group it feeds
	OwnInfeed     bool        // Opening == ByEach: the module is the infeed point of its own group; BusLimit holds
	Isolated      bool        // channels isolated from each other
	Safe          bool        // stated interference-free: may stand in a safety-switched group
	Heat          int64       // milliwatts at full use
	AmbientMax    q.Temperature
	AmbientMin    q.Temperature
	Price         q.Money
	Channels      []ChannelSet
	Source        string
}

// ChannelSet is a run of like channels on a module.
type ChannelSet struct {
	Kind      project.Kind
	Forms     []string    // electrical forms that it takes
	Loop      []string    // AI, AO current: "feeds" (the module powers the loop), "takes" (an active device may drive it)
	Wires     []int       // RTD: 2, 3, 4; empty = any
	Sensors   []string    // RTD, TC: sensing elements
	HART      bool        // speaks HART
	ExLevel   string      // intrinsically safe outputs: "ia", "ib", "ic"; "" = not
	Count     int         // channels
	First     int         // number printed on the first channel
	Step      int         // distance of printed numbers, usually 1
	Bits      int         // size of one channel in the process image: 1 (packed), or 8, 16, 32
	Image     string      // "in", "out", "both"
	Offset    int         // first byte of the set inside the module's bytes
	Input     q.Microamps // current that one input draws from the group at "1" (DI) or loop maximum (AI passive)
	MaxEach   q.Microamps // most current of one channel; 0 = no limit (inputs)
	Voltages  []int       // relay and mains outputs: contact voltages allowed, V; empty = the group's
	Feeds     bool        // the set gives the sensor its + from the group (terminal function "supply+")
	Terminals []Terminal  // of every channel; labels are templates, see Label

	// Electrical figures for the checks; 0 = not stated.
	InputType   int // DI: 1, 2, 3 by IEC 61131-2
	ThresholdOn q.Voltage
	Impedance   q.Resistance
	LoopVoltage q.Voltage    // AI: lowest voltage the module offers a passive loop at 22 mA
	MaxLoad     q.Resistance // AO
	MinCurrent  q.Current    // DI: least current read as "1"
	OffCurrent  q.Current    // DI: most current still read as "0"
	Filter      q.Duration
	MaxFreq     q.Frequency
	Bit         int     // resolution, bits
	Accuracy    float64 // per cent of range at 25 degC
	RawLow      int64   // AI, AO: count at the lower end of the electrical range; bipolar ranges begin at -RawHigh
	RawHigh     int64   // AI, AO: count at the upper end; 0 = not stated
	RawStep     float64 // RTD, TC: kelvins for one count, 0 degC at count 0; 0 = not stated

	ThresholdOff q.Voltage     // DI: highest voltage read as "0"
	AccuracyK    float64       // RTD, TC: kelvins at 25 degC, without cold junction
	ColdJunction float64       // TC: kelvins of error of the cold junction
	Drift        float64       // AI, AO, RTD, TC: parts per million of the range for each kelvin away from 25 degC
	Measuring    q.Current     // RTD: measuring current
	WireBreak    bool          // a broken wire is reported
	ShortProof   bool          // outputs: survives a short circuit of its load
	SensorSupply string        // what loses its supply when one sensor lead is shorted: "channel", "module", "group"; "" = not stated
	Drop         q.Voltage     // DO: most voltage lost in the output at rated current
	Leakage      q.Current     // DO: most current that flows when off
	MinLoad      q.Current     // DO: least current for a sure contact or a semiconductor that stays on
	MinLoadOhm   q.Resistance  // AO voltage: least load resistance
	Lamp         q.Power       // DO: largest lamp
	Operations   int           // relay: switching operations at rated load
	Inductive    q.Microamps   // relay: most current of a coil (DC-13, AC-15); 0 = not stated
	OutputDelay  q.Duration    // from the module's process image to the terminal
	Substitute   bool          // outputs: a safe state can be set for each channel
	MaxBitRate   int           // SER, bit/s
	Uo           q.Voltage     // Ex i: highest output voltage
	Io           q.Current     // Ex i: highest output current
	Po           q.Power       // Ex i: highest output power
	CoIIC        q.Capacitance // Ex i: most outer capacitance and inductance, gas group IIC
	LoIIC        q.Inductance
	CoIIB        q.Capacitance // the same for IIB (and IIA)
	LoIIB        q.Inductance
}

// Terminal is one clamping point of a channel: what it is for and how it is printed. Functions:
// "signal", "signal+", "signal-", "supply+", "supply-", "sense+", "sense-", "common", "no", "line",
// "neutral", "a", "a-", "b", "b-", "z", "z-", "tx", "tx-", "rx", "rx-". Two functions that no signal
// needs together may share one clamping point (the same label).
type Terminal struct {
	Function string
	Label    string
	MinArea  q.CrossSection
	MaxArea  q.CrossSection
}

// Base is the module base on the rail.
type Base struct {
	Code, Title   string
	Constructions []string
	Patterns      []string // terminal patterns it offers
	Infeed        bool     // opens a supply group
	SupplyKind    string   // voltage of the supply bus it is made for; "" = any
	BusLimit      q.Microamps
	Width         q.Millimetres // 0 = as wide as its module
	Price         q.Money
	Source        string
}

// SupplyUnit is a 24 V power supply.
type SupplyUnit struct {
	Code, Title  string
	Output       q.Microamps // rated at DerateFrom
	Voltage      q.Voltage
	DerateFrom   q.Temperature // full output up to here
	DeratePerK   int64         // per mille of the output lost per kelvin above
	AmbientMax   q.Temperature
	Efficiency   int64 // per mille
	Inrush       q.Current
	ShortCurrent q.Current     // what it gives into a short circuit
	HoldUp       q.Duration    // at full load
	Safe         bool          // safe separation from the mains: its output is SELV or, earthed, PELV
	Decoupled    bool          // its output may be joined with another's and survives that one's short
	Battery      float64       // ampere-hours of a battery at its output; 0 = none
	Width        q.Millimetres // on the rail of the enclosure, beside the station
	Price        q.Money
	Source       string
}

// Protection is one protective device for a supply group or a feeder.
type Protection struct {
	Code, Title string
	Type        string // "electronic", "B", "C", "Z", "fuse"
	DC          bool   // made for 24 V DC
	AC          bool   // made for mains AC
	Rating      q.Microamps
	Breaking    q.Current
	Width       q.Millimetres
	Heat        int64
	Price       q.Money
	Source      string
}

// Cable is a cable type, bought by the metre.
type Cable struct {
	Code, Title string
	Use         string // "field", "multicore", "network", "supply"
	Cores       int
	Pairs       bool
	Colours     []string // of the cores in order, as codes of IEC 60757; none: the cores bear numbers
	Area        q.CrossSection
	Class       int // IEC 60228: 1, 2, 5, 6
	Screened    bool
	Family      string // "signal", "power", "thermocouple-K", "exi", "serial", or a network profile's medium
	Rated       q.Voltage
	Capacitance q.Capacitance // per metre, core to core
	Inductance  q.Inductance  // per metre
	DiameterUM  int64         // outer diameter, micrometres
	Bend        q.Millimetres // least bending radius
	Mass        int64         // grams per metre
	MaxLength   q.Millimetres // 0 = no limit of the cable
	Price       q.Money       // per metre
	Source      string
}

// JunctionBox is a box with terminals.
type JunctionBox struct {
	Code, Title string
	Terminals   int
	IP          string
	Price       q.Money
	Source      string
}

// Enclosure holds a station with its supply units and protections.
type Enclosure struct {
	Code, Title          string
	Rail                 q.Millimetres // usable rail length, all rows together
	Row                  q.Millimetres // usable length of one row: a station's rail must fit one row
	Height, Width, Depth q.Millimetres
	MaxHeat              int64 // milliwatts at the stated rise, 0 = by calculation
	Outdoor              bool
	IP                   string
	Price                q.Money
	Source               string
}

// NetworkProfile is a way of joining stations to the controller.
type NetworkProfile struct {
	Code, Title string
	Medium      string        // "copper-ethernet", "fibre-ethernet", "rs485", "can"
	Cable       string        // code of the network cable
	MaxSegment  q.Millimetres // longest cable between two nodes (Ethernet) or of a bus segment
	MaxStations int           // on one line, ring or bus
	Topologies  []string
	EndPart     string // code of the part needed at each cable end; "" = none
	SwitchPart  string // code of the part with SwitchPorts ports at the centre of a star; "" = none
	SwitchPorts int
	BitRate     int64
	Between     bool // may join different earths
	Source      string
}

// Part is anything else bought by the piece.
type Part struct {
	Code, Title   string
	Use           string // "end-piece", "network", "gland", "terminal", "screen", "supply", "climate", "other"
	Construction  string
	Width         q.Millimetres
	MinDiameterUM int64 // glands: cable diameters that they seal, micrometres
	MaxDiameterUM int64
	Price         q.Money
	Source        string
}
