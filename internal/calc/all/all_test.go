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
		"loop.hart_length.devices": {Min: 0, Max: 50000},
		"t":                        {Min: -30, Max: 50}, "outside": {Min: -30, Max: 50}, "inside": {Min: -30, Max: 50},
		"hours": {Min: 1, Max: 20}, "peukert": {Min: 1, Max: 1.4}, "usable": {Min: 0.3, Max: 1}, "supply.start_time.limit": {Min: 20, Max: 40}, "supply.start_time.load": {Min: 0, Max: 19},
		"voltdrop.at_constant_power.source": {Min: 20, Max: 60}, "voltdrop.at_constant_power.power": {Min: 0, Max: 50},
		"voltdrop.at_constant_power.r_loop": {Min: 0, Max: 2},
	})
}
