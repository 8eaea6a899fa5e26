package checker

import (
	"fmt"
	"math"

	"railwright/internal/hardware"
)

// groupLaw: unbroken runs with one infeed point, one key, and figures that add up.
func groupLaw(r *run) {
	for _, st := range r.stations {
		if st.con == nil || st.coupler == nil {
			continue
		}
		named := map[string]bool{}
		next := 1
		for i, g := range st.groups {
			named[g.ID] = true
			same(r, "GRP", g.subject, "group number", g.Group, i+1)
			if g.First != next || g.Last < g.First || g.Last > len(st.slots) {
				r.bad("GRP", g.subject, fmt.Sprintf("an unbroken run from slot %d", next), "slots %d to %d", g.First, g.Last)
			}
			next = g.Last + 1
			for _, sl := range st.slots {
				if in := sl.Slot >= g.First && sl.Slot <= g.Last; in != (sl.Group == g.ID) {
					r.bad("GRP", g.subject, fmt.Sprintf("slots %d to %d and no other", g.First, g.Last), "slot %d is in group %q", sl.Slot, sl.Group)
				}
			}
			r.infeedPoint(st, g, i)
			r.oneKey(st, g)
			r.groupFigures(st, g)
		}
		if next != len(st.slots)+1 {
			r.bad("GRP", st.subject, "every slot in a group", "groups end at slot %d of %d", next-1, len(st.slots))
		}
		for _, sl := range st.slots {
			if !named[sl.Group] {
				r.bad("GRP", st.subject, "a group of the station", "slot %d in group %q", sl.Slot, sl.Group)
			}
		}
	}
}

// infeedPoint: exactly one, at the left end of the group, of the construction's sort.
func (r *run) infeedPoint(st *station, g *group, i int) {
	points := 0
	for _, sl := range g.slots {
		if sl.Infeed {
			points++
			if sl.Slot != g.First || g.coupler {
				r.bad("GRP", g.subject, "one infeed point at the left end", "infeed at slot %d", sl.Slot)
			}
		}
	}
	if g.coupler {
		if !st.con.CouplerFeeds || i > 0 || g.volt != "24vdc" {
			r.bad("GRP", g.subject, "the coupler feeds a first group of 24vdc where the construction says so", "fed at the coupler")
		}
		return
	}
	if at, ok := g.InfeedAt.(float64); !ok || int(at) != g.First {
		r.bad("GRP", g.subject, fmt.Sprintf("infeed_at %d", g.First), "infeed_at %v", g.InfeedAt)
	}
	if points != 1 {
		r.bad("GRP", g.subject, "one infeed point", "%d infeed points", points)
	}
	if st.con.Opening == hardware.ByEach && len(g.slots) != 1 {
		r.bad("GRP", g.subject, "each module a group by itself", "%d modules", len(g.slots))
	}
	if st.con.Opening == hardware.ByModule && len(g.slots) > 0 && g.slots[0].module != nil {
		r.infeedModule(st, g)
	}
}

// infeedModule: the cheapest that suits and carries the group.
func (r *run) infeedModule(st *station, g *group) {
	have := g.slots[0].module
	if !have.Infeed {
		return // reported by railLaw
	}
	want := cheapest(r, r.hw.Modules, func(m *hardware.Module) string { return m.Code }, func(m *hardware.Module) bool {
		return r.isInfeedFor(st.con, m, have.SupplyKind, st.env.ambient) && (m.BusLimit == 0 || int64(m.BusLimit) >= g.load)
	})
	if want != nil && want.Price < have.Price {
		r.bad("GRP", g.subject, "infeed module "+want.Code, "infeed module %s", have.Code)
	}
}

func (r *run) isInfeedFor(con *hardware.Construction, m *hardware.Module, volt string, ambient float64) bool {
	if !m.Infeed || m.SupplyKind != volt || m.AmbientMax != 0 && float64(m.AmbientMax) < ambient {
		return false
	}
	for _, code := range con.InfeedModules {
		if code == m.Code {
			return true
		}
	}
	return false
}

// oneKey: one voltage, and one group key for all signals; one module key within a module.
func (r *run) oneKey(st *station, g *group) {
	for _, sl := range g.slots {
		if sl.module == nil {
			continue
		}
		if sl.module.SupplyKind != g.volt {
			r.bad("GRP", g.subject, "one voltage kind "+g.volt, "slot %d is %s", sl.Slot, sl.module.SupplyKind)
		}
		first := ""
		for _, ch := range sl.used() {
			if k := r.groupKey(ch.signal); k != g.key {
				r.bad("GRP", g.subject, "signals of group key "+g.key, "slot %d: %s has %s", sl.Slot, ch.signal.ID, k)
			}
			k := r.moduleKey(ch.signal)
			if first != "" && k != first {
				r.bad("APRT", st.subject, "signals of one module key "+first, "slot %d: %s has %s", sl.Slot, ch.signal.ID, k)
			}
			first = k
		}
	}
	class := ""
	for _, sl := range g.slots {
		for _, ch := range sl.used() {
			class = ch.signal.supply
		}
	}
	if class != "" && g.Class != class && g.Class != g.key {
		r.bad("GRP", g.subject, "class "+class, "class %q", g.Class)
	}
	if g.Reason == "" {
		r.bad("GRP", g.subject, "the reason why it was begun", "no reason")
	}
}

// groupFigures: load, ceiling, protection and limit of section 4, and the voltage of section 10.
func (r *run) groupFigures(st *station, g *group) {
	same(r, "GRP", g.subject, "load_ma in uA", uA(g.LoadMA), g.load)
	ceiling := int64(r.p.Basis.Group.MaxCurrent)
	if g.bus > 0 && (g.bus < ceiling || ceiling == 0) {
		ceiling = g.bus
	}
	limit := ceiling
	if dev := r.parts.protection[g.Protection]; dev == nil {
		if !r.excused(g.subject, st.subject) {
			r.bad("GRP", g.subject, "a protective device", "protection %q", g.Protection)
		}
	} else {
		limit = min(ceiling, int64(dev.Rating))
		r.groupDevice(st, g, dev)
	}
	same(r, "GRP", g.subject, "limit_ma in uA", uA(g.LimitMA), limit)
	if g.load > limit {
		r.limit(g.subject, "load in uA", g.load, limit, st.subject)
	}
	if dev := r.parts.protection[g.Protection]; dev != nil {
		if want := r.infeedArea(st, g, dev); g.InfeedMM2 != want {
			r.bad("GRP", g.subject, fmt.Sprintf("infeed_mm2 %v", want), "infeed_mm2 %v", g.InfeedMM2)
		}
	}
	if isDC(g.volt) {
		want := r.infeedVoltage(g.volt, g.InfeedMM2, g.load)
		if math.Abs(want-g.VoltageMinV) > 0.006 {
			r.bad("GRP", g.subject, fmt.Sprintf("voltage_min_v %.3f", want), "voltage_min_v %v", g.VoltageMinV)
		}
	}
}

func (r *run) groupDevice(st *station, g *group, dev *hardware.Protection) {
	at := 0
	if !g.coupler {
		at = g.First
	}
	for _, d := range r.decisions(st.subject, fmt.Sprintf("protection.%d", at)) {
		if d.Strength == "fixed" && d.Value == dev.Code && int64(dev.Rating) >= g.load {
			return // decisionLaw looks for one that is not followed
		}
	}
	want := r.groupDeviceFor(st, g)
	if want == nil {
		if !r.excused(g.subject, st.subject) {
			r.bad("GRP", g.subject, "an error finding: no device protects it", "protection %s", dev.Code)
		}
		return
	}
	same(r, "GRP", g.subject, "protection", dev.Code, want.Code)
}
