package conductor

import (
	"math"

	"railwright/internal/calc"
	"railwright/internal/formula"
	"railwright/internal/quantity"
)

// What a conductor that no table holds may have more than solid copper of its area.
const (
	// GaugeAllowance: solid wire may be thinner by 1 % in diameter, stranded wire is longer by about 2 %.
	GaugeAllowance = 1.02
	// SolidAllowance and FlexibleAllowance are the most by which a row of IEC 60228 from 0.5 mm2 on exceeds
	// solid copper of its nominal area: 1.122 (50 mm2, class 1) and 1.157 (1.5 mm2, class 5), rounded up.
	SolidAllowance    = 1.13
	FlexibleAllowance = 1.16
)

// FormulaOffTable gives the largest resistance of a size that no table holds.
var FormulaOffTable = &formula.Formula{
	Name: "conductor.off_table_resistance",
	Text: "17.241 / area * allowance",
	Inputs: []formula.Input{
		{Name: "area", Unit: "mm2", Doc: "cross-section, of a wire gauge or as stated"},
		{Name: "allowance", Unit: "1", Doc: "what it may have more than solid copper of that area"},
	},
	Result: formula.Input{Name: "r20", Unit: "ohm/km", Doc: "largest resistance of one core at 20 degC"},
	Source: "iec-60028#resistivity",
	Eval:   func(x []float64) float64 { return 17.241 / x[0] * x[1] },
}

// OffTable is how the resistance of a size that no table holds is found.
type OffTable struct {
	Area      quantity.CrossSection // the gauge's own, or as stated
	AreaFrom  string                // cite reference for a gauge, "" as stated
	Allowance float64
	From      string // cite reference of the allowance
}

// R20 is the largest resistance per length at 20 degC.
func (o OffTable) R20() quantity.ResistancePerLength {
	return quantity.ResistancePerLength(FormulaOffTable.Eval([]float64{float64(o.Area), o.Allowance}) / 1000)
}

// OffTableOf returns how the resistance of an area that is no row of IEC 60228 is found: an area within
// 2 % of an American wire gauge (0.82 mm2 stands for AWG 18) is taken as that gauge with GaugeAllowance,
// every other with what the rows of its class may have more than solid copper. It returns a
// calc.ChoiceError for an unknown class and a calc.RangeError for no area.
//
// Source: ASTM B258 (diameters); the allowances as the constants state.
func OffTableOf(area quantity.CrossSection, class Class) (OffTable, error) {
	if err := calc.Section("cross-section", area); err != nil {
		return OffTable{}, err
	}
	if len(Table(class)) == 0 {
		_, err := At20(area, class)
		return OffTable{}, err
	}
	if n, err := NearestAWG(area); err == nil {
		if own, _ := n.Area(); math.Abs(float64(area/own)-1) <= 0.02 {
			return OffTable{own, "astm-b258#diameter", GaugeAllowance, "common-practice#gauge-allowance"}, nil
		}
	}
	if class == Class1 || class == Class2 || class == Class2Tinned {
		return OffTable{area, "", SolidAllowance, "iec-60228#most-above-solid-copper"}, nil
	}
	return OffTable{area, "", FlexibleAllowance, "iec-60228#most-above-solid-copper"}, nil
}

// Largest20 returns the largest resistance per length at 20 degC that one core of the area may have: that
// of the table, or as OffTableOf finds it. Errors are those of OffTableOf.
func Largest20(area quantity.CrossSection, class Class) (quantity.ResistancePerLength, error) {
	if row, err := At20(area, class); err == nil {
		return row.R20, nil
	}
	o, err := OffTableOf(area, class)
	if err != nil {
		return 0, err
	}
	return o.R20(), nil
}
