package design

import (
	"railwright/internal/finding"
	"railwright/internal/formula"
)

// Format names the form of design.json that this version writes.
const Format = "railwright-design/1"

// Design is a complete plan. Lists are sorted by id (stations, cables, ...) or by position (slots,
// channels). Money is in currency units, exact to 0.01.
type Design struct {
	Format        string                      `json:"format"`
	Input         Input                       `json:"input"`
	Project       Stated                      `json:"project"`
	Stations      []Station                   `json:"stations"`
	Cables        []Cable                     `json:"cables"`
	Wires         []Wire                      `json:"wires"`
	Circuits      []Circuit                   `json:"circuits"`
	JunctionBoxes []JunctionBox               `json:"junction_boxes"`
	Supplies      []Supply                    `json:"supplies"`
	Feeders       []Feeder                    `json:"feeders"`
	Protections   []Protection                `json:"protections"`
	Network       Network                     `json:"network"`
	Unplaced      []Unplaced                  `json:"unplaced"`
	Issued        []IssuedRow                 `json:"issued"`
	Cost          Cost                        `json:"cost"`
	Parts         []Part                      `json:"parts"`
	Labour        []Labour                    `json:"labour"`
	HomeRun       HomeRun                     `json:"home_run"`
	Siting        Siting                      `json:"siting"`
	Findings      finding.List                `json:"findings"`
	Formulas      map[string]*formula.Formula `json:"formulas"`
	Calculations  map[string]formula.Record   `json:"calculations"`
	Ordinals      map[string]int              `json:"ordinals"`           // last ordinal ever given, by id prefix; ids are never reused
	Hardware      string                      `json:"hardware,omitempty"` // accepted designs: the hardware entries used, as hardware.toml would have them
}

// Input says what the design was made from.
type Input struct {
	SHA256         string `json:"sha256"`
	PreviousSHA256 string `json:"previous_sha256"`
	Seed           int64  `json:"seed"`
	Steps          int64  `json:"steps"`
	HardwareSHA256 string `json:"hardware_sha256"`
	Tool           string `json:"tool"`
	Complete       bool   `json:"complete"`
}

// Stated repeats what heads every document.
type Stated struct {
	Name       string `json:"name"`
	Controller string `json:"controller"`
	Revision   string `json:"revision"`
	Convention string `json:"address_convention"`
	Signals    int    `json:"signals"`
}

// Station is one remote I/O station.
type Station struct {
	ID             string        `json:"id"`
	Name           string        `json:"name"`
	Place          string        `json:"place"`
	Construction   string        `json:"construction"`
	Coupler        string        `json:"coupler"`
	RailMM         int64         `json:"rail_mm"`
	LogicCurrentMA float64       `json:"logic_current_ma"`
	LogicLimitMA   float64       `json:"logic_limit_ma"`
	FirstInByte    int           `json:"first_input_byte"`
	FirstOutByte   int           `json:"first_output_byte"`
	InputBytes     int           `json:"input_bytes"`
	OutputBytes    int           `json:"output_bytes"`
	HeatW          float64       `json:"heat_w"`
	EndPiece       string        `json:"end_piece"`
	Enclosure      string        `json:"enclosure"`
	InsideMaxC     float64       `json:"inside_max_c"` // air inside at the highest ambient, all loads on
	InsideMinC     float64       `json:"inside_min_c"` // air inside at the lowest ambient, modules idle
	HeaterW        float64       `json:"heater_w"`     // heater that keeps the inside warm and dry enough
	UpdateMS       float64       `json:"update_ms"`    // time between two exchanges with the controller
	Slots          []Slot        `json:"slots"`
	SupplyGroups   []SupplyGroup `json:"supply_groups"`
}

// Slot is one module position, counted from 1.
type Slot struct {
	Slot        int       `json:"slot"`
	Module      string    `json:"module"`
	Base        string    `json:"base"`
	Infeed      bool      `json:"infeed"`
	SupplyGroup string    `json:"supply_group"`
	InputByte   int       `json:"input_byte"`
	InputBytes  int       `json:"input_bytes"`
	OutputByte  int       `json:"output_byte"`
	OutputBytes int       `json:"output_bytes"`
	Channels    []Channel `json:"channels"`
}

// Channel is one channel as printed on the module. Signal is null for a spare channel.
type Channel struct {
	Channel   int               `json:"channel"`
	Kind      string            `json:"kind"`
	Signal    *string           `json:"signal"`
	SignalID  string            `json:"signal_id"`
	Address   string            `json:"address"`
	Terminals map[string]string `json:"terminals"` // function -> printed terminal
}

// SupplyGroup is a run of neighbouring modules fed from one infeed point.
type SupplyGroup struct {
	ID          string  `json:"id"`
	Group       int     `json:"group"`     // from 1, left to right
	InfeedAt    any     `json:"infeed_at"` // "coupler" or the slot number
	FirstSlot   int     `json:"first_slot"`
	LastSlot    int     `json:"last_slot"`
	LoadMA      float64 `json:"load_ma"`
	LimitMA     float64 `json:"limit_ma"`
	Class       string  `json:"class"`
	Reason      string  `json:"reason"` // why it was begun
	Protection  string  `json:"protection"`
	InfeedMM2   float64 `json:"infeed_mm2"`
	VoltageMinV float64 `json:"voltage_min_v"`
	AmpacityA   float64 `json:"ampacity_a"`  // of the infeed conductors as laid
	FaultMinA   float64 `json:"fault_min_a"` // of a short at the infeed point
	TripA       float64 `json:"trip_a"`      // surely trips the protective device promptly
}

// Cable is one physical cable.
type Cable struct {
	ID      string   `json:"id"`
	Name    string   `json:"name"`
	From    string   `json:"from"` // subject: "device:NAME", "station:ID", "junction_box:ID", "place:ID", "controller"
	To      string   `json:"to"`
	Use     string   `json:"use"`
	Type    string   `json:"type"`
	Cores   int      `json:"cores"`
	AreaMM2 float64  `json:"area_mm2"`
	LengthM float64  `json:"length_m"` // as laid, allowances included
	OrderM  float64  `json:"order_m"`  // bought: length and waste
	Route   []string `json:"route"`
	Signals []string `json:"signals"` // signal ids
	Bundle  string   `json:"bundle"`  // id of the bundle that a field cable carries; "" for other uses
}

// Wire is one core landed at both ends. Endpoints are typed: "device:NAME/FUNCTION",
// "station:ID/SLOT/TERMINAL", "junction_box:ID/TERMINAL", "supply:ID/+" and so on.
type Wire struct {
	ID      string  `json:"id"`
	Cable   string  `json:"cable"`
	Core    string  `json:"core"`
	From    string  `json:"from"`
	To      string  `json:"to"`
	Signal  string  `json:"signal"`
	AreaMM2 float64 `json:"area_mm2"`
}

// JunctionBox is a box with terminals.
type JunctionBox struct {
	ID        string   `json:"id"`
	Name      string   `json:"name"`
	Place     string   `json:"place"`
	Type      string   `json:"type"`
	Terminals []string `json:"terminals"`
}

// Supply is one 24 V supply unit.
type Supply struct {
	ID      string  `json:"id"`
	Station string  `json:"station"`
	Class   string  `json:"class"` // supply class it feeds: "normal", "ups"
	Type    string  `json:"type"`
	LoadMA  float64 `json:"load_ma"`
	NeedMA  float64 `json:"need_ma"`  // load with margin
	LimitMA float64 `json:"limit_ma"` // output of all units of the feed at the place's ambient
	Units   int     `json:"units"`    // like units that share the load of this feed
	Feeder  string  `json:"feeder"`
	LossW   float64 `json:"loss_w"`
	ShortA  float64 `json:"short_a"`    // that all units of the feed give into a short circuit
	HoldMS  float64 `json:"hold_up_ms"` // hold-up time at the load
}

// Circuit is what one signal's circuit comes to in the worst case: lowest supply, hot copper, all
// loads on. Figures that have no meaning for the signal are 0.
type Circuit struct {
	Signal   string  `json:"signal"` // id
	Cable    string  `json:"cable"`
	LoopOhm  float64 `json:"loop_ohm"`  // both cores of the field cable
	SupplyV  float64 `json:"supply_v"`  // where the circuit is fed
	DeviceV  float64 `json:"device_v"`  // left at the device (inputs: at the channel)
	NeededV  float64 `json:"needed_v"`  // least that it needs there
	ErrorK   float64 `json:"error_k"`   // of a temperature because of its leads
	Reaction float64 `json:"react_ms"`  // worst case from the field to the controller and back to an output
	Within   float64 `json:"within_ms"` // what the list asks for; 0: nothing
}

// Feeder is one AC feeder of a station.
type Feeder struct {
	ID         string  `json:"id"`
	From       string  `json:"from"` // place
	Station    string  `json:"station"`
	Class      string  `json:"class"` // supply class: "normal", "ups"
	Cable      string  `json:"cable"`
	Protection string  `json:"protection"`
	VoltageV   float64 `json:"voltage_v"`
	CurrentA   float64 `json:"current_a"`
	DropV      float64 `json:"drop_v"`
	AmpacityA  float64 `json:"ampacity_a"`
	FaultMinA  float64 `json:"fault_min_a"` // of a short at the station
	TripA      float64 `json:"trip_a"`      // surely trips the protective device promptly
	InrushA    float64 `json:"inrush_a"`    // of all supply units when switched on together
}

// Protection is one protective device as built in.
type Protection struct {
	ID       string  `json:"id"`
	Type     string  `json:"type"`
	Protects string  `json:"protects"` // "group:ID" or "feeder:ID"
	RatingA  float64 `json:"rating_a"`
	LoadA    float64 `json:"load_a"`
}

// Network is how controller and stations are joined.
type Network struct {
	Profile   string        `json:"profile"`
	Topology  string        `json:"topology"`
	Segments  []Segment     `json:"segments"`
	Addresses []NodeAddress `json:"addresses"`
	Registers []Register    `json:"registers"`
	UpdateMS  float64       `json:"update_ms"`
	LoadPct   float64       `json:"load_percent"` // of the controller's link or of the bus
}

// Segment is one network cable between two nodes.
type Segment struct {
	Cable   string  `json:"cable"`
	From    string  `json:"from"`
	To      string  `json:"to"`
	LengthM float64 `json:"length_m"`
	LimitM  float64 `json:"limit_m"`
}

// NodeAddress is a station's address on the network.
type NodeAddress struct {
	Station string `json:"station"`
	Name    string `json:"name"`
	Address string `json:"address"`
	Node    int    `json:"node"`
}

// Register is a signal's place in a Modbus map.
type Register struct {
	Station string `json:"station"`
	Signal  string `json:"signal"`
	Table   string `json:"table"` // "discrete input", "coil", "input register", "holding register"
	Number  int    `json:"number"`
	Words   int    `json:"words"`
}

// Unplaced is a signal that the design does not serve.
type Unplaced struct {
	Signal string `json:"signal"` // id
	Tag    string `json:"tag"`
	Where  string `json:"where"` // file and cell for a faulty row
	Why    string `json:"why"`
	Proof  string `json:"proof"` // "none", "set", "not proven"; "row" for a faulty row
}

// IssuedRow says at which revision of the project a row of the signal list was last changed.
type IssuedRow struct {
	Signal   string `json:"signal"` // id
	Revision string `json:"revision"`
	SHA256   string `json:"sha256"` // of what the row states
}

// Cost sums the money. Parts holds it by class of part and of labour.
type Cost struct {
	Total     float64            `json:"total"`
	Constant  float64            `json:"constant"`
	Installed float64            `json:"installed"`
	Changes   float64            `json:"changes"`
	Parts     map[string]float64 `json:"parts"`
	Currency  string             `json:"currency"`
}

// Part is one line of the parts list.
type Part struct {
	Code  string  `json:"code"`
	Title string  `json:"title"`
	Class string  `json:"class"`
	Count float64 `json:"count"` // pieces, or metres for cables
	Unit  string  `json:"unit"`  // "pc" or "m"
	Spare int     `json:"spare"`
	Price float64 `json:"price"` // each
	For   string  `json:"for"`   // "station:ID", "network", ...
}

// Labour is one line of the labour list.
type Labour struct {
	Task     string  `json:"task"`
	Count    float64 `json:"count"`
	Seconds  float64 `json:"seconds_each"`
	Price    float64 `json:"price"` // of all
	For      string  `json:"for"`
	Constant bool    `json:"constant"` // the same in every design
}

// HomeRun is the same job without stations, on the same prices.
type HomeRun struct {
	CableM       float64 `json:"cable_m"`
	Terminations int     `json:"terminations"`
	Cost         float64 `json:"cost"`
}

// Siting says how good the choice of places is.
type Siting struct {
	Objective   float64          `json:"objective"`
	LowerBound  float64          `json:"lower_bound"`
	Gap         float64          `json:"gap"`
	Certificate map[string]int64 `json:"certificate"` // bundle id -> multiplier, 1/10,000
	Curve       []CurvePoint     `json:"curve"`
}

// CurvePoint is the best cost found with a number of stations.
type CurvePoint struct {
	Stations   int     `json:"stations"`
	Objective  float64 `json:"objective"`
	LowerBound float64 `json:"lower_bound"`
}
