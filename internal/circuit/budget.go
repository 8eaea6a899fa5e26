package circuit

import (
	"strconv"

	"railwright/internal/calc/count"
	"railwright/internal/calc/sensor"
	"railwright/internal/figure"
	"railwright/internal/formula"
	"railwright/internal/project"
)

// budget leaves ".tolerance" (of the sensing element by its class, B or 2 where none is stated),
// ".module_k" (of the module at its temperature) and ".budget" (the probable error of a resistance
// thermometer or thermocouple: element, leads or cold junction, and module), in kelvins, in the middle of
// the range.
func (w *work) budget() {
	if !w.s.RangeLow.Set || !w.s.RangeHigh.Set || w.s.RangeLow.Value >= w.s.RangeHigh.Value {
		return
	}
	low, high := figure.Arg("", w.s.RangeLow.Value, "%s.range_low", w.id), figure.Arg("", w.s.RangeHigh.Value, "%s.range_high", w.id)
	mid := w.book.Eval(w.id+".middle", count.Middle, low, high)
	element, ok := w.tolerance(figure.Arg("", mid, "calc:%s.middle", w.id))
	if !ok {
		return
	}
	set := w.seat.Set
	parts := []formula.Arg{figure.Arg("at 25 degC", set.AccuracyK, "hardware:%s.accuracy_k", w.seat.Module.Code)}
	if inside := "station:" + w.seat.Station.ID + ".inside_max"; set.Drift > 0 && w.has(inside) {
		drift := w.book.Eval(w.id+".drift", sensor.FormulaModuleError, low, high, figure.Arg("", 0, "cite:common-practice#stated-in-kelvins"),
			w.hardware(set.Drift, "drift_ppm_per_k"), figure.Arg("", w.value(inside), "calc:%s", inside), figure.Arg("", 25, "cite:iec-61131-2#analogue-error"))
		parts = append(parts, figure.Arg("drift", drift, "calc:%s.drift", w.id))
	}
	module := w.book.Eval(w.id+".module_k", sensor.FormulaWorstError, parts...)
	line := figure.Arg("", 0, "cite:common-practice#four-wires")
	for _, name := range []string{".lead_error", ".cold_junction"} {
		if w.has(w.id + name) {
			line = figure.Arg("", w.value(w.id+name), "calc:%s%s", w.id, name)
		}
	}
	w.book.Eval(w.id+".budget", sensor.FormulaProbableError, element, line, figure.Arg("", module, "calc:%s.module_k", w.id),
		figure.Arg("", 0, "cite:common-practice#resolution-in-accuracy"))
}

// tolerance leaves what the class of the sensing element allows at a temperature; false for an element or
// class of which nothing is known.
func (w *work) tolerance(t formula.Arg) (formula.Arg, bool) {
	class := w.s.Tolerance
	id, from := w.id+".tolerance", "cite:common-practice#usual-class"
	if class != "" {
		from = "signal:" + w.s.ID + ".tolerance"
	}
	var v float64
	if w.s.Kind == project.RTD {
		if class == "" {
			class = "B"
		}
		rtd, err := sensor.ParseRTD(w.s.Sensor)
		base, slope, ok := sensor.RTDBand(sensor.RTDClass(class))
		if err != nil || !ok || rtd.Metal == "Ni" {
			return formula.Arg{}, false
		}
		v = w.book.Eval(id, sensor.FormulaRTDTolerance, figure.Arg("", base, "%s", from), figure.Arg("", slope, "%s", from), t)
	} else {
		if class == "" {
			class = "2"
		}
		n, _ := strconv.Atoi(class)
		fixed, relative, ok := sensor.TCBand(sensor.Thermocouple(w.s.Sensor), n)
		if !ok {
			return formula.Arg{}, false
		}
		v = w.book.Eval(id, sensor.FormulaTCTolerance, figure.Arg("", fixed, "%s", from), figure.Arg("", relative, "%s", from), t)
	}
	return figure.Arg("", v, "calc:%s", id), true
}
