package loop

import "railwright/internal/formula"

// Formulas returns the formulas that this package declares, in the order of the handbook.
func Formulas() []*formula.Formula {
	return []*formula.Formula{
		FormulaTransmitterVoltage, FormulaMaxLoad, FormulaOutputLoad, FormulaHARTRC, FormulaHARTLength,
		FormulaVoltageSignalError, FormulaInputOn, FormulaInputOff, FormulaBleeder, FormulaNAMURCurrent,
		FormulaLampInrush, FormulaCoilEnergy, FormulaSwitchingLoss, FormulaRiseTime, FormulaFallTime,
		FormulaMaxFrequency, FormulaCapacitiveCurrent, FormulaCoupledVoltage, FormulaLongestAC,
		FormulaAtDevice, FormulaAtSensor, FormulaSensorOn, FormulaInputResistance, FormulaLeastLoad,
	}
}
