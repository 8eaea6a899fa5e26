package circuit

import (
	"railwright/internal/calc/exi"
	"railwright/internal/calc/loop"
	"railwright/internal/figure"
)

// counter leaves ".device" (voltage at the sensor or encoder) and, where the module states what the
// lines see, ".rise", ".fall" and ".f_max": the edges of the pulse line and the highest frequency.
func (w *work) counter() {
	if w.s.Form == "pulse-namur" {
		return
	}
	supply, ok := w.supply()
	if !ok {
		return
	}
	w.out.SupplyV = supply.Value
	w.out.DeviceV = w.fed(supply)
	w.out.NeededV = float64(w.s.MinVoltage.Value)
	set := w.seat.Set
	if set.Impedance == 0 || w.s.Form == "encoder-rs422" || set.ThresholdOn == 0 && set.InputType == 0 {
		return
	}
	on, off := w.threshold(true), w.threshold(false)
	if on.Value >= supply.Value || off.Value <= 0 {
		return
	}
	r, c := w.hardware(float64(set.Impedance), "impedance_ohm"), w.capacitance()
	rise := w.book.Eval(w.id+".rise", loop.FormulaRiseTime, r, c, w.length, supply, on)
	fall := w.book.Eval(w.id+".fall", loop.FormulaFallTime, r, c, w.length, figure.Arg("", 28.8, "cite:iec-61131-2#highest-24"), off)
	w.book.Eval(w.id+".f_max", loop.FormulaMaxFrequency, figure.Arg("", rise, "calc:%s.rise", w.id), figure.Arg("", fall, "calc:%s.fall", w.id),
		w.hardware(float64(set.Filter)*1e6, "filter_ms"))
}

// exi leaves ".exi_c" and ".exi_l": capacitance and inductance of the circuit, cable and device
// together, where the device's are stated (or it is simple apparatus, which stores nothing).
func (w *work) exi() {
	simple := figure.Simple(w.s)
	if !w.s.Ci.Set && !simple {
		return
	}
	c, cFrom := figure.Stated(w.s, "ci_nf", w.s.Ci, 1e9, 0, "cite:iec-60079-11#simple-apparatus")
	l, lFrom := figure.Stated(w.s, "li_mh", w.s.Li, 1e3, 0, "cite:iec-60079-11#simple-apparatus")
	perC := figure.Arg("", float64(exi.DefaultCapacitance)*1e12, "cite:iec-60079-25#cable-defaults")
	if v := float64(w.seat.Type.Capacitance); v > 0 {
		perC = figure.Arg("", v*1e12, "hardware:%s.capacitance_pf_per_m", w.seat.Type.Code)
	}
	perL := figure.Arg("", float64(exi.DefaultInductance)*1e6, "cite:iec-60079-25#cable-defaults")
	if v := float64(w.seat.Type.Inductance); v > 0 {
		perL = figure.Arg("", v*1e6, "hardware:%s.inductance_uh_per_m", w.seat.Type.Code)
	}
	w.book.Eval(w.id+".exi_c", exi.FormulaCapacitance, figure.Arg("", c, "%s", cFrom), perC, w.length)
	if w.s.Li.Set || simple {
		w.book.Eval(w.id+".exi_l", exi.FormulaInductance, figure.Arg("", l, "%s", lFrom), perL, w.length)
	}
}
