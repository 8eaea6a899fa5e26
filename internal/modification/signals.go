package modification

import (
	"maps"
	"slices"
	"strings"

	"railwright/internal/design"
)

// seat is all that a loop sheet shows of a signal's connection.
type seat struct{ tag, channel, address, cable, wiring string }

func seats(d *design.Design) map[string]*seat {
	out := map[string]*seat{}
	for _, st := range d.Stations {
		for _, sl := range st.Slots {
			for _, c := range sl.Channels {
				if c.SignalID == "" {
					continue
				}
				s := &seat{channel: strings.Join([]string{st.ID, text(sl.Slot), text(c.Channel), sl.Module}, "/"), address: c.Address, tag: c.SignalID}
				if c.Signal != nil {
					s.tag = *c.Signal
				}
				out[c.SignalID] = s
			}
		}
	}
	for _, c := range d.Cables {
		for _, id := range c.Signals {
			if out[id] != nil {
				out[id].cable = c.ID + " " + c.Type
			}
		}
	}
	for _, w := range d.Wires {
		if out[w.Signal] != nil {
			out[w.Signal].wiring += w.ID + " " + w.From + " " + w.To + "\n"
		}
	}
	return out
}

// signalChanges says what changes for each signal.
func signalChanges(in Input) []SignalChange {
	old, new := seats(in.Old), seats(in.New)
	ids := map[string]bool{}
	for id := range old {
		ids[id] = true
	}
	for id := range new {
		ids[id] = true
	}
	var out []SignalChange
	for _, id := range slices.SortedFunc(maps.Keys(ids), natural) {
		c := SignalChange{Signal: id, Tag: id, Sheet: true}
		a, b := old[id], new[id]
		switch {
		case a == nil:
			c.Tag, c.What = b.tag, []string{"added"}
		case b == nil:
			c.Tag, c.What, c.Sheet = a.tag, []string{"removed"}, false
		default:
			c.Tag, c.What = b.tag, differing(a, b)
		}
		if len(c.What) > 0 {
			out = append(out, c)
		}
	}
	return out
}

func differing(a, b *seat) []string {
	var out []string
	add := func(changed bool, what string) {
		if changed {
			out = append(out, what)
		}
	}
	add(a.tag != b.tag, "renamed")
	add(a.channel != b.channel, "moved")
	add(a.address != b.address, "address")
	add(a.cable != b.cable, "cable")
	add(a.wiring != b.wiring, "wiring")
	return out
}
