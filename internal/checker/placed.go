package checker

import (
	"fmt"
	"strings"

	"railwright/internal/project"
)

// placedOnce: every signal is on exactly one suitable channel, or in unplaced with its proof.
func placedOnce(r *run) {
	unplaced := map[string]int{}
	for _, u := range r.d.Unplaced {
		unplaced[u.Signal]++
		r.unplacedEntry(u)
	}
	for _, x := range r.sigs {
		subject := "signal:" + x.ID
		if n := len(r.at[x.ID]) + unplaced[x.ID]; n != 1 {
			r.bad("ONCE", subject, "on one channel or once in unplaced", "on %d channels, %d times in unplaced", len(r.at[x.ID]), unplaced[x.ID])
		}
	}
	for _, st := range r.stations {
		for _, sl := range st.slots {
			for _, ch := range sl.channels {
				r.channelLaw(st, sl, ch)
			}
		}
	}
	rows := 0 // left out by the reader
	for _, u := range r.d.Unplaced {
		if r.sig[u.Signal] == nil {
			rows++
		}
	}
	if n := r.d.Project.Signals; n != len(r.sigs) && n != len(r.sigs)+rows {
		r.bad("ONCE", "design", fmt.Sprintf("project.signals %d", len(r.sigs)+rows), "%d", n)
	}
}

func (r *run) channelLaw(st *station, sl *slot, ch *channel) {
	where := fmt.Sprintf("%s slot %d channel %d", st.ID, sl.Slot, ch.Channel)
	if ch.SignalID == "" {
		if ch.Signal != nil {
			r.bad("ONCE", st.subject, "signal and signal_id together", "%s has tag %q without id", where, *ch.Signal)
		}
		return
	}
	if ch.signal == nil {
		r.bad("REF", "signal:"+ch.SignalID, "a signal of the list", "%s", where)
		return
	}
	if ch.Signal == nil || *ch.Signal != ch.signal.Tag {
		r.bad("ONCE", "signal:"+ch.SignalID, "tag "+ch.signal.Tag, "another tag at %s", where)
	}
	if why := r.unsuited(ch.signal, sl.module, ch.set, st.env); why != "" {
		r.bad("SUIT", "signal:"+ch.SignalID, "a channel that suits", "%s %s: %s", where, sl.Module, why)
	} else if r.better(ch.signal, sl.module, ch.set, st.env) {
		r.bad("SUIT", "signal:"+ch.SignalID, "a channel with the fewest flaws", "%s %s", where, sl.Module)
	}
}

func (r *run) unplacedEntry(u docUnplaced) {
	subject := "signal:" + u.Signal
	if u.Why == "" {
		r.bad("ONCE", subject, "a reason", "unplaced without why")
	}
	x := r.sig[u.Signal]
	switch u.Proof {
	case "row":
		return
	case "none":
		if x != nil {
			if where := r.somewhere(x); where != "" {
				r.bad("ONCE", subject, "a proof that holds", "proof none, but %s", where)
			}
		}
	case "set":
	case "not proven":
		if !r.excused(subject, "project") {
			r.bad("ONCE", subject, "an error finding", "unplaced, not proven, without finding")
		}
	default:
		r.bad("ONCE", subject, "none, set, not proven or row", "proof %q", u.Proof)
	}
	if x == nil {
		r.bad("REF", subject, "a signal of the list", "unplaced")
	}
}

// somewhere names a place and a module that would serve the signal alone, or "".
func (r *run) somewhere(x *signal) string {
	for _, pl := range r.p.Places {
		if !r.mayStand(pl) || !r.reaches(x, pl) {
			continue
		}
		env := r.environment(pl)
		for m := range r.hw.Modules {
			mod := &r.hw.Modules[m]
			for c := range mod.Channels {
				if r.unsuited(x, mod, &mod.Channels[c], env) == "" {
					return "a station at " + pl.ID + " can serve it with " + mod.Code
				}
			}
		}
	}
	return ""
}

// reaches reports whether a field cable of the signal alone may go to the place.
func (r *run) reaches(x *signal, pl project.Place) bool {
	list := []*signal{x}
	b := &bundle{class: x.cable, place: x.Place}
	laid, ok := r.fieldLaid(x.Place, pl.ID)
	c := r.cableFor(b, list, laid, r.environment(pl))
	most := r.longest(list, c)
	return ok && c != nil && (most == 0 || laid <= most)
}

// mayStand reports whether a station may stand at the place by list and decisions.
func (r *run) mayStand(pl project.Place) bool {
	if !pl.Candidate || pl.Forbidden || noStationZone(pl.Zone) {
		return false
	}
	yes, no := r.stationWish(pl.ID)
	return !no || yes
}

// noStationZone: zones 0 and 20 allow no station.
func noStationZone(zone string) bool { return zone == "0" || zone == "20" }

// stationWish reads the decisions place:ID station.
func (r *run) stationWish(place string) (yes, no bool) {
	for _, d := range r.decisions("place:"+place, "station") {
		switch {
		case d.Strength == project.Fixed && d.Value == "yes":
			yes = true
		case d.Strength == project.Fixed && d.Value == "no", d.Strength == project.Forbidden:
			no = true
		}
	}
	return yes, no
}

// siteLaw: stations stand only where the project lets them.
func siteLaw(r *run) {
	number := map[string]int{}
	for _, st := range r.stations {
		number[st.Place]++
		pl := st.place
		if pl.ID == "" {
			continue
		}
		fixed := r.fixedStations(pl.ID) > 0
		if pl.Forbidden || !pl.Candidate && !fixed || noStationZone(pl.Zone) {
			r.bad("SITE", st.subject, "a place where a station may stand", "place %s", pl.ID)
		}
		same(r, "SITE", st.subject, "construction", st.Construction, st.env.construction)
	}
	for _, pl := range r.p.Places {
		r.limit("place:"+pl.ID, "stations", int64(number[pl.ID]), int64(max(1, pl.MaxStations)))
	}
}

// fixedStations counts the stations that fixed decisions name at the place.
func (r *run) fixedStations(place string) int {
	named := map[string]bool{}
	for _, list := range r.decided {
		for _, d := range list {
			if id := r.stationNamed(d); id != "" && d.Strength == project.Fixed && r.stationPlace(id) == place {
				named[id] = true
			}
		}
	}
	if yes, _ := r.stationWish(place); yes && len(named) == 0 {
		return 1
	}
	return len(named)
}

// stationNamed is the station that a decision is about or sends a signal to.
func (r *run) stationNamed(d project.Decision) string {
	if id, ok := strings.CutPrefix(d.Subject, "station:"); ok {
		return id
	}
	if id, ok := strings.CutPrefix(d.Subject, "signal:"); ok && r.sig[id] != nil && (d.Property == "station" || d.Property == "channel") {
		station, _, _ := strings.Cut(d.Value, "/")
		return station
	}
	return ""
}

// stationPlace is the place of a station that decisions name: stated, or the one that its id is
// made from (PLACE-S and a number); "" if neither says.
func (r *run) stationPlace(id string) string {
	for _, d := range r.decisions("station:"+id, "place") {
		if d.Strength == project.Fixed {
			return d.Value
		}
	}
	if i := strings.LastIndex(id, "-S"); i > 0 && isNumber(id[i+2:]) {
		if pl, ok := r.places[id[:i]]; ok {
			return pl.ID
		}
	}
	return ""
}
