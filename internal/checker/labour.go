package checker

import (
	"fmt"
	"math"
)

// tasks are the labour tasks of section 1 in one order.
var tasks = []string{"termination", "cable_end", "pull", "station", "module", "group", "network_end", "check"}

// seconds is the basis's time for a task.
func (r *run) seconds(task string) int64 {
	p := r.p.Basis.Prices
	return map[string]int64{
		"group_off": p.GroupOff, "station_off": p.StationOff,
		"termination": p.Termination, "cable_end": p.CableEnd, "pull": p.PullPerMetre, "station": p.StationMount,
		"module": p.ModuleMount, "group": p.GroupWire, "network_end": p.NetworkEnd, "check": p.SignalCheck,
	}[task]
}

// labour is the unit price of a task: rate x seconds / 3600, rounded half up to 0.001.
func (r *run) labour(task string) int64 {
	x := int64(r.p.Basis.Prices.Rate) * r.seconds(task)
	return (2*x + 36_000) / 72_000 * 10
}

// work counts the tasks of the design's own stations and cables, metres in millimetres; constant
// is the part that belongs to the bundles and is the same in every design.
func (r *run) work() (all, constant map[string]int64) {
	all, constant = map[string]int64{}, map[string]int64{}
	for i := range r.d.Cables {
		c := &r.d.Cables[i]
		all["pull"] += mm(c.LengthM)
		switch c.Use {
		case "field":
			constant["cable_end"] += 2
		case "network":
			all["network_end"] += 2
		case "supply":
			all["cable_end"] += 2
		}
	}
	all["termination"] += int64(6 * len(r.d.Feeders))
	for _, x := range r.sigs {
		if len(r.at[x.ID]) > 0 {
			constant["termination"] += int64(2 * len(x.needs))
			constant["check"]++
		}
	}
	for _, st := range r.stations {
		all["station"]++
		all["module"] += int64(len(st.slots))
		all["group"] += int64(len(st.groups))
	}
	for t, n := range constant {
		all[t] += n
	}
	return all, constant
}

// workMoney prices counted tasks.
func (r *run) workMoney(n map[string]int64) int64 {
	sum := int64(0)
	for _, t := range tasks {
		if t == "pull" {
			sum += cableMoney(n[t], r.labour(t))
		} else {
			sum += n[t] * r.labour(t)
		}
	}
	return sum
}

// labourLaw: the labour list holds the counted tasks, at the basis's times and rate.
func labourLaw(r *run) {
	all, constant := r.work()
	have, haveConstant := map[string]float64{}, map[string]float64{}
	for _, l := range r.d.Labour {
		subject := "labour:" + l.Task + " " + l.For
		if r.seconds(l.Task) == 0 && l.Price != 0 {
			r.bad("LAB", subject, "a task of the basis", "task %q", l.Task)
		}
		have[l.Task] += l.Count
		if l.Constant {
			haveConstant[l.Task] += l.Count
		}
		same(r, "LAB", subject, "seconds_each", l.Seconds, float64(r.seconds(l.Task)))
		if want := l.Count * float64(r.labour(l.Task)); math.Abs(l.Price*1e4-want) > 50.01 {
			r.bad("LAB", subject, fmt.Sprintf("price %.2f", want/1e4), "price %v", l.Price)
		}
	}
	for _, t := range tasks {
		scale := 1.0
		if t == "pull" {
			scale = 1000
		}
		if want := float64(all[t]) / scale; math.Abs(have[t]-want) > 1e-6 {
			r.bad("LAB", "labour:"+t, fmt.Sprintf("count %v", want), "count %v", have[t])
		}
		if want := float64(constant[t]) / scale; math.Abs(haveConstant[t]-want) > 1e-6 {
			r.bad("LAB", "labour:"+t, fmt.Sprintf("constant count %v", want), "constant count %v", haveConstant[t])
		}
	}
}
