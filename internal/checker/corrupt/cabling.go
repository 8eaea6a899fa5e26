package corrupt

import "math/rand"

func cables(d Object, use string) []Object {
	var out []Object
	for _, c := range list(d, "cables") {
		if use == "" || text(c, "use") == use {
			out = append(out, c)
		}
	}
	return out
}

var cabling = []Corruption{
	{"shorten a field cable", "CAB", func(d Object, rng *rand.Rand) bool {
		return change(rng, cables(d, "field"), nil, scale("length_m", 1, -0.1))
	}},
	{"shorten a network cable", "NET", func(d Object, rng *rand.Rand) bool {
		return change(rng, cables(d, "network"), nil, scale("length_m", 1, -0.1))
	}},
	{"shorten a feeder cable", "POW", func(d Object, rng *rand.Rand) bool {
		return change(rng, cables(d, "supply"), nil, scale("length_m", 0.5, 0))
	}},
	{"order too little", "CAB", func(d Object, rng *rand.Rand) bool {
		return change(rng, cables(d, ""), nil, func(c Object) { c["order_m"] = c["length_m"] })
	}},
	{"wrong route", "CAB NET POW", func(d Object, rng *rand.Rand) bool {
		return change(rng, cables(d, ""), func(c Object) bool { r, _ := c["route"].([]any); return len(r) > 0 }, func(c Object) {
			c["route"] = append(c["route"].([]any), "no-such-route")
		})
	}},
	{"no route", "CAB NET POW", func(d Object, rng *rand.Rand) bool {
		return change(rng, cables(d, ""), func(c Object) bool { r, _ := c["route"].([]any); return len(r) > 0 }, set("route", []any{}))
	}},
	{"wrong cable type", "CAB", func(d Object, rng *rand.Rand) bool { return swapped(rng, cables(d, "field"), "type", nil) }},
	{"thicker cores than the type has", "CAB", func(d Object, rng *rand.Rand) bool {
		return change(rng, cables(d, ""), nil, scale("area_mm2", 2, 0))
	}},
	{"drop a field cable", "CAB", func(d Object, rng *rand.Rand) bool {
		return drop(rng, d, "cables", func(c Object) bool { return c["use"] == "field" })
	}},
	{"move a signal to another cable", "CAB WIRE", func(d Object, rng *rand.Rand) bool {
		f := cables(d, "field")
		if len(f) < 2 {
			return false
		}
		i := rng.Intn(len(f))
		a, b := f[i], f[(i+1)%len(f)]
		b["signals"] = append(b["signals"].([]any), a["signals"].([]any)[0])
		a["signals"] = a["signals"].([]any)[1:]
		return true
	}},
	{"drop a wire", "WIRE", func(d Object, rng *rand.Rand) bool { return drop(rng, d, "wires", nil) }},
	{"land a wire on another's terminal", "WIRE", func(d Object, rng *rand.Rand) bool { return swapped(rng, list(d, "wires"), "to", nil) }},
	{"use a core twice", "WIRE", func(d Object, rng *rand.Rand) bool {
		return swapped(rng, list(d, "wires"), "core", func(w Object) bool { return w["core"] == "1" })
	}},
	{"wire in another cable", "WIRE", func(d Object, rng *rand.Rand) bool { return swapped(rng, list(d, "wires"), "cable", nil) }},
	{"drop a network segment", "NET", func(d Object, rng *rand.Rand) bool { return drop(rng, object(d, "network"), "segments", nil) }},
	{"wrong segment length", "NET", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(object(d, "network"), "segments"), nil, scale("length_m", 1, 10))
	}},
	{"wrong network topology", "NET", func(d Object, rng *rand.Rand) bool {
		n := object(d, "network")
		if n["topology"] == "ring" {
			n["topology"] = "star"
		} else {
			n["topology"] = "ring"
		}
		return true
	}},
	{"drop a feeder", "POW", func(d Object, rng *rand.Rand) bool { return drop(rng, d, "feeders", nil) }},
	{"feeder from another place", "POW REF", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "feeders"), nil, set("from", "nowhere"))
	}},
	{"feeder without its protection", "POW", func(d Object, rng *rand.Rand) bool {
		return change(rng, list(d, "feeders"), nil, set("protection", ""))
	}},
}
