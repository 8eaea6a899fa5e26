package packing

import (
	"slices"

	q "railwright/internal/quantity"
)

// outages prices the work on a station that is installed: it goes off as a whole where modules are added,
// else each supply group that gets new signals goes off by itself.
func outages(o *Order, st *Station) q.Money {
	if !slices.ContainsFunc(o.Fixed.Slots, func(s FixedSlot) bool { return s.Built }) {
		return 0
	}
	prices := &o.Place.Env.Book.Project.Basis.Prices
	if len(st.Slots) > len(o.Fixed.Slots) {
		return prices.Labour(prices.StationOff)
	}
	seated := map[int]bool{}
	for _, s := range o.Fixed.Slots {
		for _, i := range s.Channels {
			seated[i] = true
		}
	}
	off := map[int]bool{}
	for _, s := range st.Slots {
		for _, c := range s.Used {
			if !seated[c.Signal] {
				off[s.Group] = true
			}
		}
	}
	return q.Money(len(off)) * prices.Labour(prices.GroupOff)
}
