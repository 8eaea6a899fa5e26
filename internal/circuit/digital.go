package circuit

import (
	"railwright/internal/calc/count"
	"railwright/internal/calc/loop"
	"railwright/internal/figure"
	"railwright/internal/fit"
	"railwright/internal/formula"
	"railwright/internal/project"
)

// drops are the largest voltages that a closed switch keeps, by form.
var drops = map[string]formula.Arg{
	"contact": {Value: 0, From: "cite:common-practice#dry-contact"},
	"2-wire":  {Value: float64(loop.TwoWireSwitch.Drop), From: "cite:iec-60947-5-2#drop-2-wire"},
	"pnp":     {Value: 3.5, From: "cite:from-memory#iec-60947-5-2-drop-3-wire"},
	"npn":     {Value: 3.5, From: "cite:from-memory#iec-60947-5-2-drop-3-wire"},
}

// input leaves ".on" (voltage at the input, switch closed), ".off" (state-0 current less leakage) and
// ".device" (voltage at a three-wire sensor) of inputs for direct voltage, and ".coupled" (voltage that
// an open line leaves) of mains inputs.
func (w *work) input() {
	set := w.seat.Set
	drop, dc := drops[w.s.Form]
	switch {
	case dc && set.Input > 0 && (set.ThresholdOn > 0 || set.InputType > 0):
		supply, ok := w.supply()
		if !ok {
			return
		}
		w.out.SupplyV = supply.Value
		w.out.NeededV = w.threshold(true).Value
		input := w.hardware(set.Input.Milliamps(), "input_ma")
		if w.s.Form == "pnp" || w.s.Form == "npn" {
			w.out.DeviceV = w.book.Eval(w.id+".on", loop.FormulaSensorOn, supply, drop, w.current(), input, w.length, w.hot)
			w.fed(supply)
		} else {
			w.out.DeviceV = w.book.Eval(w.id+".on", loop.FormulaInputOn, supply, drop, input, w.length, w.hot)
		}
		if w.s.Leakage.Set || w.s.Form == "2-wire" {
			leak, from := figure.Stated(w.s, "leakage_ma", w.s.Leakage, 1000, float64(loop.TwoWireSwitch.Leakage)*1000, "cite:iec-60947-5-2#leakage")
			w.book.Eval(w.id+".off", loop.FormulaInputOff, w.offCurrent(), figure.Arg("", leak, "%s", from))
		}
		if need := w.s.Current.Value; w.s.Form == "2-wire" && w.s.Current.Set && need.Milliamps() > set.Input.Milliamps() {
			w.book.Eval(w.id+".least_load", loop.FormulaLeastLoad, w.threshold(true), w.current(), input)
		}
	case w.s.Form == "120vac" || w.s.Form == "230vac":
		w.longLine()
	}
}

// fed leaves ".device": the voltage at a sensor that is fed over the cable, whose plus core carries the
// signal's current too.
func (w *work) fed(supply formula.Arg) float64 {
	back := figure.Arg("", 0, "cite:common-practice#no-signal-current")
	if i := fit.OverPlus(w.s, w.seat.Set); w.s.Kind == project.AI && i > 0 {
		back = figure.Arg("", i.Milliamps(), "cite:namur-ne-43#failure-current")
	} else if i > 0 {
		back = w.hardware(i.Milliamps(), "input_ma")
	}
	return w.book.Eval(w.id+".device", loop.FormulaAtSensor, supply, w.current(), back, w.length, w.hot)
}

// threshold is the module's own, or that of its type.
func (w *work) threshold(on bool) formula.Arg {
	set := w.seat.Set
	t, _ := loop.ByType(max(1, set.InputType))
	switch {
	case on && set.ThresholdOn > 0:
		return w.hardware(float64(set.ThresholdOn), "threshold_on_v")
	case on:
		return figure.Arg("", float64(t.OnVoltage), "cite:%s", t.Source)
	case set.ThresholdOff > 0:
		return w.hardware(float64(set.ThresholdOff), "threshold_off_v")
	}
	return figure.Arg("", float64(t.OffVoltage), "cite:%s", t.Source)
}

func (w *work) offCurrent() formula.Arg {
	set := w.seat.Set
	if set.OffCurrent > 0 {
		return w.hardware(set.OffCurrent.Milliamps(), "off_current_ma")
	}
	t, _ := loop.ByType(max(1, set.InputType))
	return figure.Arg("", t.OffCurrent.Milliamps(), "cite:%s", t.Source)
}

// longLine: the live core and the signal core of a mains input run side by side.
func (w *work) longLine() {
	set := w.seat.Set
	nominal, name := 230.0, "mains:230.high"
	if w.s.Form == "120vac" {
		nominal, name = 120, "mains:120.high"
	}
	if set.ThresholdOff == 0 {
		return
	}
	c := &w.v.Project.Basis.Circuit
	u := figure.Eval(w.book, name, count.MainsHigh, figure.Arg("", nominal, "cite:iec-60038#nominal"),
		figure.Arg("", float64(c.MainsHigh)/10, "project:basis.circuit.mains_high_percent"))
	r := w.hardware(float64(set.Impedance), "impedance_ohm")
	if set.Impedance == 0 {
		if set.OffCurrent == 0 {
			return
		}
		id := "module:" + w.seat.Module.Code + ".input_resistance"
		v := figure.Eval(w.book, id, loop.FormulaInputResistance, w.hardware(float64(set.ThresholdOff), "threshold_off_v"), w.hardware(set.OffCurrent.Milliamps(), "off_current_ma"))
		r = figure.Arg("", v, "calc:%s", id)
	}
	w.out.SupplyV = u
	w.out.DeviceV = w.book.Eval(w.id+".coupled", loop.FormulaCoupledVoltage, figure.Arg("", u, "calc:%s", name),
		figure.Arg("", float64(c.Frequency), "project:basis.circuit.frequency_hz"), w.capacitance(), w.length, r)
}

// output leaves ".device" (the voltage at the load), ".leak" (what the output lets through when it is off)
// and, of relays, ".life".
func (w *work) output() {
	if leak := w.seat.Set.Leakage; leak > 0 && w.s.Current.Set && w.s.Current.Value > 0 {
		w.book.Eval(w.id+".leak", count.Leak, w.hardware(leak.Milliamps(), "leakage_ma"), w.current())
	}
	if w.s.Form == "relay" { // the load has a supply of its own
		w.life()
		return
	}
	supply, ok := w.supply()
	if !ok {
		return
	}
	set := w.seat.Set
	drop := w.hardware(float64(set.Drop), "voltage_drop_v")
	w.out.SupplyV = supply.Value
	w.out.DeviceV = w.book.Eval(w.id+".device", loop.FormulaAtDevice, supply, drop, w.current(), w.length, w.hot)
	w.out.NeededV = float64(w.s.MinVoltage.Value)
}

// life leaves ".life" of a relay contact that switches at a stated rate, in years.
func (w *work) life() {
	if n := w.seat.Set.Operations; n > 0 && w.s.Frequency.Set && w.s.Frequency.Value > 0 {
		w.book.Eval(w.id+".life", count.Life, w.hardware(float64(n), "life_operations"), figure.Arg("", float64(w.s.Frequency.Value), "%s.frequency_hz", w.id))
	}
}
