package packing

import q "railwright/internal/quantity"

// preferring weighs a station made from nothing against one that keeps what is preferred, and takes
// the cheaper with the price of its changes; of equal ones, the one that changes less.
func preferring(o Order, free *Station, refusal *Refusal) (*Station, *Refusal) {
	if free != nil {
		free.Cost.Changes = changes(&o.Prefer, free) + outages(&o, free)
	}
	best, r := free, refusal
	for _, f := range o.Prefer.trials(&o) {
		st, refused := complete(o, f)
		if refused != nil {
			continue
		}
		st.Cost.Changes = changes(&o.Prefer, st) + outages(&o, st)
		if best == nil || st.Cost.Total+st.Cost.Changes < best.Cost.Total+best.Cost.Changes ||
			st.Cost.Total+st.Cost.Changes == best.Cost.Total+best.Cost.Changes && st.Cost.Changes < best.Cost.Changes {
			best, r = st, nil
		}
	}
	if best != nil && free != nil && best != free {
		best.Bound = min(free.Bound, best.Cost.Total)
		best.Proven = free.Proven && best.Cost.Total+best.Cost.Changes == free.Cost.Total
	} else if best != nil {
		best.Proven = best.Proven && best.Cost.Changes == 0
	}
	return best, r
}

// trials lists what may be kept: all, and all but the slots at the right end that hold no signal
// any more. Fixed slots win over preferred ones.
func (p *Prefer) trials(o *Order) []Fixed {
	here := map[int]bool{}
	for _, i := range o.Signals {
		here[i] = true
	}
	for n := range o.Fixed.Slots {
		for _, i := range o.Fixed.Slots[n].Channels {
			here[i] = false // it has its channel
		}
	}
	all := Fixed{Coupler: o.Fixed.Coupler, Enclosure: o.Fixed.Enclosure, MaxIn: o.Fixed.MaxIn, MaxOut: o.Fixed.MaxOut, Protect: o.Fixed.Protect, Slots: append([]FixedSlot(nil), o.Fixed.Slots...)}
	if all.Coupler == "" {
		all.Coupler = p.Coupler
	}
	for n := len(all.Slots); n < len(p.Slots); n++ {
		s := FixedSlot{Module: p.Slots[n].Module, Infeed: p.Slots[n].Infeed, Channels: map[int]int{}}
		for _, c := range p.Channels {
			if c.Slot == n+1 && here[c.Signal] {
				s.Channels[c.Channel] = c.Signal
			}
		}
		all.Slots = append(all.Slots, s)
	}
	out := []Fixed{all}
	trimmed := all
	for n := len(trimmed.Slots); n > len(o.Fixed.Slots) && len(trimmed.Slots[n-1].Channels) == 0; n-- {
		trimmed.Slots = trimmed.Slots[:n-1]
	}
	if len(trimmed.Slots) != len(all.Slots) {
		out = append(out, trimmed)
	}
	if o.Fixed.Coupler == "" && p.Coupler != "" {
		for _, f := range out[:len(out):len(out)] {
			f.Coupler = ""
			out = append(out, f)
		}
	}
	return out
}

// changes sums the prices of the preferences that the station does not keep.
func changes(p *Prefer, st *Station) q.Money {
	var total q.Money
	if p.Coupler != "" && st.Coupler.Code != p.Coupler {
		total += p.CouplerCost
	}
	for n, s := range p.Slots {
		if n >= len(st.Slots) || st.Slots[n].Module.Code != s.Module {
			total += s.Cost
		}
	}
	for _, c := range p.Channels {
		if !st.at(c.Signal, c.Slot, c.Channel) {
			total += c.Cost
		}
	}
	return total
}

func (st *Station) at(signal, slot, channel int) bool {
	if slot < 1 || slot > len(st.Slots) {
		return false
	}
	for _, c := range st.Slots[slot-1].Used {
		if c.Printed == channel {
			return c.Signal == signal
		}
	}
	return false
}
