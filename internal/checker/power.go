package checker

import (
	"cmp"
	"fmt"
	"math"

	"railwright/internal/hardware"
)

// powerLaw: supply units, feeders, protections, enclosure and coupler of each station (sections
// 4, 6, 7 and 9).
func powerLaw(r *run) {
	feeders := map[string]*docFeeder{}
	for i := range r.d.Feeders {
		feeders[r.d.Feeders[i].ID] = &r.d.Feeders[i]
		if r.station[r.d.Feeders[i].Station] == nil {
			r.bad("REF", "feeder:"+r.d.Feeders[i].ID, "a station of the design", "station %q", r.d.Feeders[i].Station)
		}
	}
	for _, s := range r.d.Supplies {
		if r.station[s.Station] == nil {
			r.bad("REF", "supply:"+s.ID, "a station of the design", "station %q", s.Station)
		}
	}
	for _, st := range r.stations {
		if st.con == nil || st.coupler == nil {
			continue
		}
		r.supplyLaw(st, feeders)
		r.feederLaw(st, feeders)
		r.enclosureLaw(st)
		r.couplerLaw(st)
	}
	r.protectionList()
}

// need is one kind of supply of a station: what its units must give.
type need struct {
	class string
	volts float64
	load  int64
}

// needs adds up section 9: a unit of each class feeds coupler and logic beside its groups; groups
// of 48 V have units of their own.
func (r *run) needs(st *station) []need {
	own := int64(st.coupler.Supply) + (st.logic()*st.coupler.LogicFactor+999)/1000
	sum, any48 := map[string]int64{}, map[string]bool{}
	ups := false
	for _, g := range st.groups {
		class := "normal"
		if g.ups {
			class, ups = "ups", true
		}
		switch g.volt {
		case "24vdc":
			sum[class] += g.load
		case "48vdc":
			sum[class+"48"] += g.load
			any48[class] = true
		}
	}
	list := []need{{"normal", 24, own + sum["normal"]}}
	if any48["normal"] {
		list = append(list, need{"normal", 48, sum["normal48"]})
	}
	if ups {
		list = append(list, need{"ups", 24, own + sum["ups"]})
	}
	if any48["ups"] {
		list = append(list, need{"ups", 48, sum["ups48"]})
	}
	return list
}

// wanted is the load with coincidence and margin.
func (r *run) wanted(load int64) int64 {
	s := r.p.Basis.Supply
	load = (load*s.Coincidence + 999) / 1000
	return (load*(1000+s.Margin) + 999) / 1000
}

// output is what a unit gives at the ambient; 0 if it may not be used there.
func output(u *hardware.SupplyUnit, ambient float64) int64 {
	if u.AmbientMax != 0 && float64(u.AmbientMax) < ambient {
		return 0
	}
	over := int64(math.Round(max(0, ambient-float64(u.DerateFrom)) * 1000)) // mK
	return max(0, int64(u.Output)*(1_000_000-u.DeratePerK*over)/1_000_000)
}

// units chooses k like units, those that may fail included: cheapest, then fewer, then code.
func (r *run) units(volts float64, ambient float64, wanted int64) (best *hardware.SupplyUnit, k int64) {
	for i := range r.hw.Supplies {
		u := &r.hw.Supplies[i]
		spare := r.p.Basis.Supply.Spare
		if r.unused[u.Code] || math.Abs(float64(u.Voltage)-volts) > 0.5 || spare > 0 && !u.Decoupled {
			continue
		}
		for n := int64(1); n <= 4; n++ {
			if n*output(u, ambient) < wanted {
				continue
			}
			if all := n + spare; best == nil || cmp.Or(cmp.Compare(all*int64(u.Price), k*int64(best.Price)), cmp.Compare(all, k), cmp.Compare(u.Code, best.Code)) < 0 {
				best, k = u, all
			}
			break
		}
	}
	return best, k
}

func (r *run) supplyLaw(st *station, feeders map[string]*docFeeder) {
	have := map[string][]docSupply{}
	for _, s := range r.d.Supplies {
		if s.Station == st.ID {
			volts := 24.0
			if u := r.parts.supply[s.Type]; u != nil && u.Voltage > 36 {
				volts = 48
			}
			key := fmt.Sprint(s.Class, " ", volts)
			have[key] = append(have[key], s)
		}
	}
	for _, n := range r.needs(st) {
		key := fmt.Sprint(n.class, " ", n.volts)
		list := have[key]
		delete(have, key)
		want, k := r.units(n.volts, st.env.ambient, r.wanted(n.load))
		if want == nil {
			if !r.excused(st.subject) {
				r.bad("POW", st.subject, "an error finding: no supply unit does", "%d units %s V", len(list), key)
			}
			continue
		}
		if have := int64(len(list)); have != k {
			r.bad("POW", st.subject, fmt.Sprintf("%d units %s for %s V", k, want.Code, key), "%d units", have)
		}
		for _, s := range list {
			subject := "supply:" + s.ID
			same(r, "POW", subject, "type", s.Type, want.Code)
			same(r, "POW", subject, "units", int64(s.Units), k)
			if have := uA(s.LoadMA); !near(have, n.load, 2) {
				r.bad("POW", subject, fmt.Sprintf("load of the feed %d uA", n.load), "%d uA", have)
			}
			if w := r.wanted(n.load); !near(uA(s.NeedMA), w, 4) {
				r.bad("POW", subject, fmt.Sprintf("need of the feed %d uA", w), "%d uA", uA(s.NeedMA))
			}
			r.oneSupply(st, s, feeders, k)
		}
	}
	for _, list := range have {
		for _, s := range list {
			r.bad("POW", "supply:"+s.ID, "no unit without a load", "class %q type %q", s.Class, s.Type)
		}
	}
}

func (r *run) oneSupply(st *station, s docSupply, feeders map[string]*docFeeder, k int64) {
	u := r.parts.supply[s.Type]
	if u == nil {
		r.bad("REF", "supply:"+s.ID, "a supply unit of the list", "type %q", s.Type)
		return
	}
	if all := (k - r.p.Basis.Supply.Spare) * output(u, st.env.ambient); uA(s.LimitMA) != all {
		r.bad("POW", "supply:"+s.ID, fmt.Sprintf("limit_ma of the feed in uA %d", all), "%d", uA(s.LimitMA))
	}
	if f := feeders[s.Feeder]; f == nil || f.Station != st.ID {
		r.bad("POW", "supply:"+s.ID, "a feeder of its station", "feeder %q", s.Feeder)
	} else if source, ok := r.source(st, s.Class); ok && f.From != source {
		r.bad("POW", "feeder:"+f.ID, "from "+source+" for class "+s.Class, "from %s", f.From)
	}
	if s.LossW < 0 {
		r.bad("POW", "supply:"+s.ID, "no negative loss", "loss_w %v", s.LossW)
	}
}

// protectionList: one entry for each group and feeder, with its rating and load.
func (r *run) protectionList() {
	want := map[string]string{}
	load := map[string]float64{}
	for _, st := range r.stations {
		for _, g := range st.groups {
			if g.Protection != "" {
				want[g.subject], load[g.subject] = g.Protection, float64(g.load)/1e6
			}
		}
	}
	for i := range r.d.Feeders {
		f := &r.d.Feeders[i]
		want["feeder:"+f.ID], load["feeder:"+f.ID] = r.feederDevice(f), f.CurrentA
	}
	for _, p := range r.d.Protections {
		subject := "protection:" + p.ID
		typ, wanted := want[p.Protects]
		if !wanted {
			r.bad("POW", subject, "a group or feeder, once", "protects %q", p.Protects)
			continue
		}
		delete(want, p.Protects)
		same(r, "POW", subject, "type", p.Type, typ)
		if dev := r.parts.protection[p.Type]; dev != nil {
			same(r, "POW", subject, "rating_a in uA", uAofA(p.RatingA), int64(dev.Rating))
		}
		if math.Abs(p.LoadA-load[p.Protects]) > 1e-6 {
			r.bad("POW", subject, fmt.Sprintf("load_a %v", load[p.Protects]), "%v", p.LoadA)
		}
	}
	for subject := range want {
		r.bad("POW", subject, "an entry in protections", "none")
	}
}

func (r *run) enclosureLaw(st *station) {
	inside := count(st.RailMM, 1)
	for _, s := range r.d.Supplies {
		if u := r.parts.supply[s.Type]; s.Station == st.ID && u != nil {
			inside += int64(u.Width)
		}
	}
	for _, g := range st.groups {
		if p := r.parts.protection[g.Protection]; p != nil {
			inside += int64(p.Width)
		}
	}
	rail := (inside*(1000+r.p.Basis.Reserve["enclosure"]) + 999) / 1000
	if r.installed(st) {
		rail = inside
	}
	fixed := ""
	for _, d := range r.decisions(st.subject, "enclosure") {
		if d.Strength == "fixed" {
			fixed = d.Value
		}
	}
	holds := func(e *hardware.Enclosure) bool {
		return (fixed == "" || e.Code == fixed) && int64(e.Row) >= count(st.RailMM, 1) && int64(e.Rail) >= rail && (e.Outdoor || !st.place.Outdoor)
	}
	code := func(e *hardware.Enclosure) string { return e.Code }
	want := cheapest(r, r.hw.Enclosures, code, func(e *hardware.Enclosure) bool { return holds(e) && r.cool(st, e, true) })
	if want == nil {
		want = cheapest(r, r.hw.Enclosures, code, func(e *hardware.Enclosure) bool { return holds(e) && r.cool(st, e, false) })
	}
	if want == nil {
		want = cheapest(r, r.hw.Enclosures, code, holds)
	}
	if want == nil {
		if !r.excused(st.subject) {
			r.bad("POW", st.subject, "an error finding: no enclosure does", "enclosure %q", st.Enclosure)
		}
		return
	}
	same(r, "POW", st.subject, "enclosure", st.Enclosure, want.Code)
}

// couplerLaw: the cheapest coupler of construction and network that keeps all limits.
func (r *run) couplerLaw(st *station) {
	for _, d := range r.decisions(st.subject, "coupler") {
		if d.Strength == "fixed" {
			return // decisionLaw
		}
	}
	have := st.coupler
	if have.Network != r.p.Network.Profile {
		r.bad("POW", st.subject, "a coupler for network "+r.p.Network.Profile, "coupler %s for %s", have.Code, have.Network)
	}
	want := cheapest(r, r.hw.Couplers, func(c *hardware.Coupler) string { return c.Code }, func(c *hardware.Coupler) bool {
		rail := count(st.RailMM, 1) - int64(have.Width) + int64(c.Width)
		return c.Construction == st.Construction && c.Network == r.p.Network.Profile && r.couplerOutside(st, c) == "" &&
			len(st.slots)+r.freeSlots(st) <= r.slotLimit(st, c) && st.logic() <= int64(c.LogicLimit) &&
			st.InputBytes-have.HeaderIn+c.HeaderIn <= c.MaxIn && st.OutputBytes-have.HeaderOut+c.HeaderOut <= c.MaxOut &&
			rail <= int64(st.con.MaxRail) && (st.place.MaxRail == 0 || rail <= int64(st.place.MaxRail))
	})
	if want != nil && want.Code != have.Code {
		r.bad("POW", st.subject, "coupler "+want.Code, "coupler %s", have.Code)
	}
}
