package intake

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"railwright/internal/project"
)

// values concludes the kind and reads what belongs to it.
func (rec *record) values(d *draft, stated project.Kind, ev *evidence, tr traits) {
	rec.hints(d, ev, &tr, stated == "")
	kind := rec.conclude(d, stated, ev, &tr)
	if kind == "" {
		return
	}
	d.set("kind", string(kind), kindColumn(rec))
	rec.contradictions(d, kind, stated, ev, &tr)
	rec.form(d, kind, &tr)
	if d.noRange {
		// said of another signal
	} else if kind.Analogue() || kind == project.CNT {
		rec.ranges(d, &tr)
		rec.alarms(d)
	} else {
		rec.idleRange(d, &tr)
	}
	rec.loads(d, kind, &tr)
	rec.exData(d, &tr)
	rec.safeState(d, kind)
}

func kindColumn(rec *record) int {
	for _, ro := range []role{"kind", roleNature, roleDirection, "form", "tag", "description"} {
		if at := rec.by[ro]; len(at) > 0 {
			return rec.t.columns[at[0]].index
		}
	}
	return rec.t.columns[0].index
}

// hints weighs what is not stated as kind or form: unit, contact, range, tag, description.
func (rec *record) hints(d *draft, ev *evidence, tr *traits, wanted bool) {
	if wanted {
		if u, i := rec.get("unit"); i >= 0 {
			switch unit, known := parseUnit(u); {
			case isState(u):
				ev.add("D", "", 6, "unit "+quoted(u))
			case known && unit != "" && unit != "Imp":
				ev.add("A", "", 3, "unit "+quoted(u))
			}
		}
		if t, i := rec.get("contact"); i >= 0 {
			if _, ok := contactCell(t); ok {
				ev.add("D", "in", 4, "contact "+quoted(t))
			}
		}
		if _, i := rec.get("range_high"); i >= 0 {
			ev.add("A", "", 1, "")
		}
		if len(tr.process) > 0 {
			ev.add("A", "", 2, "range")
		}
		ev.fromTag(d.get("tag"))
		ev.fromAddress(d.address)
		if mk := rec.text(roleMaker); mk != "" {
			ev.fromDescription(mk)
		}
	}
	desc := strings.TrimSpace(d.get("description") + " " + d.fn)
	if desc == "" {
		return
	}
	dt := rec.r.describedTraits(desc)
	if wanted {
		ev.fromDescription(desc)
		if d.fn != "" {
			if n, dir, _ := functionSays(d.fn); n != "" {
				ev.add(n, dir, 5, "function "+quoted(d.fn))
			}
		}
		if dt.kind != "" || dt.form != "" && dt.form != "contact" {
			dt.network = false
			ev.fromTraits(dt, 3)
		}
	} else {
		probe := evidence{quiet: true}
		probe.fromDescription(desc)
		ev.said = probe.said
	}
	// What the description adds on the electrical side counts where no column says it.
	if tr.form == "" && tr.sensor == "" && (dt.form != "" && dt.form != "contact" || dt.sensor != "") {
		tr.form, tr.sensor = dt.form, dt.sensor
		if tr.wires == 0 {
			tr.wires = dt.wires
		}
		tr.hart = tr.hart || dt.hart
		if tr.kind == "" && (dt.kind == project.RTD || dt.kind == project.TC) {
			tr.kind = dt.kind
		}
	}
	if tr.kind == "" && tr.form != "4-20ma" && ev.said == "CNTin" && rePulseWord.MatchString(desc) {
		tr.kind, tr.why = project.CNT, []string{quoted(desc)}
	}
	if tr.contact == "" && dt.contact != "" {
		tr.contact = dt.contact
		rec.say(d, firstOfRoles(rec, "description"), "IMP-037", 0.75, "contact %s is taken from the description", dt.contact)
	}
}

// rePulseWord is narrower than what an electrical column may say: a frequency converter counts nothing.
var rePulseWord = regexp.MustCompile(`(?i)\b(pulses?|impulse?|impulsions?|pulsos?)\b`)

// functionSays reads a short function word: "Run", "Fault", "Start".
func functionSays(fn string) (nature, dir string, n int) {
	probe := evidence{quiet: true}
	probe.fromDescription(fn)
	n1, _ := best(probe.nature[:], natures[:])
	d1, _ := best(probe.dir[:], directions[:])
	return n1, d1, 1
}

// conclude settles the kind. RTD, TC and CNT are kinds of their own here; lists call them AI or DI.
func (rec *record) conclude(d *draft, stated project.Kind, ev *evidence, tr *traits) project.Kind {
	i := firstOfRoles(rec, "kind", roleNature, roleDirection, "form", "tag")
	if stated != "" {
		switch {
		case stated == project.AI && (tr.kind == project.RTD || tr.kind == project.TC) && tr.form == "":
			rec.say(d, i, "IMP-020", 0.95, "an analogue input with %s is %s", tr.sensorWord(), tr.kind)
			return tr.kind
		case stated == project.DI && tr.kind == project.CNT:
			rec.say(d, i, "IMP-020", 0.8, "a discrete input for %s is CNT", strings.Join(tr.why, ", "))
			return project.CNT
		case stated == project.AI && tr.kind == project.CNT && tr.form != "4-20ma":
			rec.say(d, i, "IMP-020", 0.8, "an analogue input for %s is CNT", strings.Join(tr.why, ", "))
			return project.CNT
		}
		return stated
	}
	if (tr.kind == project.RTD || tr.kind == project.TC) && tr.form == "" {
		ev.add(string(tr.kind), "in", 9, tr.sensorWord())
	}
	kind, sure := ev.kind()
	if kind == "" || sure < 0.25 {
		seen := strings.Join(append(rec.all("kind"), rec.all("form")...), ", ")
		msg := "nothing in the row says what kind of signal it is"
		if seen != "" {
			msg = fmt.Sprintf("%s is no kind of signal that the tool knows, and nothing else in the row says it", quoted(seen))
		}
		rec.fault(d, i, "IMP-021", msg, "Write one of DI, DO, AI, AO, RTD, TC, CNT, SER in a column for the kind.")
		return ""
	}
	if kind == project.AI && (tr.kind == project.RTD || tr.kind == project.TC) && tr.form == "" {
		kind = tr.kind // stated as analogue and input
	}
	nature, dir := split(kind)
	if kind == project.RTD || kind == project.TC {
		nature = "A"
	}
	if ev.weight(nature) >= 8 && ev.weight(dir) >= 8 && sure >= 0.5 {
		rec.say(d, i, "IMP-020", 0.95, "%s is %s", strings.Join(ev.why[:min(2, len(ev.why))], " with "), kind)
		return kind
	}
	why := strings.Join(ev.why, "; ")
	if why == "" {
		why = "weak signs"
	}
	if sure < 0.6 {
		d.hold("kind to be confirmed")
	}
	rec.say(d, i, "IMP-020", math.Min(sure, 0.84), "%s: %s", kind, why)
	return kind
}

func firstOfRoles(rec *record, roles ...role) int {
	for _, ro := range roles {
		if _, i := rec.get(ro); i >= 0 {
			return i
		}
	}
	return -1
}

func (t *traits) sensorWord() string {
	if t.sensor != "" {
		return t.sensor
	}
	return strings.Join(t.why, ", ")
}

// contradictions warns where other cells speak for another kind than the stated one.
func (rec *record) contradictions(d *draft, kind, stated project.Kind, ev *evidence, tr *traits) {
	if stated == "" {
		return
	}
	i := firstOfRoles(rec, "kind", "form", "tag")
	nature, dir := split(kind)
	against := ""
	switch {
	case nature == "D" && (tr.form == "4-20ma" || tr.form == "0-20ma" || tr.form == "0-10v" || tr.hart):
		against = "the signal " + orWord(tr.form, "HART")
	case nature == "D" && tr.sensor != "":
		against = "the sensor " + tr.sensor
	case nature == "A" && (tr.form == "namur" || tr.form == "pnp" || tr.form == "npn" || tr.form == "contact" || tr.relay):
		against = "the signal " + orWord(tr.form, "relay")
	}
	if against == "" && ev.said != "" {
		against = saidAgainst(nature, dir, ev.said, d.get("description")+" "+d.fn)
	}
	if against == "" {
		if n, tdir, w := tagSays(d.get("tag"), rec.mute); w >= 4 && (nature == "A" || nature == "D") && n != nature && (n == "A" || n == "D") {
			rec.doubt(d, i, "IMP-022", fmt.Sprintf("the list says %s, the letters of tag %s speak for %s; the list is followed", kind, d.get("tag"), kindFrom(n, tdir)), "Check the kind.")
		}
		return
	}
	rec.doubt(d, i, "IMP-022", fmt.Sprintf("the list says %s, but %s speaks against it; the stated kind is kept and put on hold", kind, against), "Check the kind, and clear the hold.")
	d.hold(fmt.Sprintf("kind %s to be confirmed: %s", kind, against))
}

func tagSays(tag, mute string) (string, string, int) {
	m := isaLetters.FindStringSubmatch(strings.ToUpper(tag))
	if m == nil || m[1] == mute {
		return "", "", 0
	}
	return lettersSay(m[1])
}

func orWord(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// saidAgainst compares the description's clear words with the stated nature and direction.
func saidAgainst(nature, dir, said, text string) string {
	f := fold(text)
	strong := func(l *lexicon) (string, bool) {
		n, w := l.longest(f)
		return w, n >= 7
	}
	for _, l := range lexicons {
		if l.nature+l.dir != said {
			continue
		}
		w, ok := strong(l)
		switch {
		case !ok:
			return ""
		case nature == "D" && l.nature == "A" && l.dir == "in" && hasAny(f, transmitterWords):
			return "the description's " + quoted(w)
		case nature == "A" && l.nature == "D" && hasAny(f, clearlyDiscrete):
			return "the description's " + quoted(w)
		case nature == "D" && l.nature == "D" && l.dir != dir && hasAny(f, clearlyDirected):
			return "the description's " + quoted(w)
		}
	}
	return ""
}

var (
	transmitterWords = phrases("transmitter, messumformer, transmetteur, transmisor, 4 20ma, 4 20 ma")
	clearlyDiscrete  = phrases("switch, limit switch, pressure switch, level switch, flow switch, start command, stop command, push button, pushbutton, schalter, endschalter, pressostat, fin de course, final de carrera, emergency stop, solenoid, solenoid valve, run feedback, running feedback, common fault, general fault, running, tripped, stormeldung, betriebsmeldung, defaut general, marche arret")
	clearlyDirected  = phrases("start command, stop command, open command, close command, run command, schaltbefehl, einschaltbefehl, solenoid, solenoid valve, run feedback, running feedback, running status, limit switch, betriebsmeldung, stormeldung, common fault, general fault, tripped, ordre de marche, orden de marcha, retour de marche, fin de course, final de carrera, emergency stop, push button, pressure switch, level switch, flow switch, endschalter, command, befehl")
)

// form sets form, wires, active, sensor, contact and HART as far as they have a meaning for the kind.
func (rec *record) form(d *draft, kind project.Kind, tr *traits) {
	col := kindColumn(rec)
	if i := firstOfRoles(rec, "form", roleElectrical, "voltage_v"); i >= 0 {
		col = rec.t.columns[i].index
	}
	if f := formFor(kind, tr); f != "" {
		d.set("form", f, col)
	} else if tr.level != "" && kind.Analogue() {
		i := firstOfRoles(rec, "form", roleElectrical)
		rec.doubt(d, i, "IMP-039", fmt.Sprintf("the level %s is none of the forms %s", quoted(tr.level), strings.Join(project.Forms[kind], ", ")), "State a form, or a device with one of them.")
		d.hold("signal level " + tr.level + " to be settled")
	}
	form := d.get("form")
	if form == "" {
		form = project.Forms[kind][0]
	}
	if tr.wires > 0 && form != "2-wire" {
		if w := project.WiresAllowed(kind, form); containsInt(w, tr.wires) {
			d.set("wires", fmt.Sprint(tr.wires), col)
		} else if kind.Analogue() {
			d.remark(fmt.Sprintf("%d wires in the list", tr.wires))
		}
	}
	loop := kind == project.AI && (form == "4-20ma" || form == "0-20ma")
	if loop {
		rec.active(d, tr, col)
	}
	if kind == project.RTD || kind == project.TC {
		if tr.sensor != "" && (len(tr.sensor) == 1) == (kind == project.TC) {
			d.set("sensor", tr.sensor, col)
		}
	}
	if kind == project.DI || kind == project.DO {
		rec.contact(d, tr, col)
	}
	if tr.hart && kind.Analogue() && form == "4-20ma" {
		d.fill("hart", "yes", col)
	} else if d.get("hart") != "" && (!kind.Analogue() || form != "4-20ma") {
		d.put(columnNo["hart"], "", 0)
	}
}

func containsInt(list []int, n int) bool {
	for _, l := range list {
		if l == n {
			return true
		}
	}
	return false
}

// active settles who powers the loop, only where the list says so.
func (rec *record) active(d *draft, tr *traits, col int) {
	active := tr.active
	if t, i := rec.get("active"); i >= 0 && !isPlaceholder(t) {
		f := fold(t)
		switch heading := fold(rec.t.columns[i].heading); {
		case hasAny(f, wPassive) || hasAny(f, wPlant):
			active = "passive"
		case hasAny(f, wActive) || hasAny(f, wField):
			active = "active"
		case isYes(t) && hasAny(heading, wLoopPower):
			active = "passive"
		case isNo(t) && hasAny(heading, wLoopPower):
			active = "active"
		}
		col = rec.t.columns[i].index
	}
	if active == "" {
		return
	}
	if active == "passive" && d.get("wires") == "4" {
		i := firstOfRoles(rec, "form", "wires", roleElectrical, "active")
		rec.doubt(d, i, "IMP-035", "the list says loop powered and 4 wires at once: nothing would power the loop", "State who powers the loop.")
		d.hold("loop supply to be confirmed: loop powered and 4 wires")
		return
	}
	if active == "active" && d.get("wires") == "3" {
		return
	}
	d.set("active", active, col)
}

var (
	wLoopPower = phrases("loop power, loop powered, loop supply, loop")
	wPlant     = phrases("plc, dcs, system, sps, panel, card, loop, automate, from plc, by plc, rack, io, i/o, control system, rio, station, karte, by system, intern, internal, plc 24v, 24vdc loop")
	wField     = phrases("field, external, instrument, local, mains, 230vac, 230v, 110vac, feld, extern, externe, externo, terrain, campo, by others, device, separate, 24vdc external")
)

// contact reads the normal position.
func (rec *record) contact(d *draft, tr *traits, col int) {
	for _, ro := range []role{"contact", roleNormal} {
		t, i := rec.get(ro)
		if i < 0 {
			continue
		}
		if c, ok := contactCell(t); ok {
			if c != "" {
				d.set("contact", c, rec.t.columns[i].index)
			} else {
				d.remark("changeover contact")
			}
			return
		}
		if !isPlaceholder(t) && !isNo(t) {
			rec.r.assume("IMP-024", rec.where(i), 0.6, "%s is no normal position and kept as a remark", quoted(t))
			d.remark("normal position: " + t)
			return
		}
	}
	if tr.contact != "" {
		d.set("contact", tr.contact, col)
	}
}

// formFor picks the kind's form from what the texts say; "" leaves it to the kind's first.
func formFor(kind project.Kind, tr *traits) string {
	ac := func() string {
		switch {
		case !tr.ac:
			return ""
		case tr.voltage >= 100 && tr.voltage <= 130:
			return "120vac"
		case tr.voltage >= 200:
			return "230vac"
		}
		return ""
	}
	switch kind {
	case project.AI, project.AO:
		for _, f := range project.Forms[kind] {
			if f == tr.form {
				return f
			}
		}
	case project.RTD, project.TC:
		return project.Forms[kind][0]
	case project.DI:
		switch tr.form {
		case "contact", "pnp", "npn", "2-wire", "namur":
			return tr.form
		}
		if f := ac(); f != "" {
			return f
		}
		if tr.relay {
			return "contact"
		}
		if tr.voltage == 24 && !tr.ac {
			return "24v"
		}
	case project.DO:
		if tr.relay || tr.form == "contact" {
			return "relay"
		}
		if f := ac(); f != "" {
			return f
		}
		if tr.voltage >= 12 && tr.voltage <= 60 && !tr.ac {
			return "24v"
		}
	case project.CNT:
		switch {
		case strings.HasPrefix(tr.form, "encoder"), strings.HasPrefix(tr.form, "pulse"):
			return tr.form
		case tr.form == "namur":
			return "pulse-namur"
		}
	case project.SER:
		if strings.HasPrefix(tr.form, "rs") {
			return tr.form
		}
	}
	return ""
}
