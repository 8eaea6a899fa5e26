package intake

import (
	"fmt"
	"math"
	"strings"

	"railwright/internal/project"
)

// factors of units of one quantity, to the canonical column's unit.
var factors = map[string]map[string]float64{
	"current_ma": {"mA": 1, "A": 1000, "uA": 0.001}, "inrush_ma": {"mA": 1, "A": 1000}, "leakage_ma": {"mA": 1, "A": 1000, "uA": 0.001}, "ii_ma": {"mA": 1, "A": 1000},
	"voltage_v": {"V": 1, "mV": 0.001, "kV": 1000}, "min_voltage_v": {"V": 1, "mV": 0.001}, "ui_v": {"V": 1},
	"load_ohm": {"ohm": 1, "kohm": 1000}, "frequency_hz": {"Hz": 1, "kHz": 1000, "rpm": 1.0 / 60, "Imp": 1}, "response_ms": {"ms": 1, "s": 1000, "min": 60_000},
	"rating": {"W": 1, "kW": 1000, "VA": 1, "kVA": 1000, "MW": 1e6},
	"pi_mw":  {"mW": 1, "W": 1000}, "ci_nf": {"nF": 1, "uF": 1000, "pF": 0.001}, "li_mh": {"mH": 1, "uH": 0.001, "H": 1000},
}

// quantityColumn reads a column of one physical quantity, converting its unit.
func (rec *record) quantityColumn(d *draft, column string) (float64, bool) {
	i := -1
	for _, at := range rec.by[role(column)] {
		if rec.texts[at] != "" {
			i = at
			break
		}
	}
	if i < 0 {
		return 0, false
	}
	text := rec.texts[i]
	if o := rec.r.cachedTraits(text); column == "current_ma" && (o.form == "4-20ma" || o.form == "0-20ma") {
		return 0, false // "4-20 mA" in a column of currents is the form
	}
	v := rec.numeric(d, i, column)
	if !v.ok {
		return 0, false
	}
	unit := v.unit
	if unit == "" {
		unit = rec.t.columns[i].unit
	}
	f := 1.0
	if unit != "" {
		u, _ := parseUnit(trimDC(unit))
		k, ok := factors[column][u]
		if !ok {
			k, ok = factors[column][unit]
		}
		if !ok {
			rec.doubt(d, i, "IMP-032", fmt.Sprintf("%s is in %s, which does not suit the column; it is kept as a remark", column, quoted(unit)), "Write the value in the column's unit.")
			d.remark(strings.TrimSpace(column + " " + text + " " + rec.t.columns[i].unit))
			return 0, false
		}
		f = k
	}
	value := roundTo(v.value*f, 12)
	d.set(column, short(value), rec.t.columns[i].index)
	return value, true
}

// roundTo takes off the noise of a conversion: 12 significant digits.
func roundTo(v float64, digits int) float64 {
	if v == 0 || math.IsInf(v, 0) {
		return v
	}
	p := math.Pow(10, float64(digits)-math.Ceil(math.Log10(math.Abs(v))))
	return math.Round(v*p) / p
}

// loads reads voltages and currents of contacts, sensors and loads.
func (rec *record) loads(d *draft, kind project.Kind, tr *traits) {
	for _, c := range []string{"inrush_ma", "load_ohm", "min_voltage_v", "leakage_ma", "frequency_hz", "response_ms"} {
		if c == "inrush_ma" && kind != project.DO || c == "load_ohm" && !kind.Analogue() || c == "frequency_hz" && kind != project.CNT && kind != project.DI {
			continue
		}
		rec.quantityColumn(d, c)
	}
	rec.quantityColumn(d, "current_ma")
	col := kindColumn(rec)
	if i := firstOfRoles(rec, roleElectrical, "voltage_v", "form"); i >= 0 {
		col = rec.t.columns[i].index
	}
	if kind == project.DI || kind == project.DO || kind == project.CNT {
		if tr.voltage > 0 && voltageFits(kind, d.get("form"), tr.voltage) {
			d.fill("voltage_v", short(tr.voltage), col)
		} else if tr.voltage > 0 {
			d.remark(fmt.Sprintf("%s V", short(tr.voltage)))
		}
		if tr.current > 0 {
			d.fill("current_ma", short(tr.current), col)
		}
	}
	rec.rating(d, kind, tr, col)
}

// voltageFits keeps a voltage from contradicting the form.
func voltageFits(kind project.Kind, form string, v float64) bool {
	switch form {
	case "120vac":
		return v >= 100 && v <= 130
	case "230vac":
		return v >= 200 && v <= 250
	case "24v":
		return v >= 18 && v <= 32 || kind == project.DO && v >= 40 && v <= 60
	case "namur", "pulse-namur":
		return false
	case "":
		if kind == project.DO {
			return v >= 18 && v <= 32 || v >= 40 && v <= 60
		}
	}
	return true
}

// rating turns a load's power into its current where the voltage is known.
func (rec *record) rating(d *draft, kind project.Kind, tr *traits, col int) {
	power := tr.power
	if t, i := rec.get(roleRating); i >= 0 && !isPlaceholder(t) {
		if o := rec.r.cachedTraits(t); o.current > 0 && kind == project.DO {
			d.fill("current_ma", short(o.current), rec.t.columns[i].index)
			return
		}
		v, ok := rangeOrValue(t, rec.r.style)
		unit := v.unit
		if unit == "" {
			unit = rec.t.columns[i].unit
		}
		u, _ := parseUnit(unit)
		if ok && v.single && (u == "W" || u == "VA" || u == "kW" && v.high < 1) && kind == project.DO {
			if power = v.high; u == "kW" {
				power *= 1000
			}
			col = rec.t.columns[i].index
		} else {
			d.remark(strings.TrimSpace("rating " + t + " " + rec.t.columns[i].unit))
			return
		}
	}
	if power <= 0 || kind != project.DO || d.get("current_ma") != "" {
		return
	}
	volts := tr.voltage
	if volts == 0 && (d.get("form") == "" || d.get("form") == "24v") {
		volts = 24
	}
	if volts == 0 {
		d.remark(short(power) + " W")
		return
	}
	ma := math.Round(power / volts * 1000)
	d.set("current_ma", short(ma), col)
	i := firstOfRoles(rec, roleRating, roleElectrical, "form", "tag")
	rec.say(d, i, "IMP-037", 0.85, "%s W at %s V draw %s mA", short(power), short(volts), short(ma))
}
