package power

import (
	"fmt"
	"strconv"
	"strings"

	"railwright/internal/calc/conductor"
	"railwright/internal/calc/count"
	"railwright/internal/calc/protect"
	"railwright/internal/calc/supply"
	"railwright/internal/calc/voltdrop"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/formula"
	"railwright/internal/hardware"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// Figures fills the figures of supply units, feeders, groups and enclosures of a finished design, and
// leaves their working in the book: short circuit and hold-up of the units, drop, ampacity and fault
// currents of feeders and infeed conductors, temperatures inside. It expects the records of loads,
// lengths and units that the plan leaves.
func Figures(v *figure.View, book *formula.Book) {
	w := work{v, book, fixedInfeeds(v.Project)}
	for i := range v.Design.Stations {
		st := &v.Design.Stations[i]
		w.feeds(st)
		w.climate(st)
		w.glands(st)
		w.feeders(st)
		for k := range st.SupplyGroups {
			w.group(st, &st.SupplyGroups[k])
		}
	}
}

type work struct {
	v     *figure.View
	book  *formula.Book
	fixed map[string]q.CrossSection // infeed conductors that a choice fixes, by "station:ID infeed_mm2.N"
}

// fixedInfeeds are the infeed conductors that choices fix.
func fixedInfeeds(p *project.Project) map[string]q.CrossSection {
	out := map[string]q.CrossSection{}
	for _, d := range p.Decisions() {
		if area, err := strconv.ParseFloat(d.Value, 64); err == nil && d.Strength == project.Fixed && strings.HasPrefix(d.Property, "infeed_mm2.") {
			out[d.Subject+" "+d.Property] = q.CrossSection(area)
		}
	}
	return out
}

// slotOf is the number by which choices name a group: its first slot, 0 for the one that the coupler feeds.
func slotOf(g *design.SupplyGroup) int {
	if g.InfeedAt == "coupler" {
		return 0
	}
	return g.FirstSlot
}

// has reports whether a record is there to lean on.
func (w work) has(id string) bool {
	_, ok := w.book.Lookup(id)
	return ok
}

func (w work) value(id string) float64 {
	r, _ := w.book.Lookup(id)
	return r.Result.Value
}

// feeds leaves the figures of the supply units. Like units of a feed share its records, which bear the
// first one's id.
func (w work) feeds(st *design.Station) {
	first := map[string]string{}
	for i := range w.v.Design.Supplies {
		s := &w.v.Design.Supplies[i]
		u, ok := w.v.List.Supply(s.Type)
		if s.Station != st.ID || !ok {
			continue
		}
		key := s.Class + " " + s.Type
		id, seen := first[key]
		if !seen {
			id, first[key] = s.ID, s.ID
			w.feed(s, u)
		}
		if w.has("supply:" + id + ".short") {
			s.ShortA = w.value("supply:" + id + ".short")
		}
		if w.has("supply:" + id + ".hold_up") {
			s.HoldMS = w.value("supply:" + id + ".hold_up")
		}
	}
}

func (w work) feed(s *design.Supply, u *hardware.SupplyUnit) {
	id := "supply:" + s.ID
	if !w.has(id+".load") || !w.has(id+".units") {
		return
	}
	units := figure.Arg("", w.value(id+".units"), "calc:%s.units", id)
	power := w.book.Eval(id+".power", count.Power, figure.Arg("", w.value(id+".load"), "calc:%s.load", id), figure.Arg("", float64(u.Voltage), "hardware:%s.voltage_v", u.Code))
	if u.Efficiency > 0 {
		w.book.Eval(id+".loss", supply.FormulaLoss, figure.Arg("", power, "calc:%s.power", id), figure.Arg("", float64(u.Efficiency)/10, "hardware:%s.efficiency_percent", u.Code))
	}
	if minutes := w.v.Project.Basis.Supply.Minutes; s.Class == "ups" && u.Battery > 0 && minutes > 0 {
		ah := w.book.Eval(id+".battery_ah", count.Batteries, units, figure.Arg("", u.Battery, "hardware:%s.battery_ah", u.Code))
		w.book.Eval(id+".battery", supply.FormulaBatteryTime, figure.Arg("", 20, "cite:common-practice#battery-rated-at-20-h"),
			figure.Arg("", ah, "calc:%s.battery_ah", id), figure.Arg("", 0.8, "cite:common-practice#battery-at-the-end-of-its-life"),
			figure.Arg("", power, "calc:%s.power", id), figure.Arg("", float64(u.Voltage), "hardware:%s.voltage_v", u.Code),
			figure.Arg("", 100, "cite:common-practice#battery-at-output"), figure.Arg("", 1.1, "cite:common-practice#peukert"))
	}
	if u.ShortCurrent > 0 {
		w.book.Eval(id+".short", count.Short, units, figure.Arg("", float64(u.ShortCurrent), "hardware:%s.short_current_a", u.Code))
	}
	if u.HoldUp > 0 {
		w.book.Eval(id+".hold_up", count.HoldUp, figure.Arg("", float64(u.HoldUp)*1000, "hardware:%s.hold_up_ms", u.Code), units,
			figure.Arg("", u.Output.Milliamps(), "hardware:%s.output_ma", u.Code), figure.Arg("", w.value(id+".load"), "calc:%s.load", id))
	}
}

// unit returns the first supply unit that feeds a DC group: of its class and voltage.
func (w work) unit(st *design.Station, class string, volts q.Voltage) *design.Supply {
	for i := range w.v.Design.Supplies {
		s := &w.v.Design.Supplies[i]
		if u, ok := w.v.List.Supply(s.Type); ok && s.Station == st.ID && s.Class == class && u.Voltage > volts-6 && u.Voltage < volts+6 {
			return s
		}
	}
	return nil
}

// coordinate leaves the ampacity of conductors behind a device, and its conventional trip current
// against what they bear. subject is "group:ID" or "feeder:ID".
func (w work) coordinate(subject string, area q.CrossSection, l conductor.Laying, ambient string, d *hardware.Protection, m figure.Multiples) (iz float64) {
	r, err := conductor.Rate(area, l)
	if err != nil {
		return 0
	}
	grouping := figure.Arg("", r.Grouping, "cite:%s", fmt.Sprintf("iec-60204-1#table-D.2-%s-%d-circuits", l.Method, max(1, l.Circuits)))
	factor := w.book.Eval(subject+".ambient_factor", conductor.FormulaAmbientFactor, figure.Arg("", float64(l.Ambient), "%s", ambient))
	iz = w.book.Eval(subject+".ampacity", conductor.FormulaAmpacity,
		figure.Arg("", float64(r.Base), "cite:%s", r.BaseSource), figure.Arg("", factor, "calc:%s.ambient_factor", subject),
		grouping, figure.Arg("", r.Multicore, "cite:iec-60204-1#table-D.3"))
	w.book.Eval(subject+".i2", protect.FormulaConventionalTrip, figure.Arg("", m.Conventional, "cite:%s", conventionalSource(d)), rated(d))
	w.book.Eval(subject+".i2_max", protect.FormulaOverloadLimit, figure.Arg("", iz, "calc:%s.ampacity", subject))
	return iz
}

func conventionalSource(d *hardware.Protection) string {
	switch d.Type {
	case "B", "C":
		return "iec-60898-1#conventional-1.45"
	case "Z":
		return "iec-60947-2#conventional-1.30"
	case "fuse":
		return "from-memory#iec-60127-2"
	}
	return "common-practice#electronic-protector"
}

func rated(d *hardware.Protection) formula.Arg {
	return figure.Arg("", float64(d.Rating.Current()), "hardware:%s.rating_ma", d.Code)
}

func (w work) feeders(st *design.Station) {
	for i := range w.v.Design.Feeders {
		f := &w.v.Design.Feeders[i]
		if f.Station == st.ID {
			w.feeder(st, f)
		}
	}
}

// deviceOf is the protective device of a subject: "group:ID" or "feeder:ID".
func (w work) deviceOf(subject string) (*hardware.Protection, bool) {
	for i := range w.v.Design.Protections {
		if p := &w.v.Design.Protections[i]; p.Protects == subject {
			return w.v.List.Protection(p.Type)
		}
	}
	return nil, false
}

func (w work) feeder(st *design.Station, f *design.Feeder) {
	id := "feeder:" + f.ID
	cable := w.cable(f.Cable)
	d, ok := w.deviceOf(id)
	if cable == nil || !ok {
		return
	}
	inrush := w.inrush(f)
	if len(inrush) > 0 {
		f.InrushA = w.book.Eval(id+".inrush", supply.FormulaLoad, inrush...)
	}
	t, known := w.v.List.Cable(cable.Type)
	m, edges := figure.MultiplesOf(d, false)
	if !known || !edges {
		return
	}
	f.TripA = w.book.Eval(id+".trip", protect.FormulaTripCurrent, figure.Arg("", m.Trips, "cite:%s", m.Source), rated(d))
	w.book.Eval(id+".holds", protect.FormulaHoldCurrent, figure.Arg("", m.Holds, "cite:%s", m.Source), rated(d))
	basis := &w.v.Project.Basis
	ambient, _, from, _ := w.v.Ambient(st.Place)
	l := conductor.Laying{Method: conductor.Method(basis.Feeder.Method), Ambient: q.Temperature(ambient), Circuits: basis.Feeder.Together}
	f.AmpacityA = w.coordinate(id, t.Area, l, from, d, m)
	r, hot, ok := figure.Hot(w.book, t.Area, t.Class)
	if !ok || !w.has("cable:"+cable.ID+".laid") {
		return
	}
	nominal := figure.Arg("", float64(w.v.Project.Power.FeederVoltage), "project:power.feeder_voltage_v")
	length := figure.Arg("", w.value("cable:"+cable.ID+".laid"), "calc:cable:%s.laid", cable.ID)
	at := w.book.Eval(id+".at_load", voltdrop.FormulaAtLoad, nominal, length, figure.Arg("", r, "%s", hot), figure.Arg("", f.CurrentA, "calc:%s.current", id))
	w.book.Eval(id+".drop_percent", voltdrop.FormulaPercent, nominal, figure.Arg("", at, "calc:%s.at_load", id))
	low := w.mains("low", float64(w.v.Project.Power.FeederVoltage), "project:power.feeder_voltage_v")
	f.FaultMinA = w.book.Eval(id+".fault_min", protect.FormulaFault, low, figure.Arg("", float64(basis.Feeder.BoardLoop), "project:basis.feeder.board_loop_ohm"),
		length, figure.Arg("", r, "%s", hot))
	w.survives(id, m)
}

func (w work) cable(id string) *design.Cable {
	for i := range w.v.Design.Cables {
		if c := &w.v.Design.Cables[i]; c.ID == id {
			return c
		}
	}
	return nil
}

// inrush lists the inrush currents of the supply units behind a feeder.
func (w work) inrush(f *design.Feeder) []formula.Arg {
	var out []formula.Arg
	for i := range w.v.Design.Supplies {
		s := &w.v.Design.Supplies[i]
		if u, ok := w.v.List.Supply(s.Type); ok && s.Feeder == f.ID && u.Inrush > 0 {
			out = append(out, figure.Arg(s.ID, float64(u.Inrush), "hardware:%s.inrush_a", u.Code))
		}
	}
	return out
}

// mains leaves the highest or lowest voltage of the mains and returns it as an argument.
func (w work) mains(edge string, nominal float64, from string) formula.Arg {
	c := &w.v.Project.Basis.Circuit
	id := fmt.Sprintf("mains:%s.%s", q.Short(nominal), edge)
	f, tolerance := count.MainsLow, figure.Arg("", float64(c.MainsLow)/10, "project:basis.circuit.mains_low_percent")
	if edge == "high" {
		f, tolerance = count.MainsHigh, figure.Arg("", float64(c.MainsHigh)/10, "project:basis.circuit.mains_high_percent")
	}
	u := figure.Eval(w.book, id, f, figure.Arg("", nominal, "%s", from), tolerance)
	return figure.Arg("", u, "calc:%s", id)
}
