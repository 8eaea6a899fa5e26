package corrupt

import "math/rand"

var placing = []Corruption{
	{"drop a signal from its channel", "ONCE", func(d Object, rng *rand.Rand) bool {
		return change(rng, channels(d), used, func(c Object) { c["signal"], c["signal_id"] = nil, "" })
	}},
	{"put a signal on a second channel", "ONCE", func(d Object, rng *rand.Rand) bool {
		from := pick(rng, channels(d), used)
		to := pick(rng, channels(d), func(c Object) bool { return !used(c) && from != nil && c["kind"] == from["kind"] })
		if to == nil {
			return false
		}
		to["signal"], to["signal_id"] = from["signal"], from["signal_id"]
		return true
	}},
	{"list a placed signal as unplaced too", "ONCE", func(d Object, rng *rand.Rand) bool {
		c := pick(rng, channels(d), used)
		if c == nil {
			return false
		}
		raw, _ := d["unplaced"].([]any)
		d["unplaced"] = append(raw, Object{"signal": c["signal_id"], "tag": c["signal"], "where": "", "why": "no reason", "proof": "set"})
		return true
	}},
	{"unplace a signal that fits, with proof none", "ONCE", func(d Object, rng *rand.Rand) bool {
		c := pick(rng, channels(d), used)
		if c == nil {
			return false
		}
		raw, _ := d["unplaced"].([]any)
		d["unplaced"] = append(raw, Object{"signal": c["signal_id"], "tag": c["signal"], "where": "", "why": "nothing suits", "proof": "none"})
		c["signal"], c["signal_id"] = nil, ""
		return true
	}},
	{"rename a signal's tag", "ONCE", func(d Object, rng *rand.Rand) bool {
		return change(rng, channels(d), used, set("signal", "NOT-THE-TAG"))
	}},
	{"name a signal that does not exist", "REF ONCE", func(d Object, rng *rand.Rand) bool {
		return change(rng, channels(d), used, set("signal_id", "no-such-signal"))
	}},
	{"move a channel within its module", "WIRE RAIL", func(d Object, rng *rand.Rand) bool {
		for _, i := range rng.Perm(len(slots(d))) {
			list := list(slots(d)[i], "channels")
			from := pick(rng, list, used)
			to := pick(rng, list, func(c Object) bool { return !used(c) && from != nil && c["kind"] == from["kind"] })
			if to != nil {
				move(from, to)
				return true
			}
		}
		return false
	}},
	{"move a signal to a channel of another kind", "SUIT", func(d Object, rng *rand.Rand) bool {
		from := pick(rng, channels(d), used)
		to := pick(rng, channels(d), func(c Object) bool { return !used(c) && from != nil && c["kind"] != from["kind"] })
		if to == nil {
			return false
		}
		move(from, to)
		return true
	}},
	{"move a signal to another station", "APRT CAB WIRE", func(d Object, rng *rand.Rand) bool {
		stations := list(d, "stations")
		for _, i := range rng.Perm(len(stations)) {
			for j := range stations {
				from := pick(rng, all(stations[i], "slots", "channels"), used)
				to := pick(rng, all(stations[j], "slots", "channels"), func(c Object) bool { return !used(c) && from != nil && c["kind"] == from["kind"] })
				if i != j && to != nil {
					move(from, to)
					return true
				}
			}
		}
		return false
	}},
	{"swap two signals of different groups", "GRP SUIT APRT", func(d Object, rng *rand.Rand) bool {
		for _, st := range list(d, "stations") {
			slots := list(st, "slots")
			for _, i := range rng.Perm(len(slots)) {
				a := pick(rng, list(slots[i], "channels"), used)
				for _, s := range slots {
					b := pick(rng, list(s, "channels"), used)
					if a != nil && b != nil && s["supply_group"] != slots[i]["supply_group"] {
						a["signal"], b["signal"] = b["signal"], a["signal"]
						a["signal_id"], b["signal_id"] = b["signal_id"], a["signal_id"]
						return true
					}
				}
			}
		}
		return false
	}},
	{"use up all spare channels", "SPAR ONCE", func(d Object, rng *rand.Rand) bool {
		return change(rng, slots(d), func(s Object) bool { return pick(rng, list(s, "channels"), used) != nil }, func(s Object) {
			for _, c := range list(s, "channels") {
				if !used(c) {
					from := pick(rng, list(s, "channels"), used)
					c["signal"], c["signal_id"] = from["signal"], from["signal_id"]
				}
			}
		})
	}},
	{"move a station to another place", "CAB NET POW SITE", func(d Object, rng *rand.Rand) bool {
		return swapped(rng, list(d, "stations"), "place", nil)
	}},
	{"station at a place that does not exist", "REF", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), nil, set("place", "nowhere"))
	}},
}
