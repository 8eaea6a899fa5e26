package plan

import (
	"fmt"

	"railwright/internal/calc/count"
	"railwright/internal/design"
	"railwright/internal/fit"
	"railwright/internal/formula"
	"railwright/internal/packing"
	"railwright/internal/power"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// arg is a formula's argument with its origin.
func arg(name string, v float64, from string, parts ...any) formula.Arg {
	return formula.Arg{Name: name, Value: v, From: fmt.Sprintf(from, parts...)}
}

// explainStation leaves the working of a station's rail, logic, bytes and groups.
func (pr *problem) explainStation(b *built, s *design.Station, book *formula.Book) {
	p := b.packed
	id := "station:" + s.ID
	logic := []formula.Arg{}
	in := []formula.Arg{arg("header", float64(p.Coupler.HeaderIn), "hardware:%s.header_in_bytes", s.Coupler)}
	out := []formula.Arg{arg("header", float64(p.Coupler.HeaderOut), "hardware:%s.header_out_bytes", s.Coupler)}
	rail := []formula.Arg{arg("coupler", float64(p.Coupler.Width), "hardware:%s.width_mm", s.Coupler)}
	for i := range p.Slots {
		sl := &p.Slots[i]
		name := fmt.Sprintf("slot %d", i+1)
		code, width := sl.Module.Code, sl.Module.Width
		if sl.Base != nil && sl.Base.Width > width {
			code, width = sl.Base.Code, sl.Base.Width
		}
		rail = append(rail, arg(name, float64(width), "hardware:%s.width_mm", code))
		logic = append(logic, arg(name, sl.Module.Logic.Milliamps(), "hardware:%s.logic_ma", sl.Module.Code))
		in = append(in, arg(name, float64(sl.Module.In), "hardware:%s.in_bytes", sl.Module.Code))
		out = append(out, arg(name, float64(sl.Module.Out), "hardware:%s.out_bytes", sl.Module.Code))
	}
	if s.EndPiece != "" {
		if e, ok := pr.g.list.Part(s.EndPiece); ok {
			rail = append(rail, arg("end piece", float64(e.Width), "hardware:%s.width_mm", s.EndPiece))
		}
	}
	book.Eval(id+".logic", count.Currents, logic...)
	book.Eval(id+".input_bytes", count.Bytes, in...)
	book.Eval(id+".output_bytes", count.Bytes, out...)
	book.Eval(id+".rail", count.Widths, rail...)
	for i := range p.Groups {
		pr.explainGroup(b, i, book)
	}
}

// explainGroup leaves the working of a group's load.
func (pr *problem) explainGroup(b *built, i int, book *formula.Book) {
	gid := groupID(b.id, i)
	var loads []formula.Arg
	for n := range b.packed.Slots {
		sl := &b.packed.Slots[n]
		if sl.Group != i {
			continue
		}
		loads = append(loads, arg(fmt.Sprintf("slot %d", n+1), sl.Module.Supply.Milliamps(), "hardware:%s.supply_ma", sl.Module.Code))
		for _, c := range sl.Used {
			loads = append(loads, pr.explainLoad(sl, c)...)
		}
	}
	book.Eval("group:"+gid+".load", count.Currents, loads...)
}

// explainLoad leaves what one signal draws, in the parts that add up to fit.Load.
func (pr *problem) explainLoad(sl *packing.Slot, c packing.Channel) []formula.Arg {
	s := &pr.book.Signals[c.Signal]
	set := &sl.Module.Channels[c.Set]
	load := fit.Load(s, &pr.g.p.Basis, set)
	current := fit.SignalCurrent(s, &pr.g.p.Basis)
	from := "signal:" + s.ID + ".current_ma"
	if !s.Current.Set {
		from = fmt.Sprintf("project:basis.current_ma.%s %s", s.Kind, s.Form)
	}
	input := arg(s.Tag+" input", set.Input.Milliamps(), "hardware:%s.input_ma", sl.Module.Code)
	own := arg(s.Tag, current.Milliamps(), "%s", from)
	switch load {
	case 0:
		return nil
	case set.Input:
		return []formula.Arg{input}
	case current:
		return []formula.Arg{own}
	case current + set.Input:
		return []formula.Arg{own, input}
	}
	return []formula.Arg{arg(s.Tag, load.Milliamps(), "%s", from)}
}

// explainCable leaves the working of a cable's laid and ordered length.
func (pr *problem) explainCable(book *formula.Book, c design.Cable, from, to string, way q.Millimetres, allow string) {
	id := "cable:" + c.ID
	route := arg("", way.Metres(), "project:place.%s.local_m", from)
	if from != to {
		var parts []formula.Arg
		for _, r := range c.Route {
			parts = append(parts, arg(r, pr.g.routeLength(r), "project:route.%s.length_m", r))
		}
		book.Eval(id+".route", count.Lengths, parts...)
		route = arg("", way.Metres(), "calc:%s.route", id)
	} else if pr.g.places[from].Local == 0 {
		route.From = "project:basis.cable.local_m"
	}
	basis := &pr.g.p.Basis.Cable
	first := basis.AllowStation
	if allow == "allow_device_m" {
		first = basis.AllowDevice
	}
	laid := book.Eval(id+".laid", count.Laid, route, arg("", first.Metres(), "project:basis.cable.%s", allow),
		arg("", basis.AllowStation.Metres(), "project:basis.cable.allow_station_m"))
	book.Eval(id+".ordered", count.Ordered, arg("", laid, "calc:%s.laid", id), arg("", float64(basis.Waste)/10, "project:basis.cable.waste_percent"))
}

func (g *ground) routeLength(id string) float64 {
	for i := range g.p.Routes {
		if g.p.Routes[i].ID == id {
			return g.p.Routes[i].Length.Metres()
		}
	}
	return 0
}

// explainSupply leaves the working of what the supply units of a feed must give and can give.
func (pr *problem) explainSupply(b *built, pick tariff.SupplyPick, id string, book *formula.Book) {
	basis := &pr.g.p.Basis.Supply
	coupler, station := b.packed.Coupler, "station:"+b.id
	var loads []formula.Arg
	if pick.Kind == fit.V24 {
		logic := evalOnce(book, station+".logic_at_supply", count.LogicAtSupply,
			arg("", b.packed.Logic.Milliamps(), "calc:%s.logic", station), arg("", float64(coupler.LogicFactor)/1000, "hardware:%s.logic_factor", coupler.Code))
		loads = append(loads, arg("coupler", coupler.Supply.Milliamps(), "hardware:%s.supply_ma", coupler.Code), arg("logic", logic, "calc:%s.logic_at_supply", station))
	}
	for i := range b.packed.Groups {
		g := &b.packed.Groups[i]
		if g.Key.Voltage == pick.Kind && feedOf(g) == pick.Class {
			loads = append(loads, arg(fmt.Sprintf("group %d", i+1), g.Load.Milliamps(), "calc:group:%s.load", groupID(b.id, i)))
		}
	}
	load := book.Eval("supply:"+id+".load", count.Currents, loads...)
	need := book.Eval("supply:"+id+".need", count.Need, arg("", load, "calc:supply:%s.load", id),
		arg("", float64(basis.Coincidence)/10, "project:basis.supply.coincidence_percent"), arg("", float64(basis.Margin)/10, "project:basis.supply.margin_percent"))
	ambient := "project:basis.ambient_max_c"
	if b.site.place.AmbientMax.Set {
		ambient = "project:place." + b.site.place.ID + ".ambient_max_c"
	}
	u := pick.Unit
	each := book.Eval("supply:"+id+".output", count.Derated,
		arg("", u.Output.Milliamps(), "hardware:%s.output_ma", u.Code), arg("", float64(u.DeratePerK)/10, "hardware:%s.derate_percent_per_k", u.Code),
		arg("", float64(b.site.prices.Site.Ambient), "%s", ambient), arg("", float64(u.DerateFrom), "hardware:%s.derate_from_c", u.Code))
	units := book.Eval("supply:"+id+".units", count.Units, arg("", need, "calc:supply:%s.need", id), arg("", each, "calc:supply:%s.output", id))
	if pick.Spare > 0 {
		book.Eval("supply:"+id+".installed", count.Installed, arg("", units, "calc:supply:%s.units", id), arg("", float64(pick.Spare), "project:basis.supply.spare_units"))
	}
}

// explainFeeder leaves the working of a feeder's current: its supply units at full output, and the
// mains groups that it feeds.
func (pr *problem) explainFeeder(b *built, class, id string, book *formula.Book) {
	volts := float64(pr.g.p.Power.FeederVoltage)
	var parts []formula.Arg
	unit := 1 // number of the feed's first unit
	for _, pick := range b.packed.Supplies {
		first := fmt.Sprintf("%s-U%d", b.id, unit)
		unit += pick.Count
		if pick.Class != class {
			continue
		}
		cid, units := fmt.Sprintf("feeder:%s.%s", id, pick.Unit.Code), "units"
		if pick.Spare > 0 {
			units = "installed"
		}
		book.Eval(cid, count.FeederCurrent,
			arg("", float64(pick.Count), "calc:supply:%s.%s", first, units), arg("", pick.Unit.Output.Milliamps(), "hardware:%s.output_ma", pick.Unit.Code), arg("", float64(pick.Unit.Voltage), "hardware:%s.voltage_v", pick.Unit.Code),
			arg("", float64(pick.Unit.Efficiency)/10, "hardware:%s.efficiency_percent", pick.Unit.Code), arg("", volts, "project:power.feeder_voltage_v"))
		in := power.InputCurrent(pick.Unit, pr.g.p.Power.FeederVoltage) * q.Microamps(pick.Count)
		parts = append(parts, arg(pick.Unit.Code, in.Milliamps(), "calc:%s", cid))
	}
	for i := range b.packed.Groups {
		if g := &b.packed.Groups[i]; !fit.DC(g.Key.Voltage) && feedOf(g) == class {
			parts = append(parts, arg("group "+decimal(i+1), g.Load.Milliamps(), "calc:group:%s.load", groupID(b.id, i)))
		}
	}
	book.Eval("feeder:"+id+".current", count.Currents, parts...)
}

// evalOnce evaluates a formula that several figures of a station lean on, or returns its record.
func evalOnce(book *formula.Book, id string, f *formula.Formula, args ...formula.Arg) float64 {
	if r, ok := book.Lookup(id); ok {
		return r.Result.Value
	}
	return book.Eval(id, f, args...)
}
