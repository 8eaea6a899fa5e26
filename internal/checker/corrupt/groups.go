package corrupt

import (
	"math/rand"
	"strings"
)

var groups = []Corruption{
	{"break a group's run", "GRP", func(d Object, rng *rand.Rand) bool { return swapped(rng, slots(d), "supply_group", nil) }},
	{"drop an infeed", "RAIL GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, slots(d), func(s Object) bool { return s["infeed"] == true }, set("infeed", false))
	}},
	{"add an infeed", "RAIL GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, slots(d), func(s Object) bool { return s["infeed"] == false }, set("infeed", true))
	}},
	{"move the infeed point", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, groupsOf(d), nil, set("infeed_at", 99.0))
	}},
	{"feed a later group at the coupler", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, groupsOf(d), func(g Object) bool { return num(g, "group") > 1 }, set("infeed_at", "coupler"))
	}},
	{"raise a group's load", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, groupsOf(d), nil, scale("load_ma", 1, 100))
	}},
	{"lower a group's load", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, groupsOf(d), func(g Object) bool { return num(g, "load_ma") > 0 }, scale("load_ma", 0.9, 0))
	}},
	{"raise a group's limit", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, groupsOf(d), nil, scale("limit_ma", 1, 1000))
	}},
	{"lengthen a group", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, groupsOf(d), nil, scale("last_slot", 1, 1))
	}},
	{"wrong supply class", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, groupsOf(d), func(g Object) bool { return g["class"] != "safety:OTHER" }, set("class", "safety:OTHER"))
	}},
	{"safety signal into a normal group", "GRP APRT SUIT", func(d Object, rng *rand.Rand) bool {
		class := map[string]string{}
		for _, g := range groupsOf(d) {
			class[text(g, "id")] = text(g, "class")
		}
		safe := func(s string) bool { return strings.Contains(s, "safety:") }
		var inside, outside []Object
		for _, s := range slots(d) {
			if safe(class[text(s, "supply_group")]) {
				inside = append(inside, list(s, "channels")...)
			} else {
				outside = append(outside, list(s, "channels")...)
			}
		}
		from := pick(rng, inside, used)
		to := pick(rng, outside, func(c Object) bool { return !used(c) && from != nil && c["kind"] == from["kind"] })
		if to == nil {
			return false
		}
		move(from, to)
		return true
	}},
	{"wrong protection", "GRP", func(d Object, rng *rand.Rand) bool {
		if swapped(rng, groupsOf(d), "protection", nil) {
			return true
		}
		return change(rng, groupsOf(d), nil, set("protection", "no-such-fuse"))
	}},
	{"thinner infeed conductor", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, groupsOf(d), nil, set("infeed_mm2", 0.14))
	}},
	{"wrong voltage at the infeed point", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, groupsOf(d), nil, scale("voltage_min_v", 1, 0.5))
	}},
	{"drop a group", "GRP", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "stations"), func(s Object) bool { return len(list(s, "supply_groups")) > 0 }, func(s Object) { drop(rng, s, "supply_groups", nil) })
	}},
	{"give two groups one id", "FORM GRP", func(d Object, rng *rand.Rand) bool { return swapped(rng, groupsOf(d), "id", nil) }},
	{"drop a protection from the list", "POW", func(d Object, rng *rand.Rand) bool { return drop(rng, d, "protections", nil) }},
	{"wrong rating in the list of protections", "POW", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "protections"), nil, scale("rating_a", 2, 0))
	}},
}
