package project

import q "railwright/internal/quantity"

// Strength says how firmly a decision holds.
type Strength string

// The strengths.
const (
	Fixed     Strength = "fixed"     // must be so, or the plan is refused with a finding that names it
	Preferred Strength = "preferred" // costs ChangeCost to do otherwise
	Forbidden Strength = "forbidden" // must not be so
)

// Origin says where a decision comes from.
type Origin string

// The origins.
const (
	FromList     Origin = "list"     // a column of the signal list
	FromHand     Origin = "hand"     // a choice in project.toml or choices.toml
	FromBuilt    Origin = "built"    // what is installed
	FromPrevious Origin = "previous" // the design accepted before
)

// Decision is one choice, wherever it comes from. Subject and Property together say what is
// chosen:
//
//	signal:ID   station  STATION-ID     the station that serves the signal
//	signal:ID   place    PLACE-ID       a station at that place serves it
//	signal:ID   channel  STATION/SLOT/CHANNEL
//	signal:ID   module   MODULE-CODE    a module of that code carries it
//	signal:ID   address  %IX4.0         located address (as printed in the basis's convention)
//	signal:ID   cable    CABLE-CODE     cable type of its bundle
//	place:ID    station  yes | no       a station stands there, or none may
//	station:ID  place    PLACE-ID       the station exists and stands there
//	station:ID  coupler  COUPLER-CODE
//	station:ID  enclosure  ENCLOSURE-CODE
//	station:ID  slot.N   MODULE-CODE, or MODULE-CODE@BASE-CODE    (N from 1)
//	station:ID  infeed.N yes            a supply group begins at slot N
//	station:ID  input_byte | output_byte  N   first byte of the station
//	station:ID  protection.N CODE       protective device of the group that begins at slot N (0: at the coupler)
//	part:CODE   use      yes | no       parts that may not be used (strength forbidden)
type Decision struct {
	Subject    string
	Property   string
	Value      string
	Strength   Strength
	ChangeCost q.Money
	Origin     Origin
	Reason     string
	By         string
	Line       int    // line in File, 0 = none
	File       string // file it was read from
}

// Decisions returns all decisions of the project in one form and one order: those of the list's
// columns station and cable, then the stated ones; sorted by subject, property, value.
func (p *Project) Decisions() []Decision {
	all := make([]Decision, 0, len(p.Choices)+len(p.Signals)/4)
	for _, s := range p.Signals {
		if s.Station != "" {
			all = append(all, fromList(s, "station", s.Station))
		}
		if s.Cable != "" {
			all = append(all, fromList(s, "cable", s.Cable))
		}
	}
	all = append(all, p.Choices...)
	SortDecisions(all)
	return all
}

func fromList(s Signal, property, value string) Decision {
	return Decision{
		Subject: "signal:" + s.ID, Property: property, Value: value,
		Strength: Fixed, Origin: FromList, File: s.At.File, Line: s.At.Row,
	}
}
