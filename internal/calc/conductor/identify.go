package conductor

import (
	"fmt"
	"strings"

	"railwright/internal/calc"
)

// Use is what a conductor is for, as far as standards give it a colour.
type Use string

// The uses that have a colour of their own.
const (
	ProtectiveEarth Use = "PE"
	FunctionalEarth Use = "FE"
	Neutral         Use = "N"
	LineL1          Use = "L1"
	LineL2          Use = "L2"
	LineL3          Use = "L3"
	DCPlus          Use = "L+"
	DCMinus         Use = "L-"
	PowerCircuit    Use = "power"      // inside machine equipment, AC and DC
	ACControl       Use = "AC control" // inside machine equipment
	DCControl       Use = "DC control" // inside machine equipment
	ExceptedCircuit Use = "excepted"   // stays live with the supply disconnector open
)

// Identification is the colour that a standard gives a conductor.
type Identification struct {
	Colour string // name as ColourCode takes it
	Only   bool   // the colour is reserved for this use
	Source string // cite reference
}

var identification = []struct {
	use Use
	id  Identification
}{
	{ProtectiveEarth, Identification{"green-and-yellow", true, "iec-60445#6.3.2"}},
	{FunctionalEarth, Identification{"pink", false, "iec-60445#functional-earth"}},
	{Neutral, Identification{"blue", false, "from-memory#iec-60445-neutral"}},
	{LineL1, Identification{"black", false, "from-memory#iec-60445-lines"}},
	{LineL2, Identification{"brown", false, "from-memory#iec-60445-lines"}},
	{LineL3, Identification{"grey", false, "from-memory#iec-60445-lines"}},
	{DCPlus, Identification{"red", false, "from-memory#iec-60445-2017-table-A.1"}},
	{DCMinus, Identification{"white", false, "from-memory#iec-60445-2017-table-A.1"}},
	{PowerCircuit, Identification{"black", false, "from-memory#iec-60204-1-13.2.4"}},
	{ACControl, Identification{"red", false, "from-memory#iec-60204-1-13.2.4"}},
	{DCControl, Identification{"blue", false, "from-memory#iec-60204-1-13.2.4"}},
	{ExceptedCircuit, Identification{"orange", false, "from-memory#iec-60204-1-13.2.4"}},
}

// Identify returns the colour that the standards give a conductor's use. The site's own rule outranks
// all but the protective conductor's green-and-yellow, which is used for nothing else.
//
// Source: IEC 60445 (protective and functional earth seen, the rest from memory; for DC lines one page
// says brown and blue instead), IEC 60204-1:2016 13.2.4 from memory.
func Identify(u Use) (Identification, error) {
	names := make([]string, len(identification))
	for i, row := range identification {
		if row.use == u {
			return row.id, nil
		}
		names[i] = string(row.use)
	}
	return Identification{}, &calc.ChoiceError{Name: "use of a conductor", Seen: fmt.Sprintf("%q", string(u)), Allowed: strings.Join(names, ", ")}
}
