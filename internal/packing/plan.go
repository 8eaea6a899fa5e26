package packing

import (
	"slices"

	"railwright/internal/fit"
	"railwright/internal/hardware"
	q "railwright/internal/quantity"
	"railwright/internal/tariff"
)

// keyPlan is one way to hold the signals of a group key.
type keyPlan struct {
	cost   q.Money // of what is new: modules, bases, labour, openings, protections
	total  tariff.Total
	groups []planGroup // existing ones first, then by rank and ordinal
	rank   int         // least rank of its new groups
	firsts bool        // its first group is fed at the coupler
}

// planGroup is a supply group of a plan.
type planGroup struct {
	rank    int
	old     int // index of an existing group, -1 = new
	coupler bool
	first   int // index into mods of the module on the infeed base, or 0
	point   tariff.Point
	prot    *hardware.Protection
	load    q.Microamps
	mods    []planMod
}

// planMod is one module of a planned group. hard lists the signals whose module is settled: those
// with partners, and all where currents decide. The others go where there is room, like with like.
type planMod struct {
	inst
	hard []seat
}

// seat is a signal on a channel set.
type seat struct {
	set    int
	signal int
}

// kind returns the voltage kind of the key.
func (t *keyTask) kind() string { return t.env.Groups[t.group].Key.Voltage }

func (t *keyTask) key() fit.GroupKey { return t.env.Groups[t.group].Key }

// levels are the steps of what feeding a group costs: cap[i] is the most load that cost[i] feeds.
type level struct {
	cap  q.Microamps
	cost q.Money
}

const noCap = q.Microamps(1) << 50

// levelsOf lists the steps over points and protections, cheapest first, each carrying more than the
// one before.
func levelsOf(env *tariff.Env, kind string, points []tariff.Point) []level {
	list := env.Book.List
	var caps []q.Microamps
	for _, p := range points {
		ceiling := fit.Ceiling(p.Bus, &env.Book.Project.Basis)
		if ceiling == 0 {
			ceiling = noCap
		}
		for i := range list.Protections {
			caps = append(caps, min(ceiling, list.Protections[i].Rating)-p.Use.Supply)
		}
	}
	slices.Sort(caps)
	caps = slices.Compact(caps)
	var out []level
	for i := len(caps) - 1; i >= 0; i-- {
		if caps[i] < 0 {
			break
		}
		_, _, cost, ok := env.Open(points, kind, caps[i])
		if ok && (len(out) == 0 || cost < out[len(out)-1].cost) {
			out = append(out, level{caps[i], cost})
		}
	}
	slices.Reverse(out)
	return out
}
