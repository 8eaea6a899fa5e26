package modification

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railwright/internal/design"
)

// A unit is what is switched off together: "group:ID" or "station:ID".

// site answers where things sit in the old and the new design. What is installed counts: a terminal's unit
// is that of the old design, and the new one's only where the slot is new.
type site struct {
	old, new *design.Design
	stations map[string]bool     // installed stations
	groups   map[string]string   // "STATION/SLOT" -> group id
	signals  map[string][]string // group id -> signals on it in the old design, sorted
	stationG map[string][]string // station -> its groups in the old design
	feeds    map[string]string   // protection id -> group id, from both designs
}

func lookAt(old, new *design.Design) *site {
	s := &site{
		old: old, new: new, stations: map[string]bool{}, groups: map[string]string{}, signals: map[string][]string{}, stationG: map[string][]string{},
		feeds: map[string]string{},
	}
	for _, st := range new.Stations {
		s.slots(st)
	}
	for _, st := range old.Stations {
		s.stations[st.ID] = true
		s.slots(st)
		for _, g := range st.SupplyGroups {
			s.stationG[st.ID] = append(s.stationG[st.ID], g.ID)
		}
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				if c.SignalID != "" {
					s.signals[sl.SupplyGroup] = append(s.signals[sl.SupplyGroup], c.SignalID)
				}
			}
		}
	}
	for id := range s.signals {
		slices.Sort(s.signals[id])
	}
	for _, d := range []*design.Design{new, old} {
		for _, p := range d.Protections {
			if g, ok := strings.CutPrefix(p.Protects, "group:"); ok {
				s.feeds[p.ID] = g
			}
		}
	}
	return s
}

// slots notes the group of each slot; the design looked at last wins.
func (s *site) slots(st design.Station) {
	for _, sl := range st.Slots {
		s.groups[fmt.Sprintf("%s/%d", st.ID, sl.Slot)] = sl.SupplyGroup
	}
}

// unit returns what must be off for work on a slot's terminals; "" where nothing installed is touched.
func (s *site) unit(stationID, slotNumber string) string {
	if !s.stations[stationID] {
		return ""
	}
	group := s.groups[stationID+"/"+slotNumber]
	if group == "" || !slices.Contains(s.stationG[stationID], group) {
		return "station:" + stationID // a group that does not stand yet: its slots are worked on anyway
	}
	return "group:" + group
}

// whole returns the unit of a whole station; "" for one that is not installed.
func (s *site) whole(stationID string) string {
	if !s.stations[stationID] {
		return ""
	}
	return "station:" + stationID
}

// endUnit returns the unit of a wire's end: "station:ID/SLOT/TERMINAL", "protection:ID/out", ...
func (s *site) endUnit(end string) string {
	kind, rest, _ := strings.Cut(end, ":")
	parts := strings.Split(rest, "/")
	switch kind {
	case "station":
		if len(parts) > 1 {
			if _, err := strconv.Atoi(parts[1]); err == nil {
				return s.unit(parts[0], parts[1])
			}
		}
		return s.whole(parts[0])
	case "protection":
		group := s.feeds[parts[0]]
		for id, groups := range s.stationG {
			if slices.Contains(groups, group) {
				return s.whole(id) // the supply bar in front of it is live as long as the station is
			}
		}
	case "supply_bar", "supply":
		for id := range s.stations {
			if strings.HasPrefix(parts[0], id) && (len(parts[0]) == len(id) || parts[0][len(id)] == '-') {
				return s.whole(id)
			}
		}
	}
	return ""
}

// off returns the signals that are out of service while the units are off, sorted.
func (s *site) off(units []string) []string {
	var out []string
	for _, u := range units {
		switch kindOf(u) {
		case "group":
			out = append(out, s.signals[idOf(u)]...)
		case "network":
			out = append(out, s.cutOff(idOf(u))...)
		default:
			for _, g := range s.stationG[idOf(u)] {
				out = append(out, s.signals[g]...)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// networkUnit returns the unit of an installed network cable; "" for other cables.
func (s *site) networkUnit(key string) string {
	for _, g := range s.old.Network.Segments {
		if g.Cable == idOf(key) {
			return "network:" + g.Cable
		}
	}
	return ""
}

// cutOff returns the signals of the stations that lose the controller when a network cable is gone.
func (s *site) cutOff(cable string) []string {
	reached := map[string]bool{"controller": true}
	for grown := true; grown; {
		grown = false
		for _, g := range s.old.Network.Segments {
			if g.Cable != cable && reached[g.From] != reached[g.To] {
				reached[g.From], reached[g.To], grown = true, true, true
			}
		}
	}
	var out []string
	for _, st := range s.old.Stations {
		if !reached["station:"+st.ID] {
			for _, g := range s.stationG[st.ID] {
				out = append(out, s.signals[g]...)
			}
		}
	}
	return out
}

// loadUnit is the station of an address or node, so that it is loaded while that station is off anyway; the
// controller alone ("") where the station is not installed.
func (s *site) loadUnit(key string) string {
	if kindOf(key) == node {
		return s.whole(idOf(key))
	}
	return ""
}

// owner returns the station of a group of the old design.
func (s *site) owner(group string) string {
	for _, st := range s.old.Stations {
		for _, g := range st.SupplyGroups {
			if g.ID == group {
				return st.ID
			}
		}
	}
	return ""
}
