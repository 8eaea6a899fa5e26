package sensor

import "railwright/internal/formula"

// Formulas returns the formulas that this package declares, in the order of the handbook.
func Formulas() []*formula.Formula {
	return []*formula.Formula{
		FormulaPlatinum, FormulaNickel, FormulaLeadError, FormulaTwoWireError, FormulaSelfHeating,
		FormulaRTDTolerance, FormulaTCTolerance, FormulaMeasuredEMF, FormulaColdJunctionError, FormulaLinear,
		FormulaExpectedCurrent, FormulaResolution, FormulaModuleError, FormulaWorstError, FormulaProbableError, FormulaMismatch,
	}
}
