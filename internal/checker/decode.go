package checker

import (
	"bytes"
	"encoding/json"
	"math"
)

// The structures below repeat the contract of design.json, on purpose not those of the room that
// writes it.
type doc struct {
	Format   string       `json:"format"`
	Stations []docStation `json:"stations"`
	Cables   []docCable   `json:"cables"`
	Wires    []docWire    `json:"wires"`
	Boxes    []struct {
		ID, Place, Type string
		Terminals       []string
	} `json:"junction_boxes"`
	Supplies     []docSupply           `json:"supplies"`
	Feeders      []docFeeder           `json:"feeders"`
	Protections  []docProtection       `json:"protections"`
	Network      docNetwork            `json:"network"`
	Unplaced     []docUnplaced         `json:"unplaced"`
	Cost         docCost               `json:"cost"`
	Parts        []docPart             `json:"parts"`
	Labour       []docLabour           `json:"labour"`
	HomeRun      docHomeRun            `json:"home_run"`
	Siting       docSiting             `json:"siting"`
	Findings     []docFinding          `json:"findings"`
	Formulas     map[string]docFormula `json:"formulas"`
	Calculations map[string]docRecord  `json:"calculations"`
	Project      struct {
		Convention string `json:"address_convention"`
		Signals    int    `json:"signals"`
	} `json:"project"`
}

type docStation struct {
	ID, Name, Place, Construction, Coupler, Enclosure string
	EndPiece                                          string     `json:"end_piece"`
	RailMM                                            float64    `json:"rail_mm"`
	InsideMaxC                                        float64    `json:"inside_max_c"`
	LogicMA                                           float64    `json:"logic_current_ma"`
	LogicLimitMA                                      float64    `json:"logic_limit_ma"`
	FirstIn                                           *int       `json:"first_input_byte"`
	FirstOut                                          *int       `json:"first_output_byte"`
	InputBytes                                        int        `json:"input_bytes"`
	OutputBytes                                       int        `json:"output_bytes"`
	HeatW                                             float64    `json:"heat_w"`
	Slots                                             []docSlot  `json:"slots"`
	Groups                                            []docGroup `json:"supply_groups"`
}

type docSlot struct {
	Slot         int
	Module, Base string
	Infeed       bool
	Group        string       `json:"supply_group"`
	InputByte    int          `json:"input_byte"`
	InputBytes   int          `json:"input_bytes"`
	OutputByte   int          `json:"output_byte"`
	OutputBytes  int          `json:"output_bytes"`
	Channels     []docChannel `json:"channels"`
}

type docChannel struct {
	Channel   int
	Kind      string
	Signal    *string
	SignalID  string `json:"signal_id"`
	Address   string
	Terminals map[string]string
}

type docGroup struct {
	ID          string
	Group       int
	InfeedAt    any     `json:"infeed_at"`
	First       int     `json:"first_slot"`
	Last        int     `json:"last_slot"`
	LoadMA      float64 `json:"load_ma"`
	LimitMA     float64 `json:"limit_ma"`
	Class       string
	Reason      string
	Protection  string
	InfeedMM2   float64 `json:"infeed_mm2"`
	VoltageMinV float64 `json:"voltage_min_v"`
}

type docCable struct {
	ID, Name, From, To, Use, Type, Bundle string
	Cores                                 int
	AreaMM2                               float64 `json:"area_mm2"`
	LengthM                               float64 `json:"length_m"`
	OrderM                                float64 `json:"order_m"`
	Route, Signals                        []string
}

type docWire struct {
	ID, Cable, Core, From, To, Signal string
	AreaMM2                           float64 `json:"area_mm2"`
}

type docSupply struct {
	ID, Station, Class, Type, Feeder string
	Units                            int     // like units side by side; 0 = one
	LoadMA                           float64 `json:"load_ma"`
	NeedMA                           float64 `json:"need_ma"`
	LimitMA                          float64 `json:"limit_ma"`
	LossW                            float64 `json:"loss_w"`
}

type docFeeder struct {
	ID, From, Station, Class, Cable, Protection string
	VoltageV                                    float64 `json:"voltage_v"`
	CurrentA                                    float64 `json:"current_a"`
	DropV                                       float64 `json:"drop_v"`
}

type docProtection struct {
	ID, Type, Protects string
	RatingA            float64 `json:"rating_a"`
	LoadA              float64 `json:"load_a"`
}

type docNetwork struct {
	Profile, Topology string
	Segments          []struct {
		Cable, From, To string
		LengthM         float64 `json:"length_m"`
		LimitM          float64 `json:"limit_m"`
	}
	Addresses []struct {
		Station, Name, Address string
		Node                   int
	}
	Registers []struct {
		Station, Signal, Table string
		Number, Words          int
	}
}

type docUnplaced struct{ Signal, Tag, Where, Why, Proof string }

type docCost struct {
	Total, Constant, Installed, Changes float64
	Parts                               map[string]float64
	Currency                            string
}

type docPart struct {
	Code, Class, Unit, For string
	Count, Price           float64
	Spare                  int
}

type docLabour struct {
	Task, For string
	Count     float64
	Seconds   float64 `json:"seconds_each"`
	Price     float64
	Constant  bool
}

type docHomeRun struct {
	CableM       float64 `json:"cable_m"`
	Terminations int
	Cost         float64
}

type docSiting struct {
	Objective   float64
	LowerBound  float64 `json:"lower_bound"`
	Gap         float64
	Certificate map[string]int64
	Curve       []struct {
		Stations   int
		Objective  float64
		LowerBound float64 `json:"lower_bound"`
	}
}

type docFinding struct {
	Rule, Severity, Subject, Message, Source, Calculation string
	Figures                                               map[string]struct {
		Value float64
		Unit  string
	}
	Remedy struct{ Text string }
}

type docFormula struct {
	Text     string
	Inputs   []struct{ Name, Unit string }
	Result   struct{ Name, Unit string }
	Source   string
	Variadic bool
}

type docRecord struct {
	Formula string
	Inputs  map[string]docValue
	Result  docValue
}

type docValue struct {
	Value      float64
	Unit, From string
}

// decode reads the design and checks its form; false means that nothing else can be checked.
func (r *run) decode(text []byte) bool {
	dec := json.NewDecoder(bytes.NewReader(text))
	if err := dec.Decode(&r.d); err != nil {
		r.bad("FORM", "design", "JSON of the contract's form", "%v", err)
		return false
	}
	r.shape(text)
	return true
}

// The border from the file's floats to counts. An absurd value must not wrap round.
func count(v, scale float64) int64 {
	if x := math.Round(v * scale); math.Abs(x) < 1e17 {
		return int64(x)
	}
	return math.MaxInt64 / 64
}

func uA(ma float64) int64       { return count(ma, 1e3) }
func uAofA(a float64) int64     { return count(a, 1e6) }
func mm(m float64) int64        { return count(m, 1e3) }
func money(units float64) int64 { return count(units, 1e4) }

// near reports whether two counts differ by at most tol.
func near(a, b, tol int64) bool { return a-b <= tol && b-a <= tol }
