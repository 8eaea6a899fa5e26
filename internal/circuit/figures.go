package circuit

import (
	"strings"

	"railwright/internal/calc/count"
	"railwright/internal/calc/voltdrop"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/formula"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Figures fills the circuits of a design, one for each placed signal in order of id, and leaves their
// working in the book. It expects the records of cable lengths and group voltages that the plan leaves,
// and those of power.Figures.
func Figures(v *figure.View, book *formula.Book) {
	v.Design.Circuits = make([]design.Circuit, 0, len(v.Placed))
	for _, id := range v.Placed {
		s := v.Signals[id]
		if s == nil {
			continue
		}
		w := &work{v: v, book: book, s: s, seat: v.Seats[id], id: "signal:" + id}
		w.out = design.Circuit{Signal: id, Within: float64(s.Response.Value) * 1000}
		if w.cable() {
			w.wired()
		}
		v.Design.Circuits = append(v.Design.Circuits, w.out)
	}
}

// work is one signal's circuit in the making.
type work struct {
	v    *figure.View
	book *formula.Book
	s    *project.Signal
	seat figure.Seat
	id   string // "signal:ID"
	out  design.Circuit

	length, hot formula.Arg // of the field cable
}

// cable notes the field cable and the resistance of its two cores; false where nobody knows them.
func (w *work) cable() bool {
	c, t := w.seat.Cable, w.seat.Type
	if c == nil || t == nil {
		return false
	}
	w.out.Cable = c.ID
	r, from, ok := figure.Hot(w.book, t.Area, t.Class)
	laid := "cable:" + c.ID + ".laid"
	if !ok || !w.has(laid) {
		return false
	}
	w.length, w.hot = figure.Arg("", w.value(laid), "calc:%s", laid), figure.Arg("", r, "%s", from)
	w.out.LoopOhm = figure.Eval(w.book, "cable:"+c.ID+".loop", voltdrop.FormulaLoopResistance, w.length, w.hot)
	return true
}

func (w *work) wired() {
	switch w.s.Kind {
	case project.DI:
		w.input()
	case project.DO:
		w.output()
	case project.AI:
		w.analogueIn()
	case project.AO:
		w.analogueOut()
	case project.RTD:
		w.resistance()
		w.budget()
	case project.TC:
		w.thermocouple()
		w.budget()
	case project.CNT:
		w.counter()
	}
	if w.s.ExLevel != "" {
		w.exi()
	}
	if w.behindGroup() {
		w.short()
	}
}

func (w *work) has(id string) bool {
	_, ok := w.book.Lookup(id)
	return ok
}

func (w *work) value(id string) float64 {
	r, _ := w.book.Lookup(id)
	return r.Result.Value
}

// hardware is a figure of the module.
func (w *work) hardware(v float64, key string) formula.Arg {
	return figure.Arg("", v, "hardware:%s.%s", w.seat.Module.Code, key)
}

// supply is the lowest voltage at the infeed point of the signal's group (of a mains group without a feeder
// that of the mains); false where none is known.
func (w *work) supply() (formula.Arg, bool) {
	g := w.seat.Group
	if g == nil {
		return formula.Arg{}, false
	}
	if figure.DC(g) {
		id := "group:" + g.ID + ".voltage"
		return figure.Arg("", w.value(id), "calc:%s", id), w.has(id)
	}
	if at := "group:" + g.ID + ".voltage"; w.has(at) {
		return figure.Arg("", w.value(at), "calc:%s", at), true
	}
	kind := strings.TrimSuffix(figure.Voltage(g), "vac")
	nominal := 230.0
	if kind == "120" {
		nominal = 120
	}
	id := "mains:" + kind + ".low"
	u := figure.Eval(w.book, id, count.MainsLow, figure.Arg("", nominal, "cite:iec-60038#nominal"),
		figure.Arg("", float64(w.v.Project.Basis.Circuit.MainsLow)/10, "project:basis.circuit.mains_low_percent"))
	return figure.Arg("", u, "calc:%s", id), true
}

// current is what the device draws, in milliamperes: of the list, or the basis's default.
func (w *work) current() formula.Arg {
	if w.s.Current.Set {
		return figure.Arg("", w.s.Current.Value.Milliamps(), "%s.current_ma", w.id)
	}
	key := string(w.s.Kind) + " " + w.s.Form
	return figure.Arg("", q.Current(w.v.Project.Basis.DefaultCurrent[key]).Milliamps(), "project:basis.current_ma.%s", key)
}

// capacitance is that of the field cable per metre in pF: of the list, or the usual one.
func (w *work) capacitance() formula.Arg {
	if c := float64(w.seat.Type.Capacitance); c > 0 {
		return figure.Arg("", c*1e12, "hardware:%s.capacitance_pf_per_m", w.seat.Type.Code)
	}
	return figure.Arg("", 300, "cite:common-practice#cable-capacitance")
}
