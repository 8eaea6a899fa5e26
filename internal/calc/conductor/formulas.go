package conductor

import "railwright/internal/formula"

// Formulas returns the formulas that this package declares, in the order of the handbook.
func Formulas() []*formula.Formula {
	return []*formula.Formula{
		FormulaHotResistance, FormulaTheoreticalResistance, FormulaConductorTemperature,
		FormulaAmpacity, FormulaAmbientFactor, FormulaAWGDiameter, FormulaAWGArea, FormulaOffTable,
		FormulaOuterDiameter, FormulaTrayFill, FormulaBendRadius, FormulaSeparation,
	}
}
