package supply

import "railwright/internal/formula"

// Formulas returns the formulas that this package declares, in the order of the handbook.
func Formulas() []*formula.Formula {
	return []*formula.Formula{
		FormulaLoad, FormulaRequired, FormulaDerated, FormulaUnits, FormulaUtilisation, FormulaLoss, FormulaLowest,
		FormulaHoldup, FormulaHoldupCapacitance, FormulaBatteryTime, FormulaBatteryCapacity,
		FormulaInputCurrentSingle, FormulaInputCurrentThree, FormulaInrush, FormulaStartTime, FormulaUnitsPerBreaker,
	}
}
