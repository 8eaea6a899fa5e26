package plan

import (
	"fmt"
	"maps"
	"slices"

	"railwright/internal/finding"
	"railwright/internal/project"
)

// settleStations gives every station that a choice names its place: the chosen one, or the one in its
// id. Choices on stations, places and signals that do not exist become findings and are dropped: a
// choice that does nothing must not look as if it did.
func (c *choices) settleStations(p *project.Project) {
	places, signals := map[string]bool{}, map[string]bool{}
	for i := range p.Places {
		places[p.Places[i].ID] = true
	}
	for i := range p.Signals {
		signals[p.Signals[i].ID] = true
	}
	for _, id := range c.namedStations() {
		if c.placeOf[id] == "" && places[placeOfStation(id)] {
			c.placeOf[id] = placeOfStation(id)
		}
		if places[c.placeOf[id]] {
			continue
		}
		what := fmt.Sprintf("station %s is named by a choice, but no choice says at which place it stands.", id)
		if at := c.placeOf[id]; at != "" {
			what = fmt.Sprintf("station %s is to stand at place %q, which the project does not have.", id, at)
		}
		c.unknown("station:"+id, what, "Add a [[choice]] with subject station:"+id+", property place, or name it after its place (PLACE-S1).")
		c.forget(id)
	}
	for _, id := range slices.Sorted(maps.Keys(c.open)) {
		if !places[id] {
			c.unknown("place:"+id, fmt.Sprintf("place %q is named by a choice, but the project does not have it.", id), "Correct the id.")
		}
	}
	for _, key := range slices.Sorted(maps.Keys(c.from)) {
		d := c.from[key]
		if id, ok := cutSubject(d.Subject, "signal:"); ok && !signals[id] {
			c.unknown(d.Subject, fmt.Sprintf("signal %q is named by a choice, but the list does not have it (or its row is faulty).", id), "Correct the id, or remove the choice.")
		}
	}
}

func cutSubject(subject, kind string) (string, bool) {
	if len(subject) > len(kind) && subject[:len(kind)] == kind {
		return subject[len(kind):], true
	}
	return "", false
}

func (c *choices) unknown(subject, message, remedy string) {
	c.found = append(c.found, finding.Finding{
		Rule: "CHO-004", Severity: finding.Error, Subject: subject, Message: message, Remedy: finding.Remedy{Text: remedy}, Source: "arithmetic",
	})
}

// namedStations lists the stations that any choice names, sorted.
func (c *choices) namedStations() []string {
	all := map[string]bool{}
	for id := range c.placeOf {
		all[id] = true
	}
	for _, id := range c.station {
		all[id] = true
	}
	for _, m := range []map[string]string{c.coupler, c.enclosure} {
		for id := range m {
			all[id] = true
		}
	}
	for id := range c.slots {
		all[id] = true
	}
	for id := range c.infeeds {
		all[id] = true
	}
	for id := range c.protection {
		all[id] = true
	}
	for id := range c.area {
		all[id] = true
	}
	for _, m := range []map[string]int{c.inputByte, c.outputByte} {
		for id := range m {
			all[id] = true
		}
	}
	return slices.Sorted(maps.Keys(all))
}

// forget drops every choice on a station.
func (c *choices) forget(id string) {
	delete(c.placeOf, id)
	delete(c.coupler, id)
	delete(c.slots, id)
	delete(c.infeeds, id)
	delete(c.protection, id)
	delete(c.area, id)
	delete(c.inputByte, id)
	delete(c.outputByte, id)
	for signal, station := range c.station {
		if station == id {
			delete(c.station, signal)
			delete(c.seat, signal)
		}
	}
}
