package modification

import (
	"slices"
	"strings"

	"railwright/internal/design"
)

// act is one piece of work: it changes one fact, or takes one core off.
type act struct {
	kind   Kind
	change Change
	unit   string // what must be off; "" = nothing
	parked bool   // the core hangs loose in between
}

// Kind says what a step does.
type Kind string

// The kinds of steps, in the order in which they are done within an outage.
const (
	Install  Kind = "install"  // enclosure, coupler, supply, feeder, junction box: beside what runs
	Pull     Kind = "pull"     // a cable
	Isolate  Kind = "isolate"  // switch off, lock off, prove dead
	Unland   Kind = "unland"   // a core off its terminals
	TakeOut  Kind = "take out" // a module, with its base
	Fit      Kind = "fit"      // a module, with its base
	Exchange Kind = "exchange" // coupler, protection, supply, end piece: one for another
	Land     Kind = "land"     // a core on its terminals
	Set      Kind = "set"      // a channel: which signal, which kind
	Load     Kind = "load"     // addresses and configuration into coupler and controller
	Restore  Kind = "restore"  // switch on
	Mark     Kind = "mark"     // labels
	Test     Kind = "test"     // signals, from device to controller
	Remove   Kind = "remove"   // enclosure, supply, protection: what nothing needs any more
	Withdraw Kind = "withdraw" // a cable that nothing needs any more
)

var kindOrder = []Kind{Install, Pull, Isolate, Unland, TakeOut, Remove, Exchange, Fit, Land, Set, Load, Restore, Test, Mark, Withdraw}

// loose is the fact of a core that was taken off and waits.
const loose = "loose"

// actsOf turns differing facts into acts.
func (s *site) actsOf(from, to State) []act {
	var out []act
	for _, key := range from.Differences(to) {
		c := Change{key, from[key], to[key]}
		switch kindOf(key) {
		case wire:
			out = append(out, s.wireActs(c)...)
		case slot:
			out = append(out, s.slotActs(c)...)
		case cable:
			out = append(out, s.cableActs(c)...)
		case channel:
			out = append(out, act{kind: Set, change: c, unit: s.slotUnit(idOf(key))})
		case address, node:
			out = append(out, act{kind: Load, change: c, unit: s.loadUnit(c.Key)})
		case label:
			out = append(out, act{kind: Mark, change: c})
		default:
			out = append(out, s.thingAct(c))
		}
	}
	return out
}

// slotUnit returns the unit of "STATION/SLOT/CHANNEL".
func (s *site) slotUnit(id string) string {
	parts := strings.Split(id, "/")
	return s.unit(parts[0], parts[1])
}

// ends returns the ends of a wire's fact.
func ends(fact string) (from, to string) {
	_, rest, _ := strings.Cut(fact, ", from ")
	from, to, _ = strings.Cut(rest, " to ")
	return from, to
}

// wireActs takes a core off and lands it; each end belongs to some unit. A core that changes lies loose
// between the two, which may be in different outages.
func (s *site) wireActs(c Change) []act {
	var out []act
	if c.Before != "" {
		out = append(out, act{kind: Unland, change: Change{c.Key, c.Before, rest(c.After)}, unit: s.wireUnit(c.Before), parked: c.After != ""})
	}
	if c.After != "" {
		out = append(out, act{kind: Land, change: Change{c.Key, rest(c.Before), c.After}, unit: s.wireUnit(c.After), parked: c.Before != ""})
	}
	return out
}

func rest(other string) string {
	if other == "" {
		return ""
	}
	return loose
}

func (s *site) wireUnit(fact string) string {
	from, to := ends(fact)
	units := []string{s.endUnit(from), s.endUnit(to)}
	for _, u := range units {
		if strings.HasPrefix(u, "station:") {
			return u
		}
	}
	if units[1] != "" {
		return units[1]
	}
	return units[0]
}

func (s *site) slotActs(c Change) []act {
	id, _, _ := strings.Cut(idOf(c.Key), "/")
	unit := s.whole(id)
	switch {
	case c.Before == "":
		return []act{{kind: Fit, change: c, unit: unit}}
	case c.After == "":
		return []act{{kind: TakeOut, change: c, unit: unit}}
	}
	return []act{ // also where only the base changes: the module comes off for that
		{kind: TakeOut, change: Change{c.Key, c.Before, ""}, unit: unit},
		{kind: Fit, change: Change{c.Key, "", c.After}, unit: unit},
	}
}

func (s *site) cableActs(c Change) []act {
	switch {
	case c.Before == "":
		return []act{{kind: Pull, change: c}}
	case c.After == "":
		return []act{{kind: Withdraw, change: c, unit: s.networkUnit(c.Key)}}
	}
	// One cable for another under the same name: the new one is laid first and the old one goes last.
	return []act{
		{kind: Pull, change: Change{c.Key, c.Before, c.Before + " + " + c.After}},
		{kind: Withdraw, change: Change{c.Key, c.Before + " + " + c.After, c.After}, unit: s.networkUnit(c.Key)},
	}
}

// thingAct puts in, takes away or exchanges a coupler, supply, protection and so on.
func (s *site) thingAct(c Change) act {
	unit := s.thingUnit(c)
	switch {
	case c.Before == "":
		return act{kind: Install, change: c, unit: unit}
	case c.After == "":
		return act{kind: Remove, change: c, unit: unit}
	}
	return act{kind: Exchange, change: c, unit: unit}
}

// thingUnit: in an installed station all of these sit behind live supply bars.
func (s *site) thingUnit(c Change) string {
	id := idOf(c.Key)
	switch kindOf(c.Key) {
	case station, enclosure, coupler, endPiece:
		return s.whole(id)
	case box:
		return ""
	}
	return s.whole(s.stationOf(kindOf(c.Key), id))
}

// stationOf returns the station of a feeder, supply or protection in either design.
func (s *site) stationOf(kind, id string) string {
	for _, d := range []*design.Design{s.old, s.new} {
		switch kind {
		case feeder:
			for _, f := range d.Feeders {
				if f.ID == id {
					return f.Station
				}
			}
		case supply:
			for _, u := range d.Supplies {
				if u.ID == id {
					return u.Station
				}
			}
		case protection:
			for _, st := range d.Stations {
				if strings.HasPrefix(id, st.ID+"-") {
					return st.ID
				}
			}
		}
	}
	return ""
}

// byKind sorts acts into the order in which they are done at one time.
func byKind(acts []act) {
	rank := func(a act) int { return slices.Index(kindOrder, a.kind) }
	slices.SortStableFunc(acts, func(a, b act) int {
		if d := rank(a) - rank(b); d != 0 {
			return d
		}
		return natural(a.change.Key, b.change.Key)
	})
}
