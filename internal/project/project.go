package project

import (
	"strconv"

	"railwright/internal/finding"
	q "railwright/internal/quantity"
)

// Format is the number of the project folder's format that this version reads.
const Format = 1

// Project is everything that the engineer states. Slices are in file order; no room may let that
// order reach a design (sort by id first).
type Project struct {
	Format     int
	Name       string
	Controller string // name of the controller, printed on lists
	Revision   string
	Date       string // of the revision, as printed; "" leaves the field of a sheet for the pen
	Basis      Basis
	Places     []Place
	Routes     []Route
	Network    Network
	Power      Power
	Choices    []Decision // origins hand, built, previous; list choices come from the signals
	Signals    []Signal
}

// Place is a spot on the site where devices or a station can stand.
type Place struct {
	ID           string
	Name         string
	X, Y         q.Opt[q.Length] // position on the site plan, metres; for drawing only
	Candidate    bool            // a station may stand here
	Forbidden    bool            // a station must not stand here, with the reason
	Reason       string          // why it is forbidden
	Controller   bool            // the controller stands here (exactly one place)
	PowerSource  bool            // a mains distribution board that feeds stations stands here
	MaxStations  int             // most stations at this place, 1 to 8
	MaxSlots     int             // most slots of one station here; 0 = no limit of the place
	MaxRail      q.Millimetres   // longest rail here; 0 = no limit of the place
	Construction string          // construction used here; "" = the basis's
	AmbientMax   q.Opt[q.Temperature]
	AmbientMin   q.Opt[q.Temperature]
	Outdoor      bool
	Zone         string        // "", "1", "2", "20", "21", "22"; "0" allows no station
	Local        q.Millimetres // cable length between a device and a station both at this place
	FixedCost    q.Money       // extra cost of having a station here (foundation, hut)
}

// Route is a cable way between two places; it runs both ways.
type Route struct {
	ID     string
	From   string // place id
	To     string // place id
	Length q.Millimetres
	Medium string // "tray", "duct", "conduit", "buried"; for the pull list only
}

// Network states how controller and stations are to be joined.
type Network struct {
	Profile  string // code of a network profile of the hardware list
	Topology string // "star", "line", "ring", "tree"
	Prefix   string // Ethernet: address of a station = Prefix + node number, default "192.168.10."
	First    int    // node number of the first station, default 11 (Ethernet) or 1 (bus)

	Update q.Duration // of cyclic Ethernet, as set in the controller, default 10 ms; buses: as computed
	Scan   q.Duration // the controller's scan, default 20 ms
}

// Power states what feeds the stations.
type Power struct {
	FeederVoltage q.Voltage // AC voltage of the feeders, default 230 V
	SupplyVoltage q.Voltage // nominal DC voltage of the supply units, 24 V
	SupplyMin     q.Voltage // lowest mean voltage at the supply unit's terminals, default 23.5 V
	UPSPlace      string    // place of the UPS board that feeds supply class "ups"; "" = the power source
}

// Signal is one row of the signal list. Text columns are trimmed; "" or an unset Opt means the
// cell was empty.
type Signal struct {
	ID            string
	Tag           string
	Description   string
	Kind          Kind
	Form          string // electrical form, see Forms
	Contact       string // "NO", "NC" or ""
	Active        string // "active" (the device sources the loop), "passive", or ""
	Place         string
	Device        string
	Equipment     string
	RangeLow      q.Opt[float64]
	RangeHigh     q.Opt[float64]
	Unit          string
	AlarmLow      q.Opt[float64]
	AlarmHigh     q.Opt[float64]
	Wires         int    // 2, 3, 4; 0 = the form's usual number
	Sensor        string // "Pt100", "K", ...: the sensing element of RTD and TC
	Voltage       q.Opt[q.Voltage]
	Current       q.Opt[q.Current]
	Inrush        q.Opt[q.Current]
	Load          q.Opt[q.Resistance]
	MinVoltage    q.Opt[q.Voltage]
	Leakage       q.Opt[q.Current]
	Frequency     q.Opt[q.Frequency]
	Response      q.Opt[q.Duration]
	SafeState     string // "0", "1", "hold", or a value in the signal's unit
	SupplyClass   string // "normal", "ups", "safety:NAME"
	Segregate     string // segregation class; its level stands in the basis
	RedundantWith []string
	Station       string // station wanted by the list
	HART          bool
	ExLevel       string // "ia", "ib", "ic"
	ExZone        string
	ExGas         string
	Ui            q.Opt[q.Voltage]
	Ii            q.Opt[q.Current]
	Pi            q.Opt[q.Power]
	Ci            q.Opt[q.Capacitance]
	Li            q.Opt[q.Inductance]
	Screen        string // "yes", "no", ""
	Cable         string // cable type wanted by the list
	Hold          string // what is still to be confirmed; "" = nothing
	Remarks       string
	Suppressor    string // "none", "diode", "rc", "varistor", "built-in", "not-a-coil", ""
	Junction      string // TC: "earthed", "insulated", ""
	Tolerance     string // RTD: "AA", "A", "B", "C"; TC: "1", "2", "3"; ""
	At            At     // where the row was read
}

// At is where a row stands in its file, for messages. Columns holds the letters of each canonical
// column; it is shared by all rows of a file and never changed.
type At struct {
	File    string
	Sheet   string
	Row     int // from 1; 0 = the row was not read from a file
	Columns map[string]string
}

// Cell returns the address of a canonical column's cell, such as "F12"; "" where the file has no
// such column.
func (a At) Cell(column string) string {
	if letters := a.Columns[column]; letters != "" && a.Row > 0 {
		return letters + strconv.Itoa(a.Row)
	}
	return ""
}

// Where returns the spot of a canonical column's cell for a finding; the row's line where the file
// has no such column. It returns nil for a row that was not read from a file.
func (a At) Where(column string) *finding.Where {
	if a.Row == 0 {
		return nil
	}
	w := &finding.Where{File: a.File, Sheet: a.Sheet, Cell: a.Cell(column)}
	if w.Cell == "" {
		w.Line = a.Row
	}
	return w
}

// Kind is the kind of a signal.
type Kind string

// The eight kinds.
const (
	DI  Kind = "DI"
	DO  Kind = "DO"
	AI  Kind = "AI"
	AO  Kind = "AO"
	RTD Kind = "RTD"
	TC  Kind = "TC"
	CNT Kind = "CNT" // pulse, counter, encoder
	SER Kind = "SER" // serial device
)

// Kinds are all kinds in the order in which lists print them.
var Kinds = []Kind{DI, DO, AI, AO, RTD, TC, CNT, SER}

// Output reports whether the kind drives something in the field.
func (k Kind) Output() bool { return k == DO || k == AO }

// Analogue reports whether the kind carries a continuous value.
func (k Kind) Analogue() bool { return k == AI || k == AO || k == RTD || k == TC }

// Forms are the electrical forms of each kind; the first is used where the list says none (and
// the use is reported).
var Forms = map[Kind][]string{
	DI:  {"contact", "pnp", "npn", "2-wire", "namur", "24v", "120vac", "230vac"},
	DO:  {"24v", "relay", "120vac", "230vac"},
	AI:  {"4-20ma", "0-20ma", "0-10v", "10v-bipolar"},
	AO:  {"4-20ma", "0-20ma", "0-10v", "10v-bipolar"},
	RTD: {"resistance"},
	TC:  {"millivolt"},
	CNT: {"pulse-24v", "pulse-namur", "encoder-24v", "encoder-rs422"},
	SER: {"rs485", "rs232", "rs422"},
}

// Sensors are the sensing elements of RTD and TC signals.
var Sensors = map[Kind][]string{
	RTD: {"Pt100", "Pt1000", "Ni100"},
	TC:  {"K", "J", "T", "E", "N", "R", "S", "B"},
}
