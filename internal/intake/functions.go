package intake

import (
	"strings"

	"railwright/internal/project"
)

// functionColumns finds tables whose columns are headed with functions of a device and hold marks:
// "Running", "Tripped", "Start" below "Inputs" and "Outputs". Each becomes a column of marks of the
// kind that its heading speaks for.
func (r *reader) functionColumns(t *table) {
	type found struct {
		at   int
		kind project.Kind
		fn   string
	}
	var all []found
	for i := range t.columns {
		c := &t.columns[i]
		if kind, counted := c.role.count(); counted && c.how == "column map" {
			if fn := functionName(c.heading); fn != "" && string(headingKind(c.heading)) == kind && !counts(headings.lookup(fn)) {
				c.fn = fn
			}
			continue
		} else if counted {
			return // kinds have columns of their own
		}
		if c.heading == "" || c.how == "column map" || c.prof.n == 0 || c.prof.share(c.prof.mark) < 0.8 && c.prof.share(c.prof.binary) < 0.9 || headsTag(c.heading) {
			continue
		}
		if k, fn := headingKind(c.heading), functionName(c.heading); k != "" && fn != "" {
			all = append(all, found{i, k, fn})
		}
	}
	for _, c := range t.columns {
		if c.role == "kind" && c.prof.affinity("kind") > 0.5 {
			return
		}
	}
	if len(all) < 2 {
		return
	}
	for _, f := range all {
		c := &t.columns[f.at]
		c.role, c.sure, c.how, c.fn = countRole(string(f.kind)), 0.8, "heading", f.fn
	}
}

// headsTag reports whether a row of a heading is a tag: the effects of a trip matrix are headed so,
// and its crosses are no signals.
func headsTag(heading string) bool {
	for _, p := range strings.Split(heading, " / ") {
		if look(p).tag && strings.ToUpper(p) == p {
			return true
		}
	}
	return false
}

// functionName is the last row of a heading without what stands in brackets.
func functionName(heading string) string {
	parts := strings.Split(heading, " / ")
	return tidy(reBracket.ReplaceAllString(parts[len(parts)-1], " "))
}

// functionKind knows headings of marks that say little elsewhere: "Current" is a measured value.
func functionKind(heading string) project.Kind {
	f := fold(heading)
	switch {
	case inList(f, wMeasures):
		return project.AI
	case inList(f, wReferences):
		return project.AO
	}
	return ""
}

var (
	wMeasures   = phrases("current, amps, motor current, strom, motorstrom, courant, intensite, corriente, intensidad, torque, drehmoment, couple, par, winding temp, speed feedback, speed fb, actual speed, istwert, drehzahl ist, drehzahlistwert, power, kw, position, position fb")
	wReferences = phrases("speed ref, speed reference, speed sp, speed set, speed demand, sollwert, drehzahl soll, drehzahlsollwert, consigne vitesse, consigne, consigna velocidad, consigna, ref vitesse, ref velocidad, speed setpoint, frequency ref")
)

// counts reports whether a heading is one of a kind of signal.
func counts(h headed) bool {
	for _, c := range h.cands {
		if _, ok := c.role.count(); ok && c.prior > 0.6 {
			return true
		}
	}
	return false
}

// headingKind concludes the kind of a signal from the rows of a heading, functions in the last one; "" where it says nothing.
func headingKind(heading string) project.Kind {
	parts := strings.Split(heading, " / ")
	ev := newEvidence()
	last := parts[len(parts)-1]
	if k := functionKind(last); k != "" {
		n, dir := split(k)
		ev.add(n, dir, 4, "")
	}
	if n, dir, _ := functionSays(last); n != "" {
		ev.add(n, dir, 4, "")
	}
	ev.fromDescription(last)
	tr := parseTraits(last, stylePoint)
	if tr.said > 0 && ev.noNature() && functionName(heading) == tidy(last) {
		return "" // "Relay", "Volt free": how, not what
	}
	ev.fromTraits(tr, 6)
	for _, p := range parts[:len(parts)-1] {
		for w := range strings.SplitSeq(fold(p), " ") {
			switch {
			case inList(w, wInputs):
				ev.add("", "in", 8, "")
			case inList(w, wOutputs):
				ev.add("", "out", 8, "")
			}
		}
		if n := natureWord(p); n != "" {
			ev.add(n, "", 6, "")
		}
	}
	if ev.noNature() && ev.dir != [len(directions)]int{} {
		ev.add("D", "", 4, "") // "Start" below "Outputs"
	}
	kind, sure := ev.kind()
	if sure < 0.6 || ev.noNature() {
		return ""
	}
	return kind
}
