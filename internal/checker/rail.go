package checker

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"railwright/internal/hardware"
	"railwright/internal/project"
)

// railLaw: what stands on the rail, in which order, on which bases (sections 4, 6 and 11).
func railLaw(r *run) {
	for _, st := range r.stations {
		if st.con == nil || st.coupler == nil {
			continue
		}
		if len(st.slots) == 0 && r.fixedStations(st.Place) == 0 {
			r.bad("RAIL", st.subject, "a slot at least", "empty station")
		}
		same(r, "RAIL", st.subject, "end_piece", st.EndPiece, st.con.EndPiece)
		if len(st.slots) > 0 && !st.Slots[0].Infeed && (!st.con.CouplerFeeds || st.con.FirstSlot == "infeed") {
			r.bad("RAIL", st.subject, "slot 1 opens a supply group", "slot 1 has no infeed point")
		}
		width := int64(st.coupler.Width)
		if e := r.parts.part[st.con.EndPiece]; e != nil {
			width += int64(e.Width)
		}
		for i, sl := range st.slots {
			same(r, "RAIL", st.subject, "slot number", sl.Slot, i+1)
			if sl.module == nil {
				continue
			}
			w := int64(sl.module.Width)
			if sl.base != nil {
				w = max(w, int64(sl.base.Width))
			}
			width += w
			r.slotLaw(st, sl)
		}
		same(r, "RAIL", st.subject, "rail_mm", count(st.RailMM, 1), width)
		r.orderLaw(st)
	}
}

func (r *run) slotLaw(st *station, sl *slot) {
	where := fmt.Sprintf("slot %d %s", sl.Slot, sl.Module)
	if !slices.Contains(sl.module.Constructions, st.Construction) {
		r.bad("RAIL", st.subject, "a module of construction "+st.Construction, "%s", where)
	}
	if sl.module.AmbientMax != 0 && float64(sl.module.AmbientMax) < st.env.ambient && !r.excused(st.subject) {
		r.bad("LIM", st.subject, "a module for the place's ambient", "%s", where)
	}
	if low := st.place.AmbientMin.Or(r.p.Basis.AmbientMin); sl.module.AmbientMin > low && !r.excused(st.subject, "place:"+st.Place) {
		r.bad("LIM", st.subject, fmt.Sprintf("a module for %v degC, or an error finding", float64(low)), "%s from %v degC", where, float64(sl.module.AmbientMin))
	}
	if r.unused[sl.Module] || r.unused[sl.Base] {
		r.bad("DEC", st.subject, "a part that may be used", "%s on %s", where, sl.Base)
	}
	opens := sl.Infeed
	var sort *bool // which bases may be taken
	switch st.con.Opening {
	case hardware.ByBase:
		opens, sort = sl.base != nil && sl.base.Infeed, &sl.Infeed
		if sl.module.Infeed {
			r.bad("RAIL", st.subject, "infeed by base", "%s is an infeed module", where)
		}
	case hardware.ByModule:
		through := false
		opens, sort = sl.module.Infeed, &through
		if sl.module.Infeed && !slices.Contains(st.con.InfeedModules, sl.Module) {
			r.bad("RAIL", st.subject, "an infeed module of the construction", "%s", where)
		}
	case hardware.ByEach:
		opens = true
	}
	if opens != sl.Infeed {
		r.bad("RAIL", st.subject, fmt.Sprintf("infeed %t", opens), "%s on base %q says infeed %t", where, sl.Base, sl.Infeed)
	}
	want := ""
	if st.con.HasBases {
		if b := r.baseFor(sl.module, st.Construction, sort); b != nil {
			want = b.Code
		}
	}
	if sl.Base != want {
		r.bad("RAIL", st.subject, fmt.Sprintf("base %q", want), "%s on base %q", where, sl.Base)
	}
}

// orderLaw: ranks never go back; groups by rank and key, modules by code, channels by equipment and tag.
func (r *run) orderLaw(st *station) {
	byHand := r.handMade(st)
	lastRank, lastKey := -1, ""
	for _, g := range st.groups {
		groupRank, code := -1, ""
		for _, sl := range g.slots {
			if sl.module == nil || sl.module.Infeed {
				continue
			}
			rank := slices.Index(st.con.Order, sl.module.Rank)
			if sl.module.Rank == "" || rank < 0 {
				rank = 0
			}
			if groupRank >= 0 && rank != groupRank {
				r.bad("RAIL", g.subject, "modules of one rank", "slot %d has another rank", sl.Slot)
			}
			groupRank = rank
			if sl.Module < code && !byHand {
				r.bad("RAIL", g.subject, "modules by code", "%s behind %s", sl.Module, code)
			}
			code = sl.Module
			if !byHand {
				r.channelOrder(st, sl)
			}
		}
		if groupRank < 0 {
			continue
		}
		if groupRank < lastRank {
			r.bad("RAIL", g.subject, "ranks never go back", "rank %q behind %q", st.con.Order[groupRank], st.con.Order[lastRank])
		}
		if groupRank == lastRank && g.key < lastKey && g.key != "" && !byHand {
			r.bad("RAIL", g.subject, "groups by key", "%q behind %q", g.key, lastKey)
		}
		lastRank, lastKey = groupRank, g.key
	}
}

// channelOrder: within a module, the channels of a set follow equipment, then tag.
func (r *run) channelOrder(st *station, sl *slot) {
	used := sl.used()
	for i := 1; i < len(used); i++ {
		a, b := used[i-1], used[i]
		if a.set == b.set && cmp.Or(cmp.Compare(a.signal.Equipment, b.signal.Equipment), cmp.Compare(a.signal.Tag, b.signal.Tag)) > 0 {
			r.bad("RAIL", st.subject, "channels by equipment, then tag", "slot %d: %s before %s", sl.Slot, a.signal.Tag, b.signal.Tag)
		}
	}
}

// handMade reports whether decisions on slots or channels bind the station's order.
func (r *run) handMade(st *station) bool {
	for _, list := range r.decided {
		for _, d := range list {
			switch {
			case strings.HasPrefix(d.Subject, st.subject) && (strings.HasPrefix(d.Property, "slot.") || strings.HasPrefix(d.Property, "infeed.")):
				return true
			case d.Property == "channel" && strings.HasPrefix(d.Value, st.ID+"/"):
				return true
			case d.Origin == project.FromBuilt && d.Property == "channel":
				return true
			}
		}
	}
	return false
}
