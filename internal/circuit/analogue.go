package circuit

import (
	"fmt"
	"math"

	"railwright/internal/calc/count"
	"railwright/internal/calc/loop"
	"railwright/internal/calc/sensor"
	"railwright/internal/calc/voltdrop"
	"railwright/internal/figure"
	"railwright/internal/fit"
	"railwright/internal/formula"
	q "railwright/internal/quantity"
)

// series is what a loop holds besides transmitter, module and cable.
func (w *work) series() formula.Arg {
	r, from := figure.Stated(w.s, "load_ohm", w.s.Load, 1, 0, "cite:common-practice#nothing-in-series")
	return figure.Arg("", r, "%s", from)
}

// analogueIn leaves ".transmitter" (voltage left for a loop-powered transmitter at 22 mA), ".device" (at
// a three-wire transmitter), ".hart_r" and ".hart_rc" (a HART loop's resistance and time constant),
// ".error" (share of a voltage signal that is lost), ".resolution" and ".module_error" (in the signal's
// unit).
func (w *work) analogueIn() {
	set := w.seat.Set
	current := fit.CurrentLoop(w.s)
	if current && fit.Passive(w.s) && w.s.Wires != 3 {
		w.transmitter()
	}
	if w.s.Wires == 3 && (!current || fit.Passive(w.s)) {
		if supply, ok := w.supply(); ok {
			w.out.SupplyV = supply.Value
			w.out.DeviceV = w.fed(supply)
			w.out.NeededV = float64(w.s.MinVoltage.Value)
		}
	}
	if current && w.s.HART {
		w.hart(w.hardware(float64(set.Impedance), "impedance_ohm"))
	}
	if !current && set.Impedance > 0 {
		w.book.Eval(w.id+".error", loop.FormulaVoltageSignalError, figure.Arg("", 0, "cite:common-practice#stiff-source"),
			figure.Arg("", w.out.LoopOhm, "calc:cable:%s.loop", w.seat.Cable.ID), w.hardware(float64(set.Impedance), "impedance_ohm"))
	}
	w.scale()
}

func (w *work) transmitter() {
	set := w.seat.Set
	supply := w.hardware(float64(set.LoopVoltage), "loop_voltage_v")
	if set.LoopVoltage == 0 {
		var ok bool
		if supply, ok = w.supply(); !ok {
			return
		}
	}
	w.out.SupplyV = supply.Value
	w.out.DeviceV = w.book.Eval(w.id+".transmitter", loop.FormulaTransmitterVoltage, supply, figure.Arg("", 0, "cite:common-practice#no-fixed-drop"),
		figure.Arg("", loop.FaultCurrent.Milliamps(), "cite:namur-ne-43#failure-current"), w.hardware(float64(set.Impedance), "impedance_ohm"), w.length, w.hot, w.series())
	w.out.NeededV, _ = figure.Stated(w.s, "min_voltage_v", w.s.MinVoltage, 1, float64(w.v.Project.Basis.Circuit.TransmitterMin), "")
}

// hart leaves a HART loop's resistance (input or load, both cores, whatever lies in series) and its
// time constant.
func (w *work) hart(input formula.Arg) {
	r := w.book.Eval(w.id+".hart_r", loop.FormulaOutputLoad, input, w.length, w.hot, w.series())
	c, from := figure.Stated(w.s, "ci_nf", w.s.Ci, 1e9, float64(w.v.Project.Basis.Circuit.HARTDevice)*1e9, "project:basis.circuit.hart_device_nf")
	w.book.Eval(w.id+".hart_rc", loop.FormulaHARTRC, figure.Arg("", r, "calc:%s.hart_r", w.id), figure.Arg("", c, "%s", from), w.capacitance(), w.length)
}

// scale leaves what one count and the module's error are worth in the signal's unit.
func (w *work) scale() {
	set := w.seat.Set
	if !w.s.RangeLow.Set || !w.s.RangeHigh.Set || w.s.RangeLow.Value == w.s.RangeHigh.Value {
		return
	}
	low, high := figure.Arg("", w.s.RangeLow.Value, "%s.range_low", w.id), figure.Arg("", w.s.RangeHigh.Value, "%s.range_high", w.id)
	if set.Bit > 0 {
		id := fmt.Sprintf("resolution:%d bits", set.Bit)
		n := figure.Eval(w.book, id, count.Steps, w.hardware(float64(set.Bit), "resolution_bits"))
		w.book.Eval(w.id+".resolution", sensor.FormulaResolution, low, high, figure.Arg("", n, "calc:%s", id))
	}
	if inside := "station:" + w.seat.Station.ID + ".inside_max"; set.Accuracy > 0 && w.has(inside) {
		w.book.Eval(w.id+".module_error", sensor.FormulaModuleError, low, high, w.hardware(set.Accuracy, "accuracy_percent"), w.hardware(set.Drift, "drift_ppm_per_k"),
			figure.Arg("", w.value(inside), "calc:%s", inside), figure.Arg("", 25, "cite:iec-61131-2#analogue-error"))
	}
}

// analogueOut leaves ".load" (the resistance that a current output drives) or ".error" (the share of a
// voltage output that is lost on its way to a load of known resistance).
func (w *work) analogueOut() {
	if (w.s.Form == "4-20ma" || w.s.Form == "0-20ma") && w.s.Load.Set {
		load := figure.Arg("", float64(w.s.Load.Value), "%s.load_ohm", w.id)
		w.book.Eval(w.id+".load", loop.FormulaOutputLoad, load, w.length, w.hot, figure.Arg("", 0, "cite:common-practice#nothing-in-series"))
	}
	if fit.VoltageOut(w.s) && w.s.Load.Value > 0 {
		w.book.Eval(w.id+".error", loop.FormulaVoltageSignalError, figure.Arg("", 0, "cite:common-practice#stiff-source"),
			figure.Arg("", w.out.LoopOhm, "calc:cable:%s.loop", w.seat.Cable.ID), figure.Arg("", float64(w.s.Load.Value), "%s.load_ohm", w.id))
	}
	w.scale()
}

// span is the signal's range in degrees, or 0 to 0 where it has none.
func (w *work) span() (low, high q.Temperature) { return fit.TemperatureRange(w.s) }

// resistance leaves ".lead" (the lead resistance that counts: both cores with 2 wires, the mismatch of
// two cores with 3, nothing with 4) and ".lead_error" in kelvins, where the range is weakest. The cable is as warm as the site gets.
func (w *work) resistance() {
	rtd, err := sensor.ParseRTD(w.s.Sensor)
	if err != nil {
		return
	}
	low, high := w.span()
	at, slope, err := rtd.Weakest(low, high)
	wires := fit.Wires(w.s)
	if err != nil || wires == 4 {
		return
	}
	t, _, from, _ := w.v.Ambient(w.seat.Station.Place)
	r, origin, ok := figure.Copper(w.book, w.seat.Type.Area, w.seat.Type.Class, "at "+q.Short(t)+" degC", t, from)
	if !ok {
		return
	}
	core := figure.Arg("", r, "%s", origin)
	var lead float64
	if wires == 2 {
		lead = w.book.Eval(w.id+".lead", voltdrop.FormulaLoopResistance, w.length, core)
	} else {
		lead = w.book.Eval(w.id+".lead", sensor.FormulaMismatch, w.length, core,
			figure.Arg("", float64(w.v.Project.Basis.Circuit.LeadMismatch)/10, "project:basis.circuit.lead_mismatch_percent"))
	}
	source := "iec-60751#sensitivity"
	if rtd.Metal == "Ni" {
		source = "from-memory#din-43760-sensitivity"
	}
	w.out.ErrorK = w.book.Eval(w.id+".lead_error", sensor.FormulaLeadError, figure.Arg("", lead, "calc:%s.lead", w.id),
		figure.Arg("", slope, "cite:%s-of-%s-at-%s-degC", source, rtd, q.Short(float64(at))))
}

// thermocouple leaves ".cold_junction": the error that the module's own cold junction makes, in kelvins: the
// terminals as warm as it gets inside, the hot end where the range is weakest.
func (w *work) thermocouple() {
	tc, err := sensor.ParseThermocouple(w.s.Sensor)
	if err != nil || w.seat.Set.ColdJunction == 0 {
		return
	}
	inside := 25.0
	if id := "station:" + w.seat.Station.ID + ".inside_max"; w.has(id) {
		inside = math.Round(w.value(id)*10) / 10
	}
	low, high := w.span()
	cold, err1 := sensor.Sensitivity(tc, q.Temperature(inside))
	at, hot, err2 := tc.Weakest(low, high)
	if err1 != nil || err2 != nil || hot < 1e-6 {
		return
	}
	w.out.ErrorK = w.book.Eval(w.id+".cold_junction", sensor.FormulaColdJunctionError,
		figure.Arg("", cold*1e6, "cite:nist-its-90#type-%s-at-%s-degC", tc, q.Short(inside)), figure.Arg("", hot*1e6, "cite:nist-its-90#type-%s-at-%s-degC", tc, q.Short(float64(at))),
		w.hardware(w.seat.Set.ColdJunction, "cold_junction_k"))
}
