package checker

import (
	"fmt"
	"math"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// copper is the largest resistance of one core at 20 degC in ohm/km: for solid or stranded
// conductors (classes 1 and 2) and for flexible ones (5 and 6), plain copper.
//
// Source: IEC 60228:2004 tables 1 to 3; sizes below 0.5 mm2 a print of DIN VDE 0295; above
// 35 mm2 from memory. Typed in from the reference tables, not taken from the planner's.
var copper = map[float64][2]float64{
	0.14: {0, 134}, 0.22: {0, 96}, 0.25: {0, 76}, 0.34: {0, 53},
	0.5: {36.0, 39.0}, 0.75: {24.5, 26.0}, 1: {18.1, 19.5}, 1.5: {12.1, 13.3}, 2.5: {7.41, 7.98},
	4: {4.61, 4.95}, 6: {3.08, 3.30}, 10: {1.83, 1.91}, 16: {1.15, 1.21}, 25: {0.727, 0.780},
	35: {0.524, 0.554}, 50: {0.387, 0.386}, 70: {0.268, 0.272}, 95: {0.193, 0.206}, 120: {0.153, 0.161},
}

// hotOhmPerMetre is the resistance of one core at 70 degC.
//
// Source: IEC 60287-1-1 table 1, temperature coefficient of annealed copper 0.00393/K.
func hotOhmPerMetre(area float64, class int) float64 {
	row := copper[area]
	r := row[1]
	if class == 1 || class == 2 {
		r = row[0]
	}
	if r == 0 && area > 0 {
		r = offTable(area, class)
	}
	return r / 1000 * (1 + 0.00393*(70-20))
}

// offTable is the largest resistance at 20 degC in ohm/km of an area that is no row (section 10): of the
// wire gauge within 2 % and 2 % more, else 13 % (classes 1, 2) or 16 % more than solid copper.
//
// Source: ASTM B258 (gauge n is 0.005 inch x 92^((36-n)/39) thick), from 4/0 to 40; 17.241 ohm mm2/km IEC 60028.
func offTable(area float64, class int) float64 {
	for n := -3; n <= 40; n++ {
		inch := 0.005 * math.Exp(float64(36-n)*math.Log(92)/39)
		if own := math.Pi * inch * inch * 25.4 * 25.4 / 4; math.Abs(area-own) <= 0.02*own {
			return 1.02 * 17.241 / own
		}
	}
	if class == 1 || class == 2 {
		return 1.13 * 17.241 / area
	}
	return 1.16 * 17.241 / area
}

// infeedVoltage is the lowest voltage at the infeed point of a group with the load (uA).
func (r *run) infeedVoltage(volt string, area float64, load int64) float64 {
	source := float64(r.p.Power.SupplyMin)
	if volt == "48vdc" {
		source *= 2
	}
	return source - 2*r.p.Basis.Supply.InfeedLen.Metres()*hotOhmPerMetre(area, 5)*float64(load)/1e6
}

// needsVoltage: a DC load, or a sensor fed over the cable, with a stated minimum.
func (x *signal) needsVoltage() bool {
	return x.MinVoltage.Set && x.MinVoltage.Value > 0 && isDC(x.volt) && x.current > 0 && (x.Kind != project.AI || x.wires == 3)
}

// drop is what the signal's current loses on both cores of its cable.
func (x *signal) drop(c *hardware.Cable, laid int64) float64 {
	return 2 * float64(laid) / 1000 * hotOhmPerMetre(float64(c.Area), c.Class) * float64(x.current) / 1e6
}

// keeps reports whether every load of the bundle keeps its voltage on the cable while its group
// carries the most that the basis allows. A hair below counts as kept: the last digit is rounding.
func (r *run) keeps(list []*signal, c *hardware.Cable, laid int64) bool {
	for _, x := range list {
		if !x.needsVoltage() {
			continue
		}
		at := r.infeedVoltage(x.volt, float64(r.p.Basis.Supply.InfeedArea), int64(r.p.Basis.Group.MaxCurrent))
		if at-x.drop(c, laid) < float64(x.MinVoltage.Value)-1e-6 {
			return false
		}
	}
	return true
}

// atLoad is the lowest voltage at a placed signal's device; false if the rules give none.
func (r *run) atLoad(x *signal, c *hardware.Cable, laid int64) (float64, bool) {
	if !x.needsVoltage() || len(r.at[x.ID]) == 0 {
		return 0, false
	}
	at := r.at[x.ID][0]
	for _, g := range at.st.groups {
		if g.ID == at.sl.Group {
			lost := 0.0
			if x.Kind == project.DO {
				lost = float64(at.ch.set.Drop)
			}
			return g.VoltageMinV - lost - x.drop(c, laid), true
		}
	}
	return 0, false
}

// voltageLaw: the voltage at each load is at least its minimum, or an error finding says so.
func voltageLaw(r *run) {
	for i := range r.d.Cables {
		c := &r.d.Cables[i]
		typ := r.parts.cable[c.Type]
		if c.Use != "field" || typ == nil {
			continue
		}
		for _, id := range c.Signals {
			x := r.sig[id]
			if x == nil {
				continue
			}
			if v, ok := r.atLoad(x, typ, mm(c.LengthM)); ok && v < float64(x.MinVoltage.Value)-1e-6 && !r.excused("signal:"+id, "cable:"+c.ID) {
				r.bad("VOLT", "signal:"+id, fmt.Sprintf("%v V at the load, or an error finding", float64(x.MinVoltage.Value)), "%.3f V", v)
			}
		}
	}
}
