package checker

import (
	"fmt"
	"strconv"
	"strings"

	"railwright/internal/project"
)

// decisionLaw: what is fixed is so, what is forbidden is not; or an error finding names it.
func decisionLaw(r *run) {
	for _, d := range r.p.Decisions() {
		if d.Strength == project.Preferred || strings.HasPrefix(d.Subject, "part:") {
			continue // costLaw; parts are looked at where they are used
		}
		if id, ok := strings.CutPrefix(d.Subject, "signal:"); ok && (r.sig[id] == nil || len(r.at[id]) == 0) {
			continue // left out or unplaced: placedOnce
		}
		holds := r.holds(d)
		if holds == (d.Strength == project.Fixed) || r.refused(d) {
			continue
		}
		want := d.Property + " " + d.Value
		if d.Strength == project.Forbidden {
			want = "not " + want
		}
		r.bad("DEC", d.Subject, want+", or an error finding that names it", "%s decision from %s is not kept", d.Strength, d.Origin)
	}
	r.boughtAnew()
	for _, code := range r.usedParts() {
		if r.unused[code] {
			r.bad("DEC", "part:"+code, "not used", "used")
		}
	}
}

// refused reports an error finding that names the decision: its subject, or its value's subject.
func (r *run) refused(d project.Decision) bool {
	subjects := []string{d.Subject, "decision:" + d.Subject}
	switch d.Property {
	case "place":
		subjects = append(subjects, "place:"+d.Value)
	case "station":
		subjects = append(subjects, "station:"+d.Value)
	}
	return r.excused(subjects...)
}

func (r *run) usedParts() []string {
	var codes []string
	for code := range r.bill().pieces {
		codes = append(codes, code)
	}
	return codes
}

// holds reports whether the design does what the decision says.
func (r *run) holds(d project.Decision) bool {
	room, id, _ := strings.Cut(d.Subject, ":")
	switch room {
	case "signal":
		return r.signalHolds(id, d)
	case "station":
		return r.stationHolds(id, d)
	case "place":
		n := 0
		for _, st := range r.stations {
			if st.Place == id {
				n++
			}
		}
		return d.Property != "station" || (n > 0) == (d.Value == "yes")
	case "part":
		used := false
		for _, code := range r.usedParts() {
			used = used || code == id
		}
		for i := range r.d.Cables {
			used = used || r.d.Cables[i].Type == id
		}
		return d.Property != "use" || used == (d.Value == "yes")
	}
	return true
}

func (r *run) signalHolds(id string, d project.Decision) bool {
	if len(r.at[id]) == 0 {
		return false
	}
	at := r.at[id][0]
	switch d.Property {
	case "station":
		return at.st.ID == d.Value
	case "place":
		return at.st.Place == d.Value
	case "channel":
		return fmt.Sprintf("%s/%d/%d", at.st.ID, at.sl.Slot, at.ch.Channel) == d.Value
	case "module":
		return at.sl.Module == d.Value
	case "address":
		return at.ch.Address == d.Value
	case "cable":
		for i := range r.d.Cables {
			c := &r.d.Cables[i]
			for _, s := range c.Signals {
				if s == id && c.Use == "field" {
					return c.Type == d.Value
				}
			}
		}
		return false
	}
	return true
}

func (r *run) stationHolds(id string, d project.Decision) bool {
	st := r.station[id]
	if st == nil {
		return false
	}
	property, number, _ := strings.Cut(d.Property, ".")
	n, _ := strconv.Atoi(number)
	switch property {
	case "place":
		return st.Place == d.Value
	case "coupler":
		return st.Coupler == d.Value
	case "enclosure":
		return st.Enclosure == d.Value
	case "slot":
		module, base, based := strings.Cut(d.Value, "@")
		return n >= 1 && n <= len(st.slots) && st.slots[n-1].Module == module && (!based || st.slots[n-1].Base == base)
	case "infeed":
		return n >= 1 && n <= len(st.slots) && st.slots[n-1].Infeed == (d.Value == "yes")
	case "input_byte":
		return st.firstByte(image{"input", false}) == d.Value
	case "output_byte":
		return st.firstByte(image{"output", true}) == d.Value
	case "infeed_mm2":
		for _, g := range st.groups {
			if g.coupler && n == 0 || !g.coupler && g.First == n {
				area, err := strconv.ParseFloat(d.Value, 64)
				return err == nil && area == g.InfeedMM2
			}
		}
		return false
	case "protection":
		for _, g := range st.groups {
			if g.coupler && n == 0 || !g.coupler && g.First == n {
				return g.Protection == d.Value
			}
		}
		return false
	}
	return true
}

// firstByte is the first byte of the station: stated, or its first slot's less the header.
func (st *station) firstByte(im image) string {
	first, _, header := im.of(st)
	if first != nil {
		return strconv.Itoa(*first)
	}
	for _, sl := range st.slots {
		if at, n := im.slot(sl); n > 0 {
			return strconv.Itoa(at - header)
		}
	}
	return ""
}
