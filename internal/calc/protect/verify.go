package protect

import (
	"errors"
	"fmt"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// InsulationTest is a test voltage with the resistance that must at least be measured.
type InsulationTest struct {
	Voltage quantity.Voltage
	AtLeast quantity.Resistance
	Source  string // cite reference
}

// CircuitKind is what an insulation test distinguishes.
type CircuitKind string

// The kinds of circuit.
const (
	ExtraLow     CircuitKind = "SELV or PELV"
	MachinePower CircuitKind = "machine power" // power circuits of machine equipment against earth
	Up500        CircuitKind = "up to 500 V"
	Above500     CircuitKind = "above 500 V"
)

// InsulationLimit returns how a circuit's insulation is tested. Electronics and surge protectors are
// disconnected first. A person competent in testing does it.
//
// Source: IEC 60204-1 18.3 (500 V DC, 1 Mohm); IEC 60364-6 table 6A from memory (SELV and PELV 250 V
// and 0.5 Mohm, up to 500 V 500 V and 1 Mohm, above 1000 V and 1 Mohm).
func InsulationLimit(k CircuitKind) (InsulationTest, error) {
	switch k {
	case ExtraLow:
		return InsulationTest{250, 0.5e6, "from-memory#iec-60364-6-table-6A"}, nil
	case MachinePower:
		return InsulationTest{500, 1e6, "iec-60204-1#18.3"}, nil
	case Up500:
		return InsulationTest{500, 1e6, "from-memory#iec-60364-6-table-6A"}, nil
	case Above500:
		return InsulationTest{1000, 1e6, "from-memory#iec-60364-6-table-6A"}, nil
	}
	return InsulationTest{}, &calc.ChoiceError{Name: "kind of circuit", Seen: fmt.Sprintf("%q", string(k)), Allowed: "SELV or PELV, machine power, up to 500 V, above 500 V"}
}

// FormulaContinuity gives the resistance to expect when a conductor's continuity is measured.
var FormulaContinuity = &formula.Formula{
	Name: "protect.continuity", Text: "length * r / 1000 + contacts * each / 1000",
	Inputs: []formula.Input{
		{Name: "length", Unit: "m", Doc: "of the conductor, one way"},
		{Name: "r", Unit: "ohm/km", Doc: "at the temperature of the test"},
		{Name: "contacts", Unit: "1", Doc: "clamps and bolts on the way"},
		{Name: "each", Unit: "mohm", Doc: "per contact, 1 where not known"},
	},
	Result: formula.Input{Name: "r_expected", Unit: "ohm"},
	Source: "common-practice#continuity",
	Eval:   func(x []float64) float64 { return x[0]*x[1]/1000 + x[2]*x[3]/1000 },
}

// Continuity returns the resistance to expect when the continuity of a (protective) conductor is
// measured: its own and a share per contact. A reading far above it says that a contact is bad.
//
// Source: IEC 60204-1 18.2.2 asks for a measurement against the expected value; 1 mohm per contact is
// common practice.
func Continuity(l quantity.Length, r quantity.ResistancePerLength, contacts int, each quantity.Resistance) (quantity.Resistance, error) {
	if err := errors.Join(calc.Length("length", l), calc.PerLength("resistance per length", r), calc.Count("contacts", contacts, 0, 10_000), calc.Resistance("resistance of a contact", each)); err != nil {
		return 0, err
	}
	return r.Of(l) + quantity.Resistance(contacts)*each, nil
}
