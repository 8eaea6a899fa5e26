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
	switch {
	case dc && hot:
		w.voltage(g, length, core)
	case hot:
		w.mainsGroup(st, g, length, core)
	}
	if !ok {
		return
	}
	g.TripA = w.book.Eval(id+".trip", protect.FormulaTripCurrent, figure.Arg("", m.Trips, "cite:%s", m.Source), rated(d))
	if w.has(inside) {
		l := conductor.Laying{Method: conductor.MethodB1, Ambient: q.Temperature(w.value(inside)), Circuits: basis.Feeder.Inside}
		g.AmpacityA = w.coordinate(id, q.CrossSection(g.InfeedMM2), l, "calc:"+inside, d, m)
	}
	if hot && dc {
		g.FaultMinA = w.faultDC(st, g, length, core)
	}
	w.survives(id, m)
}

// survives leaves the smallest conductor that bears the fault which the subject's device cuts off most
// slowly: the smallest one, or that of its upper edge where that is smaller.
func (w work) survives(id string, m figure.Multiples) {
	if !w.has(id+".fault_min") || m.Within <= 0 {
		return
	}
	i := figure.Arg("", w.value(id+".fault_min"), "calc:%s.fault_min", id)
	if edge := w.value(id + ".trip"); edge < i.Value {
		i = figure.Arg("", edge, "calc:%s.trip", id)
	}
	w.book.Eval(id+".survives", protect.FormulaAdiabaticSection, i, figure.Arg("", float64(m.Within), "cite:%s", m.Source), figure.Arg("", protect.PVC.K, "cite:iec-60364-4-43#table-43A"))
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

// mainsGroup leaves the fault currents of a mains group behind the station's feeder (the smallest with
// lowest mains and hot copper, the largest with highest mains and cold copper, never more than at the
// board), and the lowest voltage at its infeed point behind feeder and infeed.
func (w work) mainsGroup(st *design.Station, g *design.SupplyGroup, length, hot formula.Arg) {
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
	id, length0 := "group:"+g.ID, figure.Arg("", w.value("cable:"+cable.ID+".laid"), "calc:cable:%s.laid", cable.ID)
	nominal, from := w.nominal(g)
	low, feeder := w.mains("low", nominal, from), figure.Arg("", r, "%s", feederHot)
	before := w.book.Eval(id+".loop_before", protect.FormulaLoopBefore,
		figure.Arg("", float64(w.v.Project.Basis.Feeder.BoardLoop), "project:basis.feeder.board_loop_ohm"), length0, feeder)
	g.FaultMinA = w.book.Eval(id+".fault_min", protect.FormulaFault, low, figure.Arg("", before, "calc:%s.loop_before", id), length, hot)
	w.book.Eval(id+".fault_max", protect.FormulaMaxFault, w.mains("high", nominal, from), figure.Arg("", 0, "cite:common-practice#board-without-loop"), length0,
		figure.Arg("", cold, "%s", coldFrom), figure.Arg("", float64(w.v.Project.Basis.Feeder.BoardFault), "project:basis.feeder.board_fault_a"))
	if load := id + ".load"; w.has(load) {
		end := w.book.Eval(id+".feeder_end", voltdrop.FormulaAtLoad, low, length0, feeder, figure.Arg("", f.CurrentA, "calc:feeder:%s.current", f.ID))
		g.VoltageMinV = w.book.Eval(id+".voltage", voltdrop.FormulaAtLoad, figure.Arg("", end, "calc:%s.feeder_end", id), length, hot, figure.Arg("", w.value(load)/1000, "calc:%s", load))
	}
}

// nominal is the nominal voltage of a mains group, with its origin.
func (w work) nominal(g *design.SupplyGroup) (float64, string) {
	u, suits := figure.Mains(figure.Voltage(g), w.v.Project.Power.FeederVoltage)
	if !suits {
		return float64(u), "cite:iec-60038#nominal"
	}
	return float64(u), "project:power.feeder_voltage_v"
}

func (w work) feederOf(st *design.Station, class string) *design.Feeder {
	for i := range w.v.Design.Feeders {
		if f := &w.v.Design.Feeders[i]; f.Station == st.ID && f.Class == class {
			return f
		}
	}
	return nil
}
