package modification

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"railwright/internal/design"
)

// State is what stands, lies and is landed, as facts: "slot:P1-S1/3" -> "module di16, base base-8".
type State map[string]string

// The kinds of facts, as the part of a key before the colon, in the order in which things are put in.
const (
	station    = "station"
	enclosure  = "enclosure"
	coupler    = "coupler"
	endPiece   = "end_piece"
	feeder     = "feeder"
	supply     = "supply"
	protection = "protection"
	box        = "junction_box"
	slot       = "slot"
	cable      = "cable"
	wire       = "wire"
	node       = "node"
	channel    = "channel"
	address    = "address"
	label      = "label"
)

// StateOf returns the facts of a design.
func StateOf(d *design.Design) State {
	s := State{}
	for _, st := range d.Stations {
		s.station(st)
	}
	for _, f := range d.Feeders {
		s.put(feeder, f.ID, "from place:%s to station:%s, %s, cable %s, %g V", f.From, f.Station, f.Class, f.Cable, f.VoltageV)
	}
	for _, u := range d.Supplies {
		s.put(supply, u.ID, "%d x %s, %s, in station:%s on feeder:%s", u.Units, u.Type, u.Class, u.Station, u.Feeder)
	}
	for _, p := range d.Protections {
		s.put(protection, p.ID, "%s for %s", p.Type, p.Protects)
	}
	for _, b := range d.JunctionBoxes {
		s.put(box, b.ID, "%s at place:%s", b.Type, b.Place)
	}
	for _, c := range d.Cables {
		s.put(cable, c.ID, "%s, %d cores, from %s to %s by %s", c.Type, c.Cores, c.From, c.To, strings.Join(c.Route, " "))
	}
	for _, w := range d.Wires {
		s.put(wire, w.ID, "core %s, %g mm2, from %s to %s", w.Core, w.AreaMM2, w.From, w.To)
	}
	for _, a := range d.Network.Addresses {
		s.put(node, a.Station, "%s, node %d, %s", a.Name, a.Node, a.Address)
	}
	return s
}

func (s State) station(st design.Station) {
	s.put(station, st.ID, "%s at place:%s", st.Construction, st.Place)
	s.put(coupler, st.ID, "%s", st.Coupler)
	s.put(enclosure, st.ID, "%s", st.Enclosure)
	if st.EndPiece != "" {
		s.put(endPiece, st.ID, "%s", st.EndPiece)
	}
	for _, sl := range st.Slots {
		s.put(slot, fmt.Sprintf("%s/%d", st.ID, sl.Slot), "%s", slotText(sl))
		for _, c := range sl.Channels {
			if c.SignalID == "" {
				continue
			}
			s.put(channel, fmt.Sprintf("%s/%d/%d", st.ID, sl.Slot, c.Channel), "signal:%s as %s", c.SignalID, c.Kind)
			s.put(address, c.SignalID, "%s", c.Address)
			if c.Signal != nil {
				s.put(label, c.SignalID, "%s", *c.Signal)
			}
		}
	}
}

func slotText(sl design.Slot) string {
	text := "module " + sl.Module
	if sl.Base != "" {
		text += ", base " + sl.Base
	}
	if sl.Infeed {
		text += ", infeed point"
	}
	return text
}

func (s State) put(kind, id, format string, args ...any) {
	s[kind+":"+id] = fmt.Sprintf(format, args...)
}

// Equal reports whether two states hold the same facts.
func (s State) Equal(t State) bool { return maps.Equal(s, t) }

// Differences lists the keys whose facts differ, sorted.
func (s State) Differences(t State) []string {
	var out []string
	for k, v := range s {
		if w, ok := t[k]; !ok || w != v {
			out = append(out, k)
		}
	}
	for k := range t {
		if _, ok := s[k]; !ok {
			out = append(out, k)
		}
	}
	slices.Sort(out)
	return out
}

// Apply carries out a step: each change's fact must be as the step expects it, else nothing is changed.
func (s State) Apply(step Step) error {
	for _, c := range step.Changes {
		if now, ok := s[c.Key]; now != c.Before || ok != (c.Before != "") {
			return fmt.Errorf("step %d (%s): %s is %q, expected %q", step.Number, step.Kind, c.Key, now, c.Before)
		}
	}
	for _, c := range step.Changes {
		if c.After == "" {
			delete(s, c.Key)
		} else {
			s[c.Key] = c.After
		}
	}
	return nil
}

// Change is what a step does to one fact; "" stands for nothing there.
type Change struct {
	Key    string `json:"key"`
	Before string `json:"before"`
	After  string `json:"after"`
}

func kindOf(key string) string { kind, _, _ := strings.Cut(key, ":"); return kind }

func idOf(key string) string { _, id, _ := strings.Cut(key, ":"); return id }

// natural orders ids so that slot 9 comes before slot 10.
func natural(a, b string) int {
	for a != "" && b != "" {
		na, ra := number(a)
		nb, rb := number(b)
		if na >= 0 && nb >= 0 {
			if c := cmp.Compare(na, nb); c != 0 {
				return c
			}
			a, b = ra, rb
			continue
		}
		if a[0] != b[0] {
			return cmp.Compare(a[0], b[0])
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}

// number reads a number from the start of a text; -1 where there is none.
func number(s string) (int, string) {
	i := 0
	n := 0
	for i < len(s) && i < 9 && s[i] >= '0' && s[i] <= '9' {
		n = 10*n + int(s[i]-'0')
		i++
	}
	if i == 0 {
		return -1, s
	}
	return n, s[i:]
}
