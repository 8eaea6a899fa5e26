package heat

import "railwright/internal/formula"

// Formulas returns the formulas that this package declares, in the order of the handbook.
func Formulas() []*formula.Formula {
	return []*formula.Formula{
		FormulaSurface, FormulaLosses, FormulaRise, FormulaInside, FormulaLossLimit, FormulaCooling,
		FormulaSurfaceNeeded, FormulaSolarGain, FormulaFanFlow, FormulaAltitudeLimit, FormulaHeater,
		FormulaDewPoint, FormulaRelativeInside, FormulaAgainstCondensation,
	}
}
