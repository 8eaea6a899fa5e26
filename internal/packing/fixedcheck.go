package packing

import (
	"fmt"
	"slices"

	"railwright/internal/fit"
	"railwright/internal/project"
	q "railwright/internal/quantity"
)

// checkFixed holds the fixed parts against the rules of sharing. What a choice fixes is refused; what
// is built stands, with a warning.
func (a *attempt) checkFixed() *Refusal {
	b := a.place.Env.Book
	at := map[int]int{}
	for n := range a.exists.slots {
		s := &a.exists.slots[n]
		run := &a.exists.groups[s.group]
		var sum q.Microamps
		for _, c := range s.used {
			at[c.Signal] = n
			sum += fit.ChannelCurrentOf(&b.Signals[c.Signal], b.Current(c.Signal), &s.module.Channels[c.Set])
			first := s.used[0].Signal
			switch {
			case b.ModuleKey(c.Signal) != b.ModuleKey(first):
				if r := a.doubt(n, "sharing", []int{first, c.Signal}, "signals %s (%s) and %s (%s) may not share a module",
					b.Signals[first].ID, b.ModuleKey(first), b.Signals[c.Signal].ID, b.ModuleKey(c.Signal)); r != nil {
					return r
				}
			case b.GroupKey(c.Signal) != run.key:
				if r := a.doubt(n, "sharing", []int{c.Signal}, "signal %s (%s) may not sit in a supply group %s", b.Signals[c.Signal].ID, b.GroupKey(c.Signal), run.key); r != nil {
					return r
				}
			}
		}
		if most := s.module.MaxTotal; most > 0 && sum > most {
			if r := a.doubt(n, "module current", nil, "%s through module %s, %s allowed", sum, s.module.Code, most); r != nil {
				return r
			}
		}
	}
	return a.checkPartners(at)
}

// checkPartners looks for redundant partners among the fixed channels.
func (a *attempt) checkPartners(at map[int]int) *Refusal {
	b := a.place.Env.Book
	byGroup := fit.RedundancyLevel(&b.Project.Basis) != project.LevelModule
	for n := range a.exists.slots {
		for _, c := range a.exists.slots[n].used {
			for _, o := range b.Partners[c.Signal] {
				m, here := at[o]
				if !here || o < c.Signal || m != n && (!byGroup || a.exists.slots[m].group != a.exists.slots[n].group) {
					continue
				}
				if r := a.doubt(max(n, m), "redundancy", []int{c.Signal, o}, "redundant partners %s and %s may not share that", b.Signals[c.Signal].ID, b.Signals[o].ID); r != nil {
					return r
				}
			}
		}
	}
	return nil
}

// doubt is a refusal for what is chosen, and a warning for what is built.
func (a *attempt) doubt(slot int, limit string, signals []int, format string, args ...any) *Refusal {
	text := fmt.Sprintf("slot %d: ", slot+1) + fmt.Sprintf(format, args...)
	if !a.exists.slots[slot].Built {
		return &Refusal{Limit: limit, Text: text, Signals: signals, Proof: true, Remedy: "change that decision"}
	}
	a.exists.doubts = append(a.exists.doubts, Warning{Code: limit, Text: text})
	return nil
}

// spareWarnings names the kinds of signals for which a station with built parts keeps less spare than
// the basis asks for.
func (w *writer) spareWarnings() {
	if !slices.ContainsFunc(w.a.exists.slots, func(s oldSlot) bool { return s.Built }) {
		return
	}
	b := w.env.Book
	type heap struct {
		key  fit.GroupKey
		kind project.Kind
	}
	var heaps []heap
	used, free := map[heap]int64{}, map[heap]int64{}
	for i := range w.st.Slots {
		s := &w.st.Slots[i]
		for set := range s.Module.Channels {
			h := heap{w.st.Groups[s.Group].Key, s.Module.Channels[set].Kind}
			if !slices.Contains(heaps, h) {
				heaps = append(heaps, h)
			}
			n := int64(0)
			for _, c := range s.Used {
				n += int64(b2i(c.Set == set))
			}
			used[h] += n
			free[h] += int64(s.Module.Channels[set].Count) - n
		}
	}
	for _, h := range heaps {
		wanted := q.CeilDiv(used[h]*b.Project.Basis.Spare[h.kind], 1000)
		if used[h] > 0 && free[h] < wanted {
			w.st.Warnings = append(w.st.Warnings, Warning{
				Code: "spare", Kind: string(h.kind), Group: h.key.String(), Value: free[h], Wanted: wanted,
				Text: fmt.Sprintf("%d free channels for %s in groups %s, %d wanted by the basis", free[h], h.kind, h.key, wanted),
			})
		}
	}
}
