package checker

import (
	"strings"

	"railwright/internal/project"
)

// apartLaw: redundant partners, segregated signals, safety groups and bundles.
func apartLaw(r *run) {
	for _, x := range r.sigs {
		for id := range x.partners {
			if id > x.ID {
				r.partners(x, r.sig[id])
			}
		}
	}
	for _, st := range r.stations {
		r.stationClasses(st)
		for _, g := range st.groups {
			r.safetyGroup(st, g)
		}
	}
	for _, b := range r.bundles {
		list := r.placed(b)
		for _, x := range list {
			if a, b := r.at[x.ID][0].st, r.at[list[0].ID][0].st; a != b {
				r.bad("APRT", "signal:"+x.ID, "one station for bundle "+r.bundle[x.ID].id, "served by %s, %s by %s", a.ID, list[0].ID, b.ID)
			}
		}
	}
}

func (r *run) partners(x, y *signal) {
	for _, a := range r.at[x.ID] {
		for _, b := range r.at[y.ID] {
			shared := ""
			switch {
			case a.sl == b.sl:
				shared = "a module"
			case a.st == b.st && a.sl.Group == b.sl.Group && (r.p.Basis.Redundancy == project.LevelGroup || r.p.Basis.Redundancy == project.LevelStation):
				shared = "a supply group"
			case a.st == b.st && r.p.Basis.Redundancy == project.LevelStation:
				shared = "a station"
			}
			if shared != "" {
				r.bad("APRT", "signal:"+x.ID, "redundant partners apart", "shares %s with %s", shared, y.ID)
			}
		}
	}
}

// stationClasses: signals of different classes of level station never share a station.
func (r *run) stationClasses(st *station) {
	first, of := "", ""
	for _, sl := range st.slots {
		for _, ch := range sl.used() {
			class := stationClass(ch.signal)
			if of != "" && class != first {
				r.bad("APRT", st.subject, "signals of segregation class "+quoted(first)+" only", "%s has %s", ch.signal.ID, quoted(class))
			}
			if of == "" {
				first, of = class, ch.signal.ID
			}
		}
	}
}

func quoted(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

func stationClass(x *signal) string {
	if x.level == project.LevelStation {
		return x.seg
	}
	return ""
}

// safetyGroup: nothing in a safety-switched group that is not stated interference-free or is fed
// from elsewhere.
func (r *run) safetyGroup(st *station, g *group) {
	safe := isSafety(classOf(g.Class))
	for _, sl := range g.slots {
		for _, ch := range sl.used() {
			safe = safe || isSafety(ch.signal.supply)
		}
	}
	if !safe {
		return
	}
	inside := map[string]bool{}
	for _, sl := range g.slots {
		if sl.module != nil && !sl.module.Infeed && !sl.module.Safe {
			r.bad("APRT", g.subject, "modules stated interference-free", "slot %d %s", sl.Slot, sl.Module)
		}
		inside[slotEnd(st, sl)] = true
	}
	for _, w := range r.d.Wires { // a wire between two stations' or groups' terminals would be a second feed
		from, to := inside[slotOf(w.From)], inside[slotOf(w.To)]
		if from != to && strings.HasPrefix(w.From, "station:") && strings.HasPrefix(w.To, "station:") {
			r.bad("APRT", g.subject, "no other feed", "wire %s from %s to %s", w.ID, w.From, w.To)
		}
	}
}
