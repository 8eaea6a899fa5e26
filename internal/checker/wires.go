package checker

import (
	"fmt"
	"slices"
	"strings"
)

// slotEnd is how a wire's end at a slot begins, "station:ID/SLOT"; slotOf takes that from an end.
func slotEnd(st *station, sl *slot) string { return fmt.Sprintf("station:%s/%d", st.ID, sl.Slot) }

func slotOf(end string) string {
	parts := strings.SplitN(end, "/", 3)
	if len(parts) < 3 {
		return ""
	}
	return parts[0] + "/" + parts[1]
}

// wireLaw: each conductor that a placed signal needs is exactly one wire, from the device to the
// terminal of its channel, in a core of the bundle's cable.
func wireLaw(r *run) {
	cables := map[string]*docCable{}
	for i := range r.d.Cables {
		cables[r.d.Cables[i].ID] = &r.d.Cables[i]
	}
	bySignal, cores, ends := map[string][]*docWire{}, map[string]string{}, map[string]string{}
	for i := range r.d.Wires {
		w := &r.d.Wires[i]
		c := cables[w.Cable]
		if c == nil && (w.Cable != "" || w.Signal != "") {
			r.bad("WIRE", "wire:"+w.ID, "a cable of the design", "cable %q", w.Cable)
			continue
		}
		if c != nil {
			r.wireInCable(w, c, cores)
		}
		for _, end := range []string{w.From, w.To} {
			if slotOf(end) != "" && strings.HasPrefix(end, "station:") && isNumber(strings.SplitN(end, "/", 3)[1]) {
				if other := ends[end]; other != "" {
					r.bad("WIRE", "wire:"+w.ID, "one wire on a terminal", "%s has wires %s and %s", end, other, w.ID)
				}
				ends[end] = w.ID
			}
		}
		if w.Signal != "" && !screenWire(w) {
			bySignal[w.Signal] = append(bySignal[w.Signal], w)
		}
		if w.Signal != "" && r.sig[w.Signal] == nil {
			r.bad("WIRE", "wire:"+w.ID, "a signal of the list", "signal %q", w.Signal)
		}
	}
	for _, x := range r.sigs {
		if at := r.at[x.ID]; len(at) == 1 {
			r.signalWires(x, at[0], bySignal[x.ID], cables)
		} else if len(at) == 0 && len(bySignal[x.ID]) > 0 {
			r.bad("WIRE", "signal:"+x.ID, "no wires for a signal that is not placed", "%d wires", len(bySignal[x.ID]))
		}
	}
}

func isNumber(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// screenWire: a screen is no core; its wire lands on the screen bar.
func screenWire(w *docWire) bool {
	return w.Core == "screen" || strings.HasSuffix(w.From, "/screen") || strings.HasSuffix(w.To, "/screen")
}

func (r *run) wireInCable(w *docWire, c *docCable, cores map[string]string) {
	subject := "wire:" + w.ID
	if w.Core == "" {
		r.bad("WIRE", subject, "a core", "no core")
	}
	if other := cores[c.ID+"\x00"+w.Core]; other != "" {
		r.bad("WIRE", subject, "each core once", "core %s of %s in %s and %s", w.Core, c.ID, other, w.ID)
	}
	cores[c.ID+"\x00"+w.Core] = w.ID
	if isNumber(w.Core) && len(w.Core) < 5 {
		n := 0
		fmt.Sscan(w.Core, &n)
		if n < 1 || n > c.Cores {
			r.bad("WIRE", subject, fmt.Sprintf("a core from 1 to %d", c.Cores), "core %s", w.Core)
		}
	}
	if !screenWire(w) {
		same(r, "WIRE", subject, "area_mm2", w.AreaMM2, c.AreaMM2)
	}
	ends := func(a, b string) bool { return strings.HasPrefix(w.From, a+"/") && strings.HasPrefix(w.To, b+"/") }
	if c.Use == "field" && !ends(c.From, c.To) && !ends(c.To, c.From) {
		r.bad("WIRE", subject, "ends at "+c.From+" and "+c.To, "from %s to %s", w.From, w.To)
	}
	if w.Signal != "" && !slices.Contains(c.Signals, w.Signal) {
		r.bad("WIRE", subject, "a signal of its cable", "signal %s not in cable %s", w.Signal, c.ID)
	}
}

// signalWires compares a placed signal's wires with its terminals.
func (r *run) signalWires(x *signal, at spot, wires []*docWire, cables map[string]*docCable) {
	subject := "signal:" + x.ID
	if len(wires) != len(x.needs) {
		r.bad("WIRE", subject, fmt.Sprintf("%d wires: %s", len(x.needs), strings.Join(x.needs, ", ")), "%d wires", len(wires))
	}
	for _, f := range x.needs {
		end := slotEnd(at.st, at.sl) + "/" + at.ch.Terminals[f]
		n := 0
		for _, w := range wires {
			device := ""
			switch end {
			case w.To:
				device = w.From
			case w.From:
				device = w.To
			default:
				continue
			}
			n++
			if !strings.HasSuffix(device, f) || !strings.HasPrefix(device, "device:"+x.device) {
				r.bad("WIRE", subject, "wire to "+f+" of device "+x.device, "wire %s from %s to %s", w.ID, device, end)
			}
			r.clamp(x, at, f, w)
		}
		if n != 1 {
			r.bad("WIRE", subject, "one wire to "+end+" for "+f, "%d wires", n)
		}
	}
	cable := ""
	for _, w := range wires {
		if cable != "" && w.Cable != cable {
			r.bad("WIRE", subject, "all wires in one cable", "cables %s and %s", cable, w.Cable)
		}
		cable = w.Cable
	}
}

// clamp: the terminal takes the core's area.
func (r *run) clamp(x *signal, at spot, f string, w *docWire) {
	for _, t := range at.ch.set.Terminals {
		if t.Function != f {
			continue
		}
		tooThin, tooThick := t.MinArea > 0 && w.AreaMM2 < float64(t.MinArea), t.MaxArea > 0 && w.AreaMM2 > float64(t.MaxArea)
		if (tooThin || tooThick) && !r.excused("signal:"+x.ID, "cable:"+w.Cable, "wire:"+w.ID, at.st.subject, "group:"+at.sl.Group) {
			r.bad("LIM", "signal:"+x.ID, fmt.Sprintf("%v to %v mm2 on the terminal, or an error finding", t.MinArea, t.MaxArea), "%v mm2", w.AreaMM2)
		}
	}
}
