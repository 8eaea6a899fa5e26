package circuit

import (
	"fmt"

	"railwright/internal/calc/conductor"
	"railwright/internal/calc/protect"
	"railwright/internal/figure"
	"railwright/internal/formula"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// behindGroup reports whether nothing but the device of the group protects the signal's field cable:
// outputs that no short circuit spares, and sensors that are fed straight from the group.
func (w *work) behindGroup() bool {
	if w.seat.Group == nil || w.s.ExLevel != "" {
		return false
	}
	if w.s.Kind == project.DO {
		return w.s.Form != "relay" && !w.seat.Set.ShortProof
	}
	return w.seat.Set.SensorSupply == "group"
}

// short leaves, of a field cable that the group's device protects, ".fault_end" (the smallest current of a
// short at its far end) and ".ampacity" (what its cores bear as laid, like the basis's feeders, in the
// warmer of the two places). The loop up to the infeed point is the group's ".fault_loop".
func (w *work) short() {
	group := "group:" + w.seat.Group.ID
	at, ok := w.book.Lookup(group + ".fault_min")
	if !ok {
		return
	}
	in := func(name string) formula.Arg {
		return figure.Arg("", at.Inputs[name].Value, "%s", at.Inputs[name].From)
	}
	loop := figure.Eval(w.book, group+".fault_loop", protect.FormulaLoopBefore, in("r_internal"), in("length"), in("r"))
	args := []formula.Arg{in("source"), figure.Arg("", loop, "calc:%s.fault_loop", group), w.length, w.hot}
	f := protect.FormulaFault
	if _, limited := at.Inputs["limit"]; limited {
		f, args = protect.FormulaMinFault, append(args, in("limit"))
	}
	w.book.Eval(w.id+".fault_end", f, args...)
	w.ampacity()
}

// ampacity leaves ".ampacity" and its ".ambient_factor"; nothing for sizes and temperatures beyond the tables.
func (w *work) ampacity() {
	basis := &w.v.Project.Basis
	t, _, from, _ := w.v.Ambient(w.seat.Station.Place)
	if far, _, farFrom, _ := w.v.Ambient(w.s.Place); far > t {
		t, from = far, farFrom
	}
	l := conductor.Laying{Method: conductor.Method(basis.Feeder.Method), Ambient: q.Temperature(t), Circuits: basis.Feeder.Together}
	r, err := conductor.Rate(w.seat.Type.Area, l)
	if err != nil {
		return
	}
	factor := w.book.Eval(w.id+".ambient_factor", conductor.FormulaAmbientFactor, figure.Arg("", t, "%s", from))
	w.book.Eval(w.id+".ampacity", conductor.FormulaAmpacity, figure.Arg("", float64(r.Base), "cite:%s", r.BaseSource), figure.Arg("", factor, "calc:%s.ambient_factor", w.id),
		figure.Arg("", r.Grouping, "cite:%s", fmt.Sprintf("iec-60204-1#table-D.2-%s-%d-circuits", l.Method, max(1, l.Circuits))),
		figure.Arg("", r.Multicore, "cite:iec-60204-1#table-D.3"))
}
