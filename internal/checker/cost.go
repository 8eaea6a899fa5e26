package checker

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"railwright/internal/project"
)

// cent is the tolerance on printed money: half of 0.01, in 1/10,000.
const cent = 51

// costLaw: the sums are those of the design's own parts and labour (section 9).
func costLaw(r *run) {
	c := r.d.Cost
	same(r, "COST", "design", "currency", c.Currency, r.p.Basis.Currency)
	all, constant := r.work()
	total := r.billMoney(r.bill()) + r.workMoney(all)
	fixed := r.workMoney(constant)
	changes := r.changeCost()
	r.amount("cost.total", c.Total, total)
	r.amount("cost.constant", c.Constant, fixed)
	r.amount("cost.changes", c.Changes, changes)
	if !r.hasBuilt() {
		r.amount("cost.installed", c.Installed, 0)
	}
	if c.Installed < 0 || c.Installed > c.Total {
		r.bad("COST", "design", "installed between 0 and total", "cost.installed %v", c.Installed)
	}
	sum := 0.0
	for _, v := range c.Parts {
		sum += v
	}
	if math.Abs(sum-c.Total) > 0.0051*float64(len(c.Parts)+1) {
		r.bad("COST", "design", fmt.Sprintf("cost.parts that add up to %v", c.Total), "%.2f", sum)
	}
	s := r.d.Siting
	r.amount("siting.objective", s.Objective, total-fixed-money(c.Installed)+changes)
	if s.LowerBound > s.Objective+1e-9 {
		r.bad("COST", "design", "lower_bound at most objective", "%v above %v", s.LowerBound, s.Objective)
	}
	if s.Objective > 0 {
		want := (s.Objective - s.LowerBound) / s.Objective
		if math.Abs(s.Gap-want) > 6e-5+0.02/s.Objective {
			r.bad("COST", "design", fmt.Sprintf("gap %.6f", want), "gap %v", s.Gap)
		}
	}
	r.curve()
	h := r.d.HomeRun
	if h.CableM < 0 || h.Cost < 0 || h.Terminations < 0 || len(r.stations) > 0 && (h.Cost == 0 || h.Terminations == 0) {
		r.bad("COST", "design", "home run figures above zero", "%+v", h)
	}
}

func (r *run) amount(what string, seen float64, want int64) {
	if math.Abs(seen*1e4-float64(want)) > cent {
		r.bad("COST", "design", fmt.Sprintf("%.4f", float64(want)/1e4), "%s %v", what, seen)
	}
}

func (r *run) curve() {
	last := 0
	for _, p := range r.d.Siting.Curve {
		if p.Stations <= last {
			r.bad("COST", "design", "curve by number of stations", "%d behind %d", p.Stations, last)
		}
		last = p.Stations
		if p.LowerBound > p.Objective+0.01 {
			r.bad("COST", "design", "lower_bound at most objective", "curve at %d stations: %v above %v", p.Stations, p.LowerBound, p.Objective)
		}
		if p.Objective+0.01 < r.d.Siting.LowerBound {
			r.bad("COST", "design", "no point below the lower bound", "curve at %d stations: %v", p.Stations, p.Objective)
		}
	}
}

func (r *run) hasBuilt() bool {
	for _, d := range r.p.Choices {
		if d.Origin == project.FromBuilt {
			return true
		}
	}
	return false
}

// installed reports whether some slot of the station is fixed because it is installed; such a station may
// be filled up.
func (r *run) installed(st *station) bool {
	for _, d := range r.p.Choices {
		if d.Origin == project.FromBuilt && d.Subject == st.subject {
			return true
		}
	}
	return false
}

func (r *run) freeSlots(st *station) int {
	if r.installed(st) {
		return 0
	}
	return r.p.Basis.FreeSlots
}

// floorSpare and floorFreeSlots are the spare that the bound may count on: none where anything is
// installed, since that may be filled up.
func (r *run) floorSpare(k project.Kind) int64 {
	if r.hasBuilt() {
		return 0
	}
	return r.p.Basis.Spare[k]
}

func (r *run) floorFreeSlots() int {
	if r.hasBuilt() {
		return 0
	}
	return r.p.Basis.FreeSlots
}

// changeCost adds the change costs of preferred decisions that the design does not follow.
func (r *run) changeCost() int64 {
	sum := int64(0)
	for _, d := range r.p.Decisions() {
		if d.Strength == project.Preferred && !r.holds(d) {
			sum += int64(d.ChangeCost)
		}
	}
	for _, st := range r.stations {
		if r.installed(st) {
			sum += r.outages(st)
		}
	}
	return sum
}

// outages prices the work on an installed station: off as a whole for added modules, else group by group.
func (r *run) outages(st *station) int64 {
	slots, seated := 0, map[string]bool{}
	for _, d := range r.p.Choices {
		switch {
		case d.Strength != project.Fixed:
		case d.Subject == st.subject && strings.HasPrefix(d.Property, "slot."):
			slots++
		case strings.HasPrefix(d.Subject, "signal:") && d.Property == "channel" && strings.HasPrefix(d.Value, st.ID+"/"):
			seated[d.Subject[len("signal:"):]] = true
		}
	}
	if len(st.slots) > slots {
		return r.labour("station_off")
	}
	sum := int64(0)
	for _, g := range st.groups {
		for _, sl := range g.slots {
			if slices.ContainsFunc(sl.channels, func(ch *channel) bool { return ch.SignalID != "" && !seated[ch.SignalID] }) {
				sum += r.labour("group_off")
				break
			}
		}
	}
	return sum
}
