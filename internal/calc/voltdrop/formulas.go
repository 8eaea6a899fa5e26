package voltdrop

import "railwright/internal/formula"

// Formulas returns the formulas that this package declares, in the order of the handbook.
func Formulas() []*formula.Formula {
	return []*formula.Formula{
		FormulaLoopResistance, FormulaDrop, FormulaAtLoad, FormulaStep, FormulaPercent,
		FormulaLongest, FormulaConstantPower, FormulaDropSingle, FormulaDropThree,
	}
}
