package plan

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
	"railwright/internal/figure"
	"railwright/internal/finding"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// notKept names every fixed decision that the design does not follow. The deciding rooms are given all
// of them; this is the proof that none was lost on the way, or the refusal where one could not be kept.
func (pr *problem) notKept(d *design.Design) finding.List {
	k := keptOf(d)
	var out finding.List
	for _, key := range sortedKeys(pr.g.choices.from) {
		c := pr.g.choices.from[key]
		seen, ok := k.value(c)
		if !ok || same(c, seen) {
			continue
		}
		if seen == "" {
			seen = "nothing"
		}
		f := finding.Finding{
			Rule: "CHO-005", Severity: finding.Error, Subject: c.Subject,
			Message: fmt.Sprintf("%s %s is fixed to %s (%s), but the design has %s.", c.Subject, c.Property, c.Value, spot(c), seen),
			Remedy:  finding.Remedy{Text: "See the other findings for what stands in the way; release this choice or one of those."}, Source: "arithmetic",
		}
		if why := pr.deviceRefused(k, c); why != "" {
			f.Message = fmt.Sprintf("%s %s is fixed to %s (%s): %s; the design has %s.", c.Subject, c.Property, c.Value, spot(c), why, seen)
			f.Remedy.Text = "Name a device that suits, or release this choice."
			if strings.HasPrefix(why, noGroupBegins) {
				f.Remedy.Text = "Name the first slot of a group, or fix slot.N and infeed.N as well so that one begins there; or release this choice."
			}
		}
		if c.File != "" {
			f.Where = &finding.Where{File: c.File, Line: c.Line}
		}
		out = append(out, f)
	}
	return out
}

const noGroupBegins = "no supply group begins"

// deviceRefused says why a protective device that a choice fixes cannot stand before its group; "" where
// the choice is about something else.
func (pr *problem) deviceRefused(k kept, c project.Decision) string {
	number, is := strings.CutPrefix(c.Property, "protection.")
	id, ofStation := strings.CutPrefix(c.Subject, "station:")
	st := k.stations[id]
	if !is || !ofStation || st == nil {
		return ""
	}
	n, _ := strconv.Atoi(number)
	i := slices.IndexFunc(st.SupplyGroups, func(g design.SupplyGroup) bool { return beginsAt(&g, n) })
	if i < 0 {
		return fmt.Sprintf("%s at slot %d", noGroupBegins, n)
	}
	g := &st.SupplyGroups[i]
	d, ok := pr.g.list.Protection(c.Value)
	switch dc := figure.DC(g); {
	case !ok:
		return "the hardware list has no such device"
	case dc && !d.DC || !dc && !d.AC:
		return fmt.Sprintf("it is not of the kind that group %d (%s) needs", g.Group, figure.Voltage(g))
	case d.Rating.Milliamps() < g.LoadMA:
		return fmt.Sprintf("it is rated for %s, group %d draws %s mA", d.Rating, g.Group, q.Short(g.LoadMA))
	}
	return "the infeed point of its group takes less"
}

// beginsAt reports whether a choice for slot n is about the group; 0 names the one that the coupler feeds.
func beginsAt(g *design.SupplyGroup, n int) bool {
	if g.InfeedAt == "coupler" {
		return n == 0
	}
	return g.FirstSlot == n
}

func sortedKeys(m map[string]project.Decision) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// same compares a fixed value with the design's: a slot's value may name a base behind an @, and then both count.
func same(c project.Decision, seen string) bool {
	if strings.HasPrefix(c.Property, "slot.") && !strings.Contains(c.Value, "@") {
		seen, _, _ = strings.Cut(seen, "@")
	}
	if area, err := strconv.ParseFloat(c.Value, 64); err == nil && strings.HasPrefix(c.Property, "infeed_mm2.") {
		return q.Short(area) == seen
	}
	return c.Value == seen
}

// kept is a design by subject.
type kept struct {
	d        *design.Design
	stations map[string]*design.Station
	signals  map[string]at
	cables   map[string]string // signal -> cable type
}

// at is where a signal sits.
type at struct {
	station *design.Station
	slot    *design.Slot
	channel *design.Channel
}

func keptOf(d *design.Design) kept {
	k := kept{d, map[string]*design.Station{}, map[string]at{}, map[string]string{}}
	for i := range d.Stations {
		s := &d.Stations[i]
		k.stations[s.ID] = s
		for j := range s.Slots {
			for n := range s.Slots[j].Channels {
				if c := &s.Slots[j].Channels[n]; c.Signal != nil {
					k.signals[c.SignalID] = at{s, &s.Slots[j], c}
				}
			}
		}
	}
	for _, c := range d.Cables {
		for _, id := range c.Signals {
			k.cables[id] = c.Type
		}
	}
	return k
}

// value returns what the design has for the subject and property of a decision; ok is false where the
// decision is about something that the design cannot contradict (a signal that is not placed has a
// finding of its own).
func (k kept) value(c project.Decision) (string, bool) {
	kind, id, _ := strings.Cut(c.Subject, ":")
	switch kind {
	case "signal":
		return k.signal(id, c.Property)
	case "station":
		return k.station(id, c.Property)
	case "place":
		for _, s := range k.d.Stations {
			if s.Place == id {
				return "yes", true
			}
		}
		return "no", true
	}
	return "", false
}

func (k kept) signal(id, property string) (string, bool) {
	a, placed := k.signals[id]
	if !placed {
		return "", false
	}
	switch property {
	case "station":
		return a.station.ID, true
	case "place":
		return a.station.Place, true
	case "channel":
		return fmt.Sprintf("%s/%d/%d", a.station.ID, a.slot.Slot, a.channel.Channel), true
	case "module":
		return a.slot.Module, true
	case "cable":
		return k.cables[id], true
	}
	return "", false // addresses have a rule of their own
}

func (k kept) station(id, property string) (string, bool) {
	s := k.stations[id]
	if s == nil {
		return "", true
	}
	name, number, _ := strings.Cut(property, ".")
	n, _ := strconv.Atoi(number)
	switch {
	case property == "place":
		return s.Place, true
	case property == "coupler":
		return s.Coupler, true
	case property == "enclosure":
		return s.Enclosure, true
	case property == "input_byte":
		return strconv.Itoa(s.FirstInByte), true
	case property == "output_byte":
		return strconv.Itoa(s.FirstOutByte), true
	case name == "slot" && n >= 1 && n <= len(s.Slots):
		return s.Slots[n-1].Module + "@" + s.Slots[n-1].Base, true
	case name == "infeed" && n >= 1 && n <= len(s.Slots):
		return map[bool]string{true: "yes", false: "no"}[s.Slots[n-1].Infeed], true
	case name == "infeed_mm2":
		for i := range s.SupplyGroups {
			if g := &s.SupplyGroups[i]; beginsAt(g, n) {
				return q.Short(g.InfeedMM2), true
			}
		}
	case name == "protection":
		for _, g := range s.SupplyGroups {
			if beginsAt(&g, n) {
				return g.Protection, true
			}
		}
	}
	return "", true
}
