package power

import (
	"fmt"

	"railwright/internal/calc/conductor"
	"railwright/internal/calc/count"
	"railwright/internal/calc/protect"
	"railwright/internal/calc/voltdrop"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/formula"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
)

// group gives a group's infeed its conductor and leaves what that bears, the lowest voltage at the infeed
// point and what a short there comes to.
func (w work) group(st *design.Station, g *design.SupplyGroup) {
	id, dc, basis := "group:"+g.ID, figure.DC(g), &w.v.Project.Basis
	d, known := w.v.List.Protection(g.Protection)
	m, ok := figure.Multiples{}, false
	if known {
		m, ok = figure.MultiplesOf(d, dc)
	}
	inside := "station:" + st.ID + ".inside_max"
	if area, told := w.fixed[fmt.Sprintf("station:%s infeed_mm2.%d", st.ID, slotOf(g))]; told {
		w.infeed(g, area)
	} else if ok && w.has(inside) {
		w.infeed(g, Infeed(d, dc, basis.Supply.InfeedArea, q.Temperature(w.value(inside)), basis.Feeder.Inside))
	}
	r, origin, hot := figure.Hot(w.book, q.CrossSection(g.InfeedMM2), 5)
	length, core := figure.Arg("", basis.Supply.InfeedLen.Metres(), "project:basis.supply.infeed_length_m"), figure.Arg("", r, "%s", origin)
	if dc && hot {
		w.voltage(g, length, core)
	}
	if !ok {
		return
	}
	g.TripA = w.book.Eval(id+".trip", protect.FormulaTripCurrent, figure.Arg("", m.Trips, "cite:%s", m.Source), rated(d))
	if w.has(inside) {
		l := conductor.Laying{Method: conductor.MethodB1, Ambient: q.Temperature(w.value(inside)), Circuits: basis.Feeder.Inside}
		g.AmpacityA = w.coordinate(id, q.CrossSection(g.InfeedMM2), l, "calc:"+inside, d, m)
	}
	switch {
	case hot && dc:
		g.FaultMinA = w.faultDC(st, g, length, core)
	case hot:
		w.faultAC(st, g, d, length, core)
	}
}

// infeed gives a group's infeed pair its conductor.
func (w work) infeed(g *design.SupplyGroup, area q.CrossSection) {
	if g.InfeedMM2 == float64(area) {
		return
	}
	g.InfeedMM2 = float64(area)
	for i := range w.v.Design.Wires {
		if x := &w.v.Design.Wires[i]; x.ID == g.ID+"/+" || x.ID == g.ID+"/-" {
			x.AreaMM2 = float64(area)
		}
	}
}

// voltage leaves the lowest voltage at the infeed point of a DC group.
func (w work) voltage(g *design.SupplyGroup, length, hot formula.Arg) {
	load := "group:" + g.ID + ".load"
	if !w.has(load) {
		return
	}
	_, source := w.source(g)
	g.VoltageMinV = w.book.Eval("group:"+g.ID+".voltage", voltdrop.FormulaAtLoad, source, length, hot, figure.Arg("", w.value(load)/1000, "calc:%s", load))
}

// source is the nominal voltage of a DC group's supply units and the lowest mean that they give.
func (w work) source(g *design.SupplyGroup) (q.Voltage, formula.Arg) {
	source := figure.Arg("", float64(w.v.Project.Power.SupplyMin), "project:power.supply_min_v")
	if figure.Voltage(g) == "48vdc" {
		return 48, SupplyFloor48(w.book, source)
	}
	return 24, source
}

// faultDC is the smallest fault current behind current-limited supply units: lowest voltage, hot copper.
func (w work) faultDC(st *design.Station, g *design.SupplyGroup, length, hot formula.Arg) float64 {
	volts, source := w.source(g)
	ideal := figure.Arg("", 0, "cite:common-practice#regulated-source")
	unit := w.unit(st, figure.Feed(g), volts)
	if unit != nil && w.has("supply:"+unit.ID+".short") {
		limit := figure.Arg("", w.value("supply:"+unit.ID+".short"), "calc:supply:%s.short", unit.ID)
		return w.book.Eval("group:"+g.ID+".fault_min", protect.FormulaMinFault, source, ideal, length, hot, limit)
	}
	if length.Value == 0 {
		return 0
	}
	return w.book.Eval("group:"+g.ID+".fault_min", protect.FormulaFault, source, ideal, length, hot)
}

// SupplyFloor48 leaves the lowest voltage of 48 V units and returns it as an argument.
func SupplyFloor48(book *formula.Book, floor24 formula.Arg) formula.Arg {
	u := figure.Eval(book, "supply.floor.48", count.SupplyFloor48, floor24)
	return figure.Arg("", u, "calc:supply.floor.48")
}

// faultAC is the fault current of a mains group behind the station's feeder: the smallest with lowest
// mains and hot copper, the largest with highest mains and cold copper, never more than at the board.
func (w work) faultAC(st *design.Station, g *design.SupplyGroup, d *hardware.Protection, length, hot formula.Arg) {
	f := w.feederOf(st, figure.Feed(g))
	if f == nil {
		return
	}
	cable := w.cable(f.Cable)
	if cable == nil || !w.has("cable:"+cable.ID+".laid") {
		return
	}
	t, ok := w.v.List.Cable(cable.Type)
	if !ok {
		return
	}
	r, feederHot, ok1 := figure.Hot(w.book, t.Area, t.Class)
	cold, coldFrom, ok2 := figure.Copper(w.book, t.Area, t.Class, "cold", 20, "cite:common-practice#cold-copper")
	if !ok1 || !ok2 {
		return
	}
	id := "group:" + g.ID
	nominal, from := float64(w.v.Project.Power.FeederVoltage), "project:power.feeder_voltage_v"
	laid := figure.Arg("", w.value("cable:"+cable.ID+".laid"), "calc:cable:%s.laid", cable.ID)
	before := w.book.Eval(id+".loop_before", protect.FormulaLoopBefore,
		figure.Arg("", float64(w.v.Project.Basis.Feeder.BoardLoop), "project:basis.feeder.board_loop_ohm"), laid, figure.Arg("", r, "%s", feederHot))
	g.FaultMinA = w.book.Eval(id+".fault_min", protect.FormulaFault, w.mains("low", nominal, from), figure.Arg("", before, "calc:%s.loop_before", id), length, hot)
	w.book.Eval(id+".fault_max", protect.FormulaMaxFault, w.mains("high", nominal, from), figure.Arg("", 0, "cite:common-practice#board-without-loop"), laid,
		figure.Arg("", cold, "%s", coldFrom), figure.Arg("", float64(w.v.Project.Basis.Feeder.BoardFault), "project:basis.feeder.board_fault_a"))
}

func (w work) feederOf(st *design.Station, class string) *design.Feeder {
	for i := range w.v.Design.Feeders {
		if f := &w.v.Design.Feeders[i]; f.Station == st.ID && f.Class == class {
			return f
		}
	}
	return nil
}
