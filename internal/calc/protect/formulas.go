package protect

import "railwright/internal/formula"

// Formulas returns the formulas that this package declares, in the order of the handbook.
func Formulas() []*formula.Formula {
	return []*formula.Formula{
		FormulaConventionalTrip, FormulaOverloadLimit, FormulaAmpacityNeeded, FormulaAdiabaticSection,
		FormulaAdiabaticTime, FormulaTripCurrent, FormulaHoldCurrent, FormulaFault, FormulaMinFault, FormulaMaxFault, FormulaLongest,
		FormulaContinuity, FormulaLoopBefore,
	}
}
