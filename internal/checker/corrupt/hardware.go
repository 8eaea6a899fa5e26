package corrupt

import "math/rand"

var hardware = []Corruption{
	{"swap a module for another type", "SUIT ONCE RAIL GRP", func(d Object, rng *rand.Rand) bool { return swapped(rng, slots(d), "module", nil) }},
	{"swap the modules of two slots", "RAIL GRP ONCE", func(d Object, rng *rand.Rand) bool {
		for _, st := range list(d, "stations") {
			slots := list(st, "slots")
			for _, i := range rng.Perm(len(slots)) {
				for _, s := range slots {
					if s["module"] != slots[i]["module"] {
						s["module"], slots[i]["module"] = slots[i]["module"], s["module"]
						return true
					}
				}
			}
		}
		return false
	}},
	{"name a module that does not exist", "REF", func(d Object, rng *rand.Rand) bool {
		return change(rng, slots(d), nil, set("module", "no-such-module"))
	}},
	{"wrong base", "RAIL", func(d Object, rng *rand.Rand) bool {
		has := func(s Object) bool { return text(s, "base") != "" }
		return swapped(rng, slots(d), "base", has) || change(rng, slots(d), has, set("base", "no-such-base"))
	}},
	{"no base where one belongs", "RAIL", func(d Object, rng *rand.Rand) bool {
		return change(rng, slots(d), func(s Object) bool { return text(s, "base") != "" }, set("base", ""))
	}},
	{"wrong end piece", "RAIL", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), nil, func(s Object) {
			if text(s, "end_piece") == "" {
				s["end_piece"] = "end-of-another"
			} else {
				s["end_piece"] = ""
			}
		})
	}},
	{"wrong coupler", "REF RAIL POW LIM", func(d Object, rng *rand.Rand) bool {
		if swapped(rng, list(d, "stations"), "coupler", nil) {
			return true
		}
		return change(rng, list(d, "stations"), nil, set("coupler", "no-such-coupler"))
	}},
	{"wrong enclosure", "POW", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), nil, set("enclosure", "no-such-enclosure"))
	}},
	{"shorten the rail", "RAIL", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), nil, scale("rail_mm", 1, -1))
	}},
	{"lower the logic current", "LIM", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), nil, scale("logic_current_ma", 1, -0.5))
	}},
	{"raise the logic limit", "LIM", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), nil, scale("logic_limit_ma", 2, 0))
	}},
	{"renumber a slot", "RAIL", func(d Object, rng *rand.Rand) bool {
		return change(rng, slots(d), nil, scale("slot", 1, 1))
	}},
	{"drop the last slot", "GRP ONCE PART", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), func(s Object) bool { return len(list(s, "slots")) > 1 }, func(s Object) {
			raw := s["slots"].([]any)
			s["slots"] = raw[:len(raw)-1]
		})
	}},
	{"renumber a channel", "ONCE", func(d Object, rng *rand.Rand) bool {
		return change(rng, channels(d), nil, scale("channel", 1, 100))
	}},
	{"wrong terminal", "TERM WIRE", func(d Object, rng *rand.Rand) bool {
		return change(rng, channels(d), used, func(c Object) {
			for f := range object(c, "terminals") {
				object(c, "terminals")[f] = "X9"
			}
		})
	}},
	{"drop terminals", "TERM", func(d Object, rng *rand.Rand) bool {
		return change(rng, channels(d), used, set("terminals", Object{}))
	}},
	{"wrong supply unit", "POW", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "supplies"), nil, set("type", "no-such-unit"))
	}},
	{"drop a supply unit", "POW", func(d Object, rng *rand.Rand) bool { return drop(rng, d, "supplies", nil) }},
	{"lower a supply unit's load", "POW", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "supplies"), nil, scale("load_ma", 0.5, 0))
	}},
	{"raise a supply unit's output", "POW", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "supplies"), nil, scale("limit_ma", 1.5, 0))
	}},
}
