package all_test

import (
	"testing"

	"railwright/internal/calc/all"
	"railwright/internal/formula/formulatest"
)

// The text of each formula, evaluated by a general expression library, and its Go func agree.
func TestTextsSayWhatTheFuncsCompute(t *testing.T) {
	formulatest.Check(t, all.Formulas(), map[string]formulatest.Range{
		"awg": {Min: -3, Max: 40}, "cos_phi": {Min: 0, Max: 1}, "x": {Min: 0, Max: 0.2},
		"loop.rise_time.supply": {Min: 20, Max: 30}, "loop.rise_time.on": {Min: 5, Max: 15},
		"loop.bleeder.leakage": {Min: 1, Max: 5}, "loop.bleeder.allowed": {Min: 0, Max: 0.9},
		"loop.hart_length.devices":          {Min: 0, Max: 50000},
		"voltdrop.at_constant_power.source": {Min: 20, Max: 60}, "voltdrop.at_constant_power.power": {Min: 0, Max: 50},
		"voltdrop.at_constant_power.r_loop": {Min: 0, Max: 2},
	})
}
