// Package all lists every formula that the formula packages declare, for the tests that follow
// each figure of a design to its source and for the generated handbook page.
package all

import (
	"railwright/internal/calc/bus"
	"railwright/internal/calc/conductor"
	"railwright/internal/calc/count"
	"railwright/internal/calc/exi"
	"railwright/internal/calc/heat"
	"railwright/internal/calc/loop"
	"railwright/internal/calc/protect"
	"railwright/internal/calc/sensor"
	"railwright/internal/calc/spare"
	"railwright/internal/calc/supply"
	"railwright/internal/calc/voltdrop"
	"railwright/internal/formula"
)

// Formulas returns every declared formula, package by package.
func Formulas() []*formula.Formula {
	var fs []*formula.Formula
	for _, of := range []func() []*formula.Formula{
		conductor.Formulas, count.Formulas, voltdrop.Formulas, protect.Formulas, supply.Formulas,
		heat.Formulas, loop.Formulas, sensor.Formulas, exi.Formulas, bus.Formulas, spare.Formulas,
	} {
		fs = append(fs, of()...)
	}
	return fs
}

// Named returns the declared formula of that name; false if there is none.
func Named(name string) (*formula.Formula, bool) {
	for _, f := range Formulas() {
		if f.Name == name {
			return f, true
		}
	}
	return nil, false
}
