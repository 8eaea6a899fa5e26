package checker

import (
	"fmt"

	"railwright/internal/hardware"
)

// limitLaw: no limit of the hardware list or the basis is exceeded without an error finding
// (groups, lengths and places have theirs beside the law that they belong to).
func limitLaw(r *run) {
	for _, st := range r.stations {
		if st.con == nil || st.coupler == nil {
			continue
		}
		s, c := st.subject, st.coupler
		if c.Construction != st.Construction {
			r.bad("RAIL", s, "a coupler of construction "+st.Construction, "coupler %s of %s", c.Code, c.Construction)
		}
		r.limit(s, "slots used and kept free", int64(len(st.slots)+r.freeSlots(st)), int64(r.slotLimit(st, c)))
		r.limit(s, "supply groups", int64(len(st.groups)), int64(st.con.MaxGroups))
		rail := int64(st.con.MaxRail)
		if m := int64(st.place.MaxRail); m > 0 && (m < rail || rail == 0) {
			rail = m
		}
		if rail > 0 {
			r.limit(s, "rail_mm", count(st.RailMM, 1), rail)
		}
		logic := st.logic()
		same(r, "LIM", s, "logic_current_ma in uA", uA(st.LogicMA), logic)
		same(r, "LIM", s, "logic_limit_ma in uA", uA(st.LogicLimitMA), int64(c.LogicLimit))
		r.limit(s, "logic current in uA", logic, int64(c.LogicLimit))
		r.limit(s, "input bytes", int64(st.InputBytes), int64(c.MaxIn))
		r.limit(s, "output bytes", int64(st.OutputBytes), int64(c.MaxOut))
		if why := r.couplerOutside(st, c); why != "" && !r.excused(s) {
			r.bad("LIM", s, "a coupler for the place", "%s", why)
		}
		for _, sl := range st.slots {
			r.moduleLimit(st, sl)
		}
		r.heatLaw(st)
	}
}

func (st *station) logic() int64 {
	sum := int64(0)
	for _, sl := range st.slots {
		if sl.module != nil {
			sum += int64(sl.module.Logic)
		}
	}
	return sum
}

// slotLimit is the smallest of construction, coupler and place.
func (r *run) slotLimit(st *station, c *hardware.Coupler) int {
	return smallest(st.con.MaxSlots, c.MaxSlots, st.place.MaxSlots)
}

// smallest returns the smallest limit; 0 stands for none.
func smallest(list ...int) int {
	least := 0
	for _, v := range list {
		if v > 0 && (least == 0 || v < least) {
			least = v
		}
	}
	return least
}

// couplerOutside says why the coupler is not made for the place's temperatures, or "".
func (r *run) couplerOutside(st *station, c *hardware.Coupler) string {
	if c.AmbientMax != 0 && float64(c.AmbientMax) < st.env.ambient {
		return fmt.Sprintf("coupler up to %v degC, place %v", float64(c.AmbientMax), st.env.ambient)
	}
	if low := st.place.AmbientMin.Or(r.p.Basis.AmbientMin); c.AmbientMin > low {
		return fmt.Sprintf("coupler from %v degC, place %v", float64(c.AmbientMin), float64(low))
	}
	return ""
}

// moduleLimit: the currents of the module's channels together.
func (r *run) moduleLimit(st *station, sl *slot) {
	if sl.module == nil || sl.module.MaxTotal == 0 {
		return
	}
	sum := int64(0)
	for _, ch := range sl.used() {
		sum += channelCurrent(ch.signal, ch.set)
	}
	r.limit(st.subject, fmt.Sprintf("slot %d: channel currents in uA", sl.Slot), sum, int64(sl.module.MaxTotal))
}

// heatLaw: heat_w holds coupler and modules at least; the enclosure's own limit holds.
func (r *run) heatLaw(st *station) {
	least := int64(st.coupler.Heat)
	for _, sl := range st.slots {
		if sl.module != nil {
			least += sl.module.Heat
		}
	}
	most := least
	for _, g := range st.groups {
		if p := r.parts.protection[g.Protection]; p != nil {
			most += p.Heat
		}
	}
	for _, s := range r.d.Supplies {
		if s.Station == st.ID {
			most += count(s.LossW, 1e3)
		}
	}
	if h := count(st.HeatW, 1e3); h < least-5 || h > most+5 {
		r.bad("LIM", st.subject, fmt.Sprintf("heat of %d to %d mW", least, most), "heat_w %v", st.HeatW)
	}
	if e := r.parts.enclosure[st.Enclosure]; e != nil && e.MaxHeat > 0 {
		r.limit(st.subject, "heat in mW", count(st.HeatW, 1e3), e.MaxHeat)
	}
}
