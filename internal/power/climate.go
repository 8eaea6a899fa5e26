package power

import (
	"railwright/internal/calc/count"
	"railwright/internal/calc/heat"
	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/formula"
	"railwright/internal/hardware"
)

// climate leaves the losses in a station's enclosure and the temperatures inside.
func (w work) climate(st *design.Station) {
	id := "station:" + st.ID
	coupler, ok := w.v.List.Coupler(st.Coupler)
	e, ok2 := w.v.List.Enclosure(st.Enclosure)
	if !ok {
		return
	}
	st.HeatW = w.book.Eval(id+".heat", count.Heat, w.losses(st, coupler)...)
	if !ok2 {
		return
	}
	rear, left, right, top, err := heat.Factors(heat.Mounting(w.v.Project.Basis.Climate.Mounting))
	if err != nil {
		return
	}
	face := func(f float64, name string) formula.Arg {
		return figure.Arg("", f, "cite:iec-tr-60890#table-3-%s", name)
	}
	height := figure.Arg("", e.Height.Metres(), "hardware:%s.height_mm", e.Code)
	width := figure.Arg("", e.Width.Metres(), "hardware:%s.width_mm", e.Code)
	area := w.book.Eval(id+".surface", heat.FormulaSurface, height, width, figure.Arg("", e.Depth.Metres(), "hardware:%s.depth_mm", e.Code),
		face(rear, "rear"), face(left, "left"), face(right, "right"), face(top, "top"))
	surface := figure.Arg("", area, "calc:%s.surface", id)
	k := figure.Arg("", w.v.Project.Basis.Climate.K, "project:basis.climate.k_w_per_m2k")
	high, _, highFrom, _ := w.v.Ambient(st.Place)
	ambient := figure.Arg("", high, "%s", highFrom)
	st.InsideMaxC = w.book.Eval(id+".inside_max", heat.FormulaInside, ambient, figure.Arg("", st.HeatW, "calc:%s.heat", id), k, surface)
	w.limit(st, coupler)
	p := w.v.Places[st.Place]
	if p != nil && p.Outdoor {
		w.sun(st, height, width, ambient, k, surface)
	}
	w.cold(st, coupler, p != nil && p.Outdoor, k, surface)
	w.derated(st)
}

// losses lists what gives off heat in the enclosure with all loads on.
func (w work) losses(st *design.Station, coupler *hardware.Coupler) []formula.Arg {
	out := []formula.Arg{figure.Arg("coupler", float64(coupler.Heat)/1000, "hardware:%s.heat_w", coupler.Code)}
	for _, sl := range st.Slots {
		if m, ok := w.v.List.Module(sl.Module); ok {
			out = append(out, figure.Arg("slot "+decimal(sl.Slot), float64(m.Heat)/1000, "hardware:%s.heat_w", m.Code))
		}
	}
	for _, g := range st.SupplyGroups {
		if d, ok := w.v.List.Protection(g.Protection); ok {
			out = append(out, figure.Arg("protection of group "+decimal(g.Group), float64(d.Heat)/1000, "hardware:%s.heat_w", d.Code))
		}
	}
	for _, s := range w.v.Design.Supplies {
		if loss := "supply:" + s.ID + ".loss"; s.Station == st.ID && w.has(loss) {
			out = append(out, figure.Arg("supply "+s.ID, w.value(loss), "calc:%s", loss))
		}
	}
	return out
}

// limit leaves the highest temperature that the most delicate part inside allows at the site's altitude.
func (w work) limit(st *design.Station, coupler *hardware.Coupler) {
	code, key, t := coupler.Code, "ambient_max_c", float64(coupler.AmbientMax)
	for _, sl := range st.Slots {
		if m, ok := w.v.List.Module(sl.Module); ok && float64(m.AmbientMax) < t {
			code, t = m.Code, float64(m.AmbientMax)
		}
	}
	for _, s := range w.v.Design.Supplies {
		if u, ok := w.v.List.Supply(s.Type); ok && s.Station == st.ID && float64(u.AmbientMax) < t {
			code, t = u.Code, float64(u.AmbientMax)
		}
	}
	w.book.Eval("station:"+st.ID+".inside_limit", heat.FormulaAltitudeLimit, figure.Arg("", t, "hardware:%s.%s", code, key),
		figure.Arg("", float64(w.v.Project.Basis.Altitude), "project:basis.altitude_m"))
}

// sun leaves the inside of an outdoor enclosure on which the sun shines.
func (w work) sun(st *design.Station, height, width, ambient, k, surface formula.Arg) {
	id := "station:" + st.ID
	c := &w.v.Project.Basis.Climate
	front := w.book.Eval(id+".front", count.Face, height, width)
	gain := w.book.Eval(id+".sun", heat.FormulaSolarGain, figure.Arg("", float64(c.Inward)/1000, "project:basis.climate.inward_percent"),
		figure.Arg("", 1, "cite:common-practice#colour-in-share-inwards"), figure.Arg("", c.Sun, "project:basis.climate.sun_w_per_m2"), figure.Arg("", front, "calc:%s.front", id))
	sum := w.book.Eval(id+".heat_in_sun", count.Heat, figure.Arg("losses", st.HeatW, "calc:%s.heat", id), figure.Arg("sun", gain, "calc:%s.sun", id))
	w.book.Eval(id+".inside_in_sun", heat.FormulaInside, ambient, figure.Arg("", sum, "calc:%s.heat_in_sun", id), k, surface)
}

// cold leaves the coldest inside and the heater that it needs: the modules idle, outdoors in the wind.
// Only outdoor enclosures are asked to stay dry; indoors the air is taken to be.
func (w work) cold(st *design.Station, coupler *hardware.Coupler, outdoor bool, k, surface formula.Arg) {
	id := "station:" + st.ID
	_, low, _, lowFrom := w.v.Ambient(st.Place)
	ambient := figure.Arg("", low, "%s", lowFrom)
	idle := figure.Arg("", float64(coupler.Heat)/1000, "hardware:%s.heat_w", coupler.Code)
	if outdoor {
		windy := figure.Eval(w.book, "climate.k_outdoors", count.WindyK, k)
		k = figure.Arg("", windy, "calc:climate.k_outdoors")
	}
	st.InsideMinC = w.book.Eval(id+".inside_min", heat.FormulaInside, ambient, idle, k, surface)
	wanted := w.coldest(st, coupler)
	if c := &w.v.Project.Basis.Climate; outdoor && low >= -45 && c.Humidity > 0 && c.Dry > 0 {
		dry := w.book.Eval(id+".dry", heat.FormulaAgainstCondensation, ambient, figure.Arg("", float64(c.Humidity)/10, "project:basis.climate.humidity_percent"),
			figure.Arg("", float64(c.Dry)/10, "project:basis.climate.dry_percent"))
		if dry > wanted.Value {
			wanted = figure.Arg("", dry, "calc:%s.dry", id)
		}
	}
	st.HeaterW = w.book.Eval(id+".heater", heat.FormulaHeater, k, surface, wanted, ambient, idle)
}

// coldest is the lowest temperature that every part inside allows.
func (w work) coldest(st *design.Station, coupler *hardware.Coupler) formula.Arg {
	code, t := coupler.Code, float64(coupler.AmbientMin)
	for _, sl := range st.Slots {
		if m, ok := w.v.List.Module(sl.Module); ok && float64(m.AmbientMin) > t {
			code, t = m.Code, float64(m.AmbientMin)
		}
	}
	return figure.Arg("", t, "hardware:%s.ambient_min_c", code)
}

// derated leaves what the supply units give in the air inside.
func (w work) derated(st *design.Station) {
	inside := figure.Arg("", st.InsideMaxC, "calc:station:%s.inside_max", st.ID)
	for _, s := range w.v.Design.Supplies {
		u, ok := w.v.List.Supply(s.Type)
		if id := "supply:" + s.ID; ok && s.Station == st.ID && w.has(id+".units") {
			w.book.Eval(id+".output_inside", count.Derated, figure.Arg("", u.Output.Milliamps(), "hardware:%s.output_ma", u.Code),
				figure.Arg("", float64(u.DeratePerK)/10, "hardware:%s.derate_percent_per_k", u.Code), inside, figure.Arg("", float64(u.DerateFrom), "hardware:%s.derate_from_c", u.Code))
		}
	}
}
