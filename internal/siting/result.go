package siting

// Options steer Solve. The zero value is valid: it takes a budget that suits the instance's size.
type Options struct {
	Seed  uint64
	Steps int64 // search budget in trial moves; 0: chosen from the size

	// Start is a design to begin from (the previous one); bundles it leaves out are inserted. Costs of change are no
	// matter of Start: the caller adds them to Bundle.Cost.
	Start []Station
	// Multipliers are those of an earlier answer for nearly the same instance, one a bundle, 0 for a new bundle; the bound then
	// takes a fraction of the time. nil: from nothing.
	Multipliers []int64

	Curve bool // also return the cost curve over the number of stations

	Progress  func(Progress) // may be nil; called from one goroutine at a time
	Cancelled func() bool    // may be nil; when it returns true Solve returns the best so far with Complete false
}

// Progress is how far Solve has come.
type Progress struct {
	Phase       string // "bound", "search", "confirm", "curve"
	Done, Total int64
	Cost, Bound int64 // best so far; 0 while unknown
}

// Station is one station of an answer.
type Station struct {
	Place   int
	Bundles []int // ascending
	Cost    int64 // without field cables and network; set by Solve, ignored in Options.Start
}

// Unplaced is a bundle that the answer leaves out.
type Unplaced struct {
	Bundle int
	Proof  Proof
}

// Proof says how sure it is that an unplaced bundle cannot be placed.
type Proof string

// The proofs, in the words of design.json.
const (
	ProofNone      Proof = "none"       // no place may serve it at all
	ProofSet       Proof = "set"        // it fits alone, but every way to place all bundles was ruled out
	ProofNotProven Proof = "not proven" // the search found no way
)

// Result is Solve's answer.
type Result struct {
	Stations []Station // by place, then by first bundle
	Of       []int     // per bundle: index into Stations, or -1
	Unplaced []Unplaced

	Cost        int64 // cables + stations + network
	CableCost   int64
	StationCost int64
	NetworkCost int64

	Multipliers []int64 // per bundle; Certificate(instance, Multipliers) == Bound
	Bound       int64   // no design that serves the placed bundles costs less
	Proven      int64   // at least Bound: what branching and fixing add, not shown by the multipliers alone

	Curve    []CurvePoint // when asked for, by number of stations
	Complete bool         // false when cancelled
	Steps    int64        // trial moves used
}

// CurvePoint is the best cost found with exactly this many stations.
type CurvePoint struct {
	Stations int
	Cost     int64 // on the tariff, not confirmed
	Places   []int // one entry a station, ascending
}

// Gap returns (cost - bound) / cost, 0 for a cost of 0.
func (r Result) Gap() float64 {
	if r.Cost == 0 {
		return 0
	}
	return float64(r.Cost-r.Bound) / float64(r.Cost)
}
