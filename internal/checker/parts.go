package checker

import (
	"fmt"
	"maps"
	"math"
	"slices"
)

// bill is what the design's own stations and cables need, in pieces or millimetres of cable.
type bill struct {
	pieces map[string]int64
	cable  map[string]int64 // ordered, mm
	fixed  int64            // places' fixed cost
}

func (r *run) bill() bill {
	b := bill{map[string]int64{}, map[string]int64{}, 0}
	add := func(code string, n int64) {
		if code != "" {
			b.pieces[code] += n
		}
	}
	for _, st := range r.stations {
		add(st.Coupler, 1)
		add(st.EndPiece, 1)
		add(st.Enclosure, 1)
		b.fixed += int64(st.place.FixedCost)
		for _, sl := range st.slots {
			add(sl.Module, 1)
			add(sl.Base, 1)
		}
		for _, g := range st.groups {
			add(g.Protection, 1)
		}
	}
	for _, s := range r.d.Supplies {
		add(s.Type, 1)
	}
	for i := range r.d.Feeders {
		add(r.feederDevice(&r.d.Feeders[i]), 1)
	}
	for _, x := range r.d.Boxes {
		add(x.Type, 1)
	}
	profile := r.parts.network[r.p.Network.Profile]
	for i := range r.d.Cables {
		c := &r.d.Cables[i]
		b.cable[c.Type] += r.ordered(mm(c.LengthM))
		if c.Use == "network" && profile != nil {
			add(profile.EndPart, 2)
		}
	}
	if profile != nil && r.p.Network.Topology == "star" && profile.SwitchPart != "" && profile.SwitchPorts > 0 {
		add(profile.SwitchPart, int64((len(r.stations)+profile.SwitchPorts-1)/profile.SwitchPorts))
	}
	return b
}

// cableMoney prices millimetres of cable by the metre.
func cableMoney(l, perMetre int64) int64 { return l * perMetre / 1000 }

// cost is the money of the bill, places' fixed cost included.
func (r *run) billMoney(b bill) int64 {
	sum := b.fixed
	for code, n := range b.pieces {
		sum += n * r.parts.price[code]
	}
	for code, l := range b.cable {
		sum += cableMoney(l, r.parts.price[code])
	}
	return sum
}

// partLaw: the parts list holds the bill, at list prices.
func partLaw(r *run) {
	b := r.bill()
	have, fixed := map[string]float64{}, int64(0)
	seen := map[string]bool{}
	for _, p := range r.d.Parts {
		subject := "part:" + p.Code
		if key := p.Code + "\x00" + p.For; seen[key] {
			r.bad("PART", subject, "one line for each part and use", "two lines for %q", p.For)
		} else {
			seen[key] = true
		}
		price, known := r.parts.price[p.Code]
		if !known {
			fixed += money(p.Price * p.Count)
			continue
		}
		have[p.Code] += p.Count
		if math.Abs(p.Price*1e4-float64(price)) > 50.01 {
			r.bad("PART", subject, fmt.Sprintf("price %.4f", float64(price)/1e4), "price %v", p.Price)
		}
		unit := "pc"
		if r.parts.cable[p.Code] != nil {
			unit = "m"
		}
		if p.Unit != "" && p.Unit != unit {
			r.bad("PART", subject, "unit "+unit, "unit %q", p.Unit)
		}
		if p.Spare < 0 {
			r.bad("PART", subject, "no negative spare", "spare %d", p.Spare)
		}
	}
	if fixed != 0 && fixed != b.fixed {
		r.bad("PART", "design", fmt.Sprintf("parts of the hardware list, or the places' fixed cost %.2f", float64(b.fixed)/1e4), "other lines worth %.2f", float64(fixed)/1e4)
	}
	want := map[string]float64{}
	for code, n := range b.pieces {
		want[code] += float64(n)
	}
	for code, l := range b.cable {
		want[code] += float64(l) / 1000
	}
	for _, code := range slices.Sorted(maps.Keys(want)) {
		if math.Abs(have[code]-want[code]) > 1e-6 {
			r.bad("PART", "part:"+code, fmt.Sprintf("count %v", want[code]), "count %v", have[code])
		}
	}
	for code, n := range have {
		if _, needed := want[code]; !needed && n != 0 {
			r.bad("PART", "part:"+code, "no part that nothing needs", "count %v", n)
		}
	}
}
