package intake

import (
	"fmt"
	"strings"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// exData reads the Ex columns.
func (rec *record) exData(d *draft, tr *traits) {
	col := kindColumn(rec)
	if _, i := rec.get(roleEx); i >= 0 {
		col = rec.t.columns[i].index
	}
	if t, i := rec.get("ex_level"); i >= 0 {
		if o := rec.r.cachedTraits("Ex " + t); o.exLevel != "" {
			d.set("ex_level", o.exLevel, rec.t.columns[i].index)
		}
	}
	if t, i := rec.get("ex_zone"); i >= 0 && !isPlaceholder(t) {
		if o := rec.r.cachedTraits("zone " + strings.TrimPrefix(strings.ToLower(t), "zone ")); o.exZone != "" {
			d.set("ex_zone", o.exZone, rec.t.columns[i].index)
		}
	}
	if t, i := rec.get("ex_gas"); i >= 0 && !isPlaceholder(t) {
		if o := rec.r.cachedTraits("Ex " + t); o.exGas != "" {
			d.set("ex_gas", o.exGas, rec.t.columns[i].index)
		}
	}
	d.fill("ex_level", tr.exLevel, col)
	d.fill("ex_zone", tr.exZone, col)
	d.fill("ex_gas", tr.exGas, col)
	for _, i := range rec.by[roleEx] {
		t := rec.texts[i]
		if t == "" || isPlaceholder(t) || isNo(t) {
			continue
		}
		switch f := fold(t); {
		case reZones.MatchString(t):
			rec.r.assume("IMP-024", rec.where(i), 0.6, "%s names several zones and is kept as a remark", quoted(t))
			d.remark("Ex: " + t)
		case tr.exLevel != "":
		case f == "is" || f == "i s" || hasAny(f, wIS), isYes(t) && inList(fold(rec.t.columns[i].heading), wISHeads):
			rec.doubt(d, i, "IMP-033", fmt.Sprintf("%s says intrinsically safe, but not the level (ia, ib, ic)", quoted(t)), "A competent person states ex_level.")
			d.hold("Ex level to be stated by a competent person: " + t)
		case !hasAny(f, wNotEx) && d.get("ex_zone") == "":
			d.remark("Ex: " + t)
		}
	}
	for _, c := range []string{"ui_v", "ii_ma", "pi_mw", "ci_nf", "li_mh"} {
		rec.quantityColumn(d, c)
	}
}

// safeState reads the state of an output on failure.
func (rec *record) safeState(d *draft, kind project.Kind) {
	t, i := rec.get("safe_state")
	if i < 0 || isPlaceholder(t) {
		return
	}
	col := rec.t.columns[i].index
	f := fold(t)
	if !kind.Output() {
		d.remark("safe state " + t)
		return
	}
	switch {
	case hasAny(f, wFreeze):
		d.set("safe_state", "hold", col)
	case kind == project.DO && (f == "0" || f == "off" || hasAny(f, wOff)):
		d.set("safe_state", "0", col)
	case kind == project.DO && (f == "1" || f == "on" || hasAny(f, wOn)):
		d.set("safe_state", "1", col)
	case kind == project.AO:
		v, ok := rangeOrValue(t, rec.r.style)
		u, _ := parseUnit(v.unit)
		if ok && v.single && (v.unit == "" || u == d.get("unit")) {
			d.set("safe_state", short(v.high), col)
			return
		}
		fallthrough
	default:
		rec.r.assume("IMP-024", rec.where(i), 0.6, "safe state %s is no state of the output itself and kept as a remark", quoted(t))
		d.remark("safe state " + t)
	}
}

func (r *reader) openHold(d *draft, at finding.Where, column, text string) {
	r.res.Findings = append(r.res.Findings, problem("IMP-033", finding.Warning, at, d.subject(), fmt.Sprintf("%s is %s: still to come; the signal is put on hold", column, quoted(text)), "Fill in the value, and clear the hold."))
	d.hold(column + " to be confirmed")
}

var (
	wISHeads = phrases("is, i s, is y/n, is (y/n), intrinsically safe, intrinsic safety, ex i, exi, eigensicher, is barrier, is required")
	wIS      = phrases("intrinsically safe, intrinsic safety, eigensicher, securite intrinseque, seguridad intrinseca, ex i, exi, eex i, yes is")
	wNotEx   = phrases("non is, nis, safe area, non ex, safe, non hazardous, nein, unclassified, non classe, no clasificada, general purpose, gp")
)

var (
	wFreeze = phrases("hold, hold last, hold last value, freeze, last value, stay put, fail last, letzter wert, halten, einfrieren, maintien, gel, mantener, ultimo valor, fl, as is, fail as is, stayput, hlv")
	wOff    = phrases("off, de energised, de energized, deenergised, deenergized, stromlos, aus, desactive, desexcite, hors tension, desenergizado, apagado, de energise, de energize")
	wOn     = phrases("on, energised, energized, ein, bestromt, excite, sous tension, energizado, encendido")
)
